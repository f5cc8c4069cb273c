import type { Connection } from "@sward/client";
import { createLedger } from "@sward/core";
import { expect, test } from "vitest";
import { digestMark } from "../../../../packages/client/src/app/sharing/digest-mark.ts";
import { newestEntries, uncountedByReason } from "../../../../packages/client/src/app/sharing/newest.ts";
import { connectionTold, entryTold } from "../../../../packages/client/src/app/words/sharing.ts";
import { clubInMemory, report } from "../entry/club-in-memory.ts";

test("a mark is the digest's first forty bits in letters nobody mistakes", () => {
  // RFC 4648, section 10 (https://www.rfc-editor.org/rfc/rfc4648#section-10): "fooba" is Zm9vYmE in base 64 and MZXW6YTB in base 32;
  // the same values in Crockford's letters are CSQPYRK1.
  expect(digestMark("Zm9vYmE")).toBe("CSQP-YRK1");
  expect(digestMark("AAAAAAAAAAA")).toBe("0000-0000");
  expect(digestMark("_________wA")).toBe("ZZZZ-ZZZZ");
});

test("two books that hold the same entries have the same mark, and one more entry another", async () => {
  const club = await clubInMemory([{ name: "Bea Fairlamb", handicap: 7 }]);
  const again = createLedger(club.book.id);
  const mark = digestMark(club.book.digest());
  expect(digestMark(again.digest())).not.toBe(mark);
  await club.save({ kind: "policy-set", body: { unconfirmed: "waits" } });
  expect(digestMark(club.book.digest())).not.toBe(mark);
});

test("the newest entries come first, told in words with names", async () => {
  const club = await clubInMemory([
    { name: "Bea Fairlamb", handicap: 7 },
    { name: "Carl Underhill", handicap: 4 },
  ]);
  const [first] = await club.save(report([[club.id("Bea"), 7]], [[club.id("Carl"), 4]], [7, 5]));
  await club.save(report([[club.id("Bea"), 7]], [[club.id("Carl"), 4]], [7, 6], { replaces: first! }));
  const names = (player: string) => club.book.roster.get(player as never)!.short;
  const told = newestEntries(club.book.counted(), 3).map((entry) => entryTold(entry, names));
  expect(told).toEqual([
    "Corrected: Bea F 7–6 Carl U",
    "Bea F 7–5 Carl U",
    expect.stringContaining("Carl U: handicap set to 4"),
  ]);
  expect(uncountedByReason(club.book.state())).toEqual([]);
});

test("entries that do not count are counted by reason", () => {
  const uncounted = new Map([
    ["a", "forked"],
    ["b", "not-understood"],
    ["c", "forked"],
  ]) as never;
  expect(uncountedByReason({ uncounted })).toEqual([
    ["forked", 2],
    ["not-understood", 1],
  ]);
});

test("every way a relay refuses says what to do, and that nothing is lost", () => {
  const codes = [
    [4403, "relay-has-another-name"],
    [4403, "token-signature"],
    [4400, "protocol-version"],
    [4400, "message-7"],
    [4404, "no-such-room"],
    [1009, "too-long"],
  ] as const;
  const told = codes.map(([code, reason]) => connectionTold({ type: "refused", code, reason }));
  for (const { todo } of told) expect(todo).toContain("Nothing saved is lost");
  expect(new Set(told.map(({ why }) => why)).size).toBe(codes.length);
});

test("a relay that is away is told as what it is, and that it is tried again", () => {
  const told = (fault: Extract<Connection, { type: "connecting" }>["fault"]) =>
    connectionTold({ type: "connecting", attempt: 3, next: 1000, fault });
  expect(told({ type: "unreachable" }).what).toContain("after 3 tries");
  expect(told({ type: "http", status: 502 }).why).toContain("502");
  expect(told({ type: "not-a-relay" }).todo).toContain("Sign in to the network");
  for (const fault of [{ type: "unreachable" }, { type: "no-answer", after: 15_000 }] as const) {
    expect(told(fault).todo).toContain("tries again by itself");
  }
  expect(connectionTold({ type: "live", synced: true })).toMatchObject({ what: "In step", todo: "" });
});
