/** What is kept to be shown before the record has been read, held to what the record itself says, on that day and on every later one. */
import type { Day, PlayerId } from "@sward/core";
import { atOnce } from "@sward/core";
import fc from "fast-check";
import { expect, test } from "vitest";
import { groupMatters } from "../../../packages/client/src/app/attention/groups.ts";
import type { TroubleMatter } from "../../../packages/client/src/app/attention/troubles.ts";
import { knowingLast, rowOn } from "../../../packages/client/src/app/last-known/last-known.ts";
import { rollOf } from "../../../packages/client/src/app/members/roll.ts";
import { rowsOfCard } from "../../../packages/core/src/replay/card-lines.ts";
import { clubs, event, played, player } from "../../support/cast.ts";

const lastKnownOf = (...of: Parameters<typeof knowingLast>) => atOnce(knowingLast(...of));

const nobody = { name: "", short: "", junior: false };
const dayOf = (n: number): Day => new Date(Date.UTC(2026, 4, 1 + n)).toISOString().slice(0, 10);

const SEED = 20_261_125;
const DAYS = 40;

const change = fc.oneof(
  fc.record({ what: fc.constant("game" as const), on: fc.nat(DAYS), won: fc.boolean(), cup: fc.boolean() }),
  fc.record({ what: fc.constant("set" as const), on: fc.nat(DAYS), to: fc.integer({ min: 2, max: 12 }) }),
);

test(`every handicap of every later day, from what was kept on one, seed ${SEED}`, () => {
  const waited = { rows: 0, ahead: 0 };
  fc.assert(
    fc.property(fc.array(change, { maxLength: 12 }), fc.nat(DAYS), (changes, kept) => {
      const { north } = clubs("north");
      north.member("ada", 7, { index: 1395, from: dayOf(0) });
      north.member("ben", 9, { index: 1305, from: dayOf(0) });
      north.handicapper.opens("cup", dayOf(10), dayOf(12), { occasion: "calendar-event" });
      for (const [n, { on, ...one }] of changes.entries()) {
        if (one.what === "game") {
          const cup = one.cup ? ({ event: event("cup"), occasion: "calendar-event" } as const) : {};
          const day = one.cup ? 10 + (on % 3) : on;
          north.recorder.reports(played(dayOf(day), "ada 7", "ben 9", one.won ? "7-4" : "4-7", { n: n + 1, ...cup }));
        } else {
          const set = { player: player("ada"), handicap: one.to, from: dayOf(on), basis: "discretionary" } as const;
          north.handicapper.writes("handicap-set", { ...set, reason: "seen" });
        }
      }
      const state = north.state();
      const { rows } = structuredClone(lastKnownOf(state, [], dayOf(kept)));
      for (let day = kept; day <= DAYS + 2; day++) {
        const now = rollOf(state, () => nobody, dayOf(day));
        for (const [at, row] of rows.entries()) {
          const shown = rowOn(row, dayOf(day), nobody);
          expect(shown.player).toBe(now[at]?.player);
          expect(shown).toMatchObject({ handicap: now[at]?.handicap, waiting: now[at]?.waiting, last: now[at]?.last });
          if (day === kept) expect(shown).toEqual(now[at]);
          waited.rows += 1;
          waited.ahead += row.ahead.length;
        }
      }
    }),
    { seed: SEED, numRuns: 200 },
  );
  // Else nothing ever waited, and the property would hold of anything.
  expect(waited.ahead).toBeGreaterThan(waited.rows / 20);
});

test("of a card of many games only its last line is made", () => {
  const { north } = clubs("north");
  north.member("ada", 7, { index: 1395, from: dayOf(0) });
  north.member("ben", 9, { index: 1305, from: dayOf(0) });
  for (let on = 1; on <= DAYS; on++) north.recorder.reports(played(dayOf(on), "ada 7", "ben 9", "7-4", { n: 1 }));
  const state = north.state();
  const made = (): number => [...state.cards.values()].reduce((sum, card) => sum + rowsOfCard(card).made, 0);
  const before = made();
  lastKnownOf(state, [], dayOf(DAYS));
  // For each of the two: what is in force, and whether something waits.
  expect(made() - before).toBeLessThanOrEqual(4);
});

test("things to do as they are counted, with whom they are about, and nothing of this device or of names", () => {
  const { north } = clubs("north");
  north.member("ada", 7, { index: 1390 });
  north.member("ben", 9);
  north.handicapper.joins("moss");
  north.recorder.reports(played("2026-05-02", "ada 7", "ben 9", "7-4"));
  const desk = {
    club: { id: north.id, device: north.handicapper.id, state: () => north.state() },
    leagues: [],
  };
  const silent: TroubleMatter = { about: "not-met", waiting: 2, days: 40 };
  const groups = groupMatters(desk, "2026-06-30", [silent]);
  expect(groups[0]?.name).toBe("device");
  const known = lastKnownOf(north.state(), groups, "2026-06-30");
  expect(known.groups).toEqual([
    { title: "Changes of handicap to sign off", count: 1, players: [player("ada")] },
    { title: "Starting handicaps to give", count: 1, players: [player("moss")] },
  ]);
  expect(known.groups.map(({ count }) => count)).toEqual(groups.slice(1).map(({ matters }) => matters.length));
  expect(known.rows.map((row): PlayerId => row.player).sort()).toEqual(["ada", "ben", "moss"].map(player).sort());
  expect(known.rows.some((row) => "name" in row)).toBe(false);
});
