import type { Draft } from "@sward/core";
import { readLeague } from "@sward/core";
import { beforeAll, expect, test } from "vitest";
import { saveInLeague, setOn } from "../../../packages/client/src/league/save.ts";
import { sentenceOf } from "../../../packages/client/src/messages.ts";
import { player } from "../../support/cast.ts";
import type { SignedLeague } from "./signed-league.ts";
import { signedLeague } from "./signed-league.ts";

const TODAY = "2026-05-09";
let league: SignedLeague;
beforeAll(async () => {
  league = await signedLeague(120);
});

const team = (seats: readonly number[], offs: readonly number[] = [4, 5, 6]): Draft => ({
  kind: "lineup-named",
  body: {
    fixture: league.fixtures["Ash-Birch"]!,
    club: league.clubs.Ash.key,
    players: seats.map((seat, at) => ({ player: player(`Ash-${seat}`), off: offs[at] ?? 6 })),
  },
});
const read = () => {
  const { captain } = league.clubs.Ash;
  return readLeague({ state: captain.state(), counted: captain.counted() }, TODAY);
};

test("what is refused changes nothing, and says what, why and what to do", async () => {
  const { captain } = league.clubs.Ash;
  const before = captain.digest();
  const refused: readonly (readonly [Draft, string])[] = [
    [team([1, 1, 2]), "team-player-twice"],
    [team([1, 2, 3], [4, 13, 14]), "team-handicap-not-in-table"],
    [
      { kind: "lineup-named", body: { ...team([1, 2, 3]).body, club: league.clubs.Birch.key } as never },
      "team-of-another-club",
    ],
    [
      { kind: "fixture-marked", body: { fixture: league.fixtures["Birch-Cedar"]!, as: "rained-off", reason: "wet" } },
      "mark-may-not",
    ],
    // Passes the league's checks, and the book refuses it.
    [{ kind: "policy-set", body: { unconfirmed: "waits" } }, "may-not"],
  ];
  for (const [draft, type] of refused) {
    // One wrong form among others keeps all of them out.
    const saved = await saveInLeague(captain, [team([1, 2, 3]), draft], TODAY);
    expect(saved, type).toMatchObject({ ok: false, fault: { type } });
    if (!saved.ok) expect(sentenceOf(saved.fault)).toMatch(/^[A-Z].*\. .*\.$/);
    expect(captain.digest()).toBe(before);
  }
});

test("what passes is saved, with the warnings that go with it", async () => {
  const { captain } = league.clubs.Ash;
  const saved = await saveInLeague(captain, [team([1, 2, 3])], TODAY);
  if (!saved.ok) throw new Error(saved.fault.type);
  expect(saved.value.ids.length).toBe(1);
  expect(saved.value.warnings).toContainEqual({ about: "not-stated", player: player("Ash-1") });
  expect(read().league.fixtures[0]?.teams[0]?.entry).toBe(saved.value.ids[0]);
});

test("the playing rules of a day are those adopted by then, and before the first the first", () => {
  const rules = [
    { rules: "england-2016", from: "2026-01-01" },
    { rules: "england-2016-like-pairing", from: "2027-01-01" },
  ];
  expect(["2025-01-01", "2026-06-01", "2027-01-01"].map((day) => setOn(rules, day)?.id)).toEqual([
    "england-2016",
    "england-2016",
    "england-2016-like-pairing",
  ]);
  expect([setOn([], TODAY), setOn([{ rules: "of-tomorrow", from: "2026-01-01" }], TODAY)]).toEqual([
    undefined,
    undefined,
  ]);
});
