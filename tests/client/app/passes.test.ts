/** Passes in addresses, places, days, and how the connection is summed up. */
import type { Pass } from "@sward/client";
import { encodePass } from "@sward/client";
import type { BookId, KeyId } from "@sward/core";
import { expect, test } from "vitest";
import { daysBetween, seasonOf, showDay, showDayNear } from "../../../packages/client/src/app/dates.ts";
import { leastConnected } from "../../../packages/client/src/app/least-connected.ts";
import { mergePasses, passIn, shortId } from "../../../packages/client/src/app/passes.ts";
import { baseOf, paramsOf, placeOf } from "../../../packages/client/src/app/place.ts";

const text43 = (fill: string): string => fill.repeat(43);
const book = (fill: string, ...epochs: number[]): Pass["club"] => ({
  book: text43(fill) as BookId,
  epochs: epochs.map((epoch) => ({ epoch, secret: text43(String(epoch)) })),
});
const pass = (club: Pass["club"], leagues: Pass["leagues"] = [], label = "tablet"): Pass => ({
  v: 1,
  label,
  seed: text43("s"),
  club,
  leagues,
});

test("a pass is read from the fragment and nowhere else; one that was cut short is broken, not absent", () => {
  const given = pass(book("a", 1));
  const encoded = encodePass(given);
  expect(passIn(`#pass=${encoded}`)).toEqual(given);
  expect(passIn(`#pass=${encoded.slice(0, -9)}`)).toBe("broken");
  expect(passIn("#pass=")).toBe("broken");
  expect(passIn("")).toBeNull();
  expect(passIn("#sheet")).toBeNull();
});

test("an older link opened again takes nothing away: epochs and leagues that only the kept pass had stay", () => {
  const kept = pass(book("a", 1, 2), [book("l", 1), book("m", 1)], "old label");
  const merged = mergePasses(kept, pass(book("a", 1, 3), [book("l", 2)], "new label"));
  expect(merged.label).toBe("new label");
  expect(merged.club.epochs.map(({ epoch }) => epoch)).toEqual([1, 2, 3]);
  expect(merged.leagues.map(({ book: id, epochs }) => [id[0], epochs.map(({ epoch }) => epoch)])).toEqual([
    ["l", [1, 2]],
    ["m", [1]],
  ]);
  expect(mergePasses(kept, pass(book("b", 5))).club.epochs).toHaveLength(1);
});

test("addresses: which device, and which screen", () => {
  expect(shortId("abcdefghijklmnop" as KeyId)).toBe("abcdefghij");
  expect(baseOf("/d/abc/members/x")).toBe("/d/abc");
  expect(baseOf("/d/abc")).toBe("/d/abc");
  expect(baseOf("/")).toBeNull();
  expect(placeOf("/d/abc/members/x/")).toBe("members/x");
  expect(placeOf("/d/abc/")).toBe("");
  expect(paramsOf("/", "/")).toEqual({});
  expect(paramsOf("/members/:player", "/members/abc")).toEqual({ player: "abc" });
  expect(paramsOf("/league/:book/:fixture", "/league/b/f")).toEqual({ book: "b", fixture: "f" });
  expect(paramsOf("/members/:player", "/members/")).toBeNull();
  expect(paramsOf("/members", "/members/abc")).toBeNull();
  expect(paramsOf("/members", "/strokes")).toBeNull();
});

test("days are calendar days in any time zone, and the year is left out only in its own season", () => {
  expect(daysBetween("2026-02-28", "2026-03-01")).toBe(1);
  expect(daysBetween("2026-03-01", "2026-02-28")).toBe(-1);
  expect(seasonOf("2026-03-01")).toBe("2026");
  expect(showDay("2026-03-01")).toMatch(/2026/);
  expect(showDay("2026-03-01")).toMatch(/\b1\b/);
  expect(showDayNear("2026-03-01", "2026-11-25")).not.toMatch(/2026/);
  expect(showDayNear("2025-03-01", "2026-11-25")).toMatch(/2025/);
});

test("of several connections the one that most needs saying", () => {
  const live = { type: "live", synced: true } as const;
  const reading = { type: "live", synced: false } as const;
  const connecting = { type: "connecting", attempt: 2, next: 500, fault: null } as const;
  const refused = { type: "refused", code: 4003, reason: "no" } as const;
  expect(leastConnected([live, reading])).toBe(reading);
  expect(leastConnected([reading, live, connecting])).toBe(connecting);
  expect(leastConnected([{ type: "offline" }, refused, live])).toBe(refused);
  expect(leastConnected([])).toEqual({ type: "closed" });
});
