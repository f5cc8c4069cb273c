/** Entries at the ends of what their forms allow: whatever can be read makes a state, and the same one in any order. */
import type { Bodies, Kind } from "@sward/core";
import { bodies, digestOf } from "@sward/core";
import fc from "fast-check";
import { expect, test } from "vitest";
import { Club, clubs, event, fixture, keyOf, league, player } from "../../support/cast.ts";
import { stateOf, stateText } from "../../support/state-text.ts";

const SEED = 20260701;

const oneOf = <T>(...values: readonly T[]) => fc.constantFrom(...values);
const days = oneOf("0001-01-01", "1970-01-01", "2024-02-29", "2026-05-01", "9999-12-31");
const handicaps = oneOf(-30, -7, -6, 7, 13, 20, 21, 60);
const indexes = oneOf(-10_000, 0, 899, 1350, 2801, 20_000);
const players = oneOf("ada", "ben", "cat", "vera").map(player);
const entries = oneOf(digestOf("an entry"), digestOf("another"));
const lineup = fc.record({ player: players, off: handicaps });
const side = fc.array(lineup, { minLength: 1, maxLength: 2 });
const scores = oneOf(0, 3, 4, 6, 7, 10, 19);
const game = fc.record(
  { score: fc.tuple(scores, scores), ended: oneOf("time" as const, "abandoned" as const, "walkover" as const) },
  { requiredKeys: ["score"] },
);
const slot = { fixture: fixture("first"), number: 200 };

const forms: { readonly [K in Kind]?: fc.Arbitrary<Bodies[K]> } = {
  "match-reported": fc.record(
    {
      date: days,
      start: oneOf("00:00", "23:59"),
      occasion: oneOf("calendar-event" as const, "league" as const, "ad-hoc" as const),
      event: oneOf(event("cup"), event("plate")),
      slot: fc.constant(slot),
      n: oneOf(1, 50),
      play: oneOf("handicap" as const, "level" as const),
      format: oneOf(7 as const, 13 as const, 19 as const),
      sides: fc.tuple(side, side),
      games: fc.array(game, { minLength: 1, maxLength: 9 }),
      excluded: fc.constant(true as const),
      replaces: entries,
    },
    { requiredKeys: ["date", "occasion", "n", "play", "format", "sides", "games"] },
  ),
  "handicap-set": fc.record(
    {
      player: players,
      handicap: handicaps,
      index: indexes,
      from: days,
      basis: oneOf("initial" as const, "discretionary" as const, "transfer" as const),
      reason: fc.constant("r"),
      replaces: entries,
    },
    { requiredKeys: ["player", "handicap", "from", "basis", "reason"] },
  ),
  "card-signed": fc.record({
    player: players,
    upto: days,
    handicap: handicaps,
    index: indexes,
    lines: oneOf(0, 1, 3, 1_000_000),
    digest: entries,
    marks: oneOf("", "A", "AAAA", "A".repeat(1024)),
  }),
  "ruling-made": fc.record({
    match: oneOf("x", "||||", `slot:${slot.fixture}:200`, "v".repeat(400)),
    accepts: fc.option(entries),
    reason: fc.constant("r"),
  }),
  "event-opened": fc.record({
    event: oneOf(event("cup"), event("plate")),
    title: fc.constant("t"),
    occasion: oneOf("calendar-event" as const, "ad-hoc" as const),
    from: days,
    to: days,
  }),
  "rules-adopted": fc.record({ rules: oneOf("england-2016", "new-south-wales-2022", "toString"), from: days }),
  "player-linked": fc.record({ player: players, to: players }),
  "player-joined": fc.record({ player: players, standing: oneOf("member" as const, "visitor" as const) }),
  "device-barred": fc.record({
    device: oneOf(keyOf("root of north").id, keyOf("recorder of north").id, keyOf("nobody").id),
    last: fc.option(fc.record({ seq: oneOf(0, 5, 2 ** 40), id: entries })),
  }),
  "entry-withdrawn": fc.record({ withdraws: entries, reason: fc.constant("r") }),
  "entry-carried": fc.record({
    from: oneOf(clubs("north").north.id, clubs("south").south.id),
    key: fc.constant(keyOf("nobody").publicKey),
    entry: oneOf("x", "a.b.c"),
  }),
};

const drafts = fc.oneof(
  ...(Object.entries(forms) as [Kind, fc.Arbitrary<Bodies[Kind]>][]).map(([kind, form]) =>
    form.map((body) => ({ kind, body })),
  ),
);

test(`RP1 PE8 whatever an entry's form allows makes a state, the same in any order (seed ${SEED})`, () => {
  fc.assert(
    fc.property(fc.array(drafts, { minLength: 1, maxLength: 25, size: "max" }), fc.boolean(), (list, inLeague) => {
      const { north } = clubs("north");
      const book = inLeague ? league("border", { north }).league : north;
      for (const name of ["ada", "ben"]) if (book instanceof Club) book.member(name, 7);
      for (const { kind, body } of list) {
        expect(bodies[kind].safeParse(body).success, kind).toBe(true);
        book.root.writes(kind, body, null);
      }
      const state = stateOf(book);
      expect(stateText(state).length).toBeGreaterThan(100);
      for (const { lines, index, handicap } of state.cards.values()) {
        expect(Number.isSafeInteger(index) && Number.isSafeInteger(handicap)).toBe(true);
        for (const line of lines) expect(Number.isSafeInteger(line.index)).toBe(true);
      }
    }),
    { seed: SEED, numRuns: 300 },
  );
});
