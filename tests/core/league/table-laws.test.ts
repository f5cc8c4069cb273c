/** Laws of the table, over seasons of any results and any reporters. The seed is pinned; it is printed in the titles. */
import type { LeagueRules, TableResult } from "@sward/core";
import { canonicalText, findLeagueRules, leagueTable, writtenLeagueRules } from "@sward/core";
import fc from "fast-check";
import { expect, test } from "vitest";
import { shuffled } from "../replay/worlds.ts";
import type { ClubName } from "./season.ts";
import { openSeason } from "./season.ts";

const SEED = 20_261_125;

const small: LeagueRules = {
  ...findLeagueRules("even-games")!,
  points: { ...findLeagueRules("turn-up")!.points, game: 1 },
};
const rules: LeagueRules = { ...small, slots: small.slots.slice(1, 4) };

const meetings: readonly (readonly [ClubName, ClubName])[] = [
  ["north", "south"],
  ["west", "north"],
  ["south", "west"],
];
const scores = ["7-4", "4-7", "7-6", "5-5t", "0-7w", "6-2a"] as const;

/** For each fixture and slot a score, or none. */
const season = fc.array(fc.option(fc.constantFrom(...scores), { freq: 12 }), { minLength: 9, maxLength: 9 });
const marks = fc.array(fc.constantFrom(null, null, null, "rained-off", "conceded", "postponed"), {
  minLength: 3,
  maxLength: 3,
});
type Reporter = "home" | "away" | "both" | "league";
const reporters = fc.array(fc.constantFrom<Reporter>("home", "away", "both", "league"), { minLength: 9, maxLength: 9 });

function write(
  results: readonly (string | null)[],
  became: readonly ("rained-off" | "conceded" | "postponed" | null)[],
  by: readonly Reporter[],
) {
  const cast = openSeason(rules, 4);
  for (const [place, [home, away]] of meetings.entries()) {
    const at = cast.sets(`fixture ${place}`, `2026-05-1${place}`, home, away);
    const mark = became[place] ?? null;
    if (mark !== null) cast.marks(cast.secretary, at, mark, mark === "conceded" ? { by: cast.keyOf(home) } : {});
    for (let slot = 1; slot <= 3; slot++) {
      const score = results[place * 3 + slot - 1] ?? null;
      const who = by[place * 3 + slot - 1] ?? "both";
      if (score !== null)
        cast.reports(
          at,
          slot,
          score,
          ...(who === "both" ? [home, away] : [{ home, away, league: "league" as const }[who]]),
        );
    }
  }
  return cast;
}

test(`LG25 standings do not depend on the order of the entries (seed ${SEED})`, () => {
  const law = fc.property(season, marks, reporters, fc.nat(), (results, became, by, order) => {
    const cast = write(results, became, by);
    const table = canonicalText(cast.table());
    expect(canonicalText(cast.table(shuffled(cast.book.written, order)))).toBe(table);
    // Handed in twice is handed in once.
    expect(canonicalText(cast.table([...cast.book.written, ...cast.book.written]))).toBe(table);
  });
  fc.assert(law, { seed: SEED, numRuns: 40 });
});

test(`LG25 standings do not depend on who reported (seed ${SEED})`, () => {
  let different = 0;
  const law = fc.property(season, marks, reporters, reporters, (results, became, one, other) => {
    const [first, second] = [write(results, became, one), write(results, became, other)];
    if (first.book.written.length !== second.book.written.length) different += 1;
    expect(canonicalText(second.table())).toBe(canonicalText(first.table()));
  });
  fc.assert(law, { seed: SEED, numRuns: 40 });
  expect(different).toBeGreaterThan(20);
});

test(`LG21 LG25 the table of any results is the same in any order, and places everybody once (seed ${SEED})`, () => {
  const names = ["ash", "birch", "cedar", "damson", "elm", "fir"];
  const played = fc.record({
    pair: fc.tuple(fc.constantFrom(...names), fc.constantFrom(...names)).filter(([home, away]) => home !== away),
    slots: fc.tuple(fc.nat(3), fc.nat(3)),
    games: fc.tuple(fc.nat(3), fc.nat(3)),
    hoops: fc.tuple(fc.nat(5), fc.nat(5)),
    winner: fc.constantFrom(0 as const, 1 as const, null),
  });
  const all = writtenLeagueRules();
  const law = fc.property(
    fc.array(played, { maxLength: 14 }),
    fc.nat(all.length - 1),
    fc.nat(),
    (list, which, order) => {
      const results = list.map(
        ({ pair, winner, ...tally }): TableResult => ({
          home: pair[0] as never,
          away: pair[1] as never,
          result: { tally: { ...tally, drawnGames: 0 }, winner, by: winner === null ? null : "games" },
        }),
      );
      const table = leagueTable(all[which]!, names as never, results);
      expect(canonicalText(leagueTable(all[which]!, names as never, shuffled(results, order)))).toBe(
        canonicalText(table),
      );
      expect(table.rows.map(({ club }) => club as string).sort()).toEqual(names);
      const sum = (part: "won" | "lost") => table.rows.reduce((total, row) => total + row[part], 0);
      expect(sum("won")).toBe(sum("lost"));
      for (const [at, row] of table.rows.entries()) {
        const above = table.rows[at - 1];
        if (above === undefined) continue;
        expect(above.points).toBeGreaterThanOrEqual(row.points);
        expect(above.place).toBeLessThanOrEqual(row.place);
      }
      for (const { place, shared } of table.rows) {
        expect(table.rows.filter((row) => row.place < place).length).toBe(place - 1);
        expect(table.rows.filter((row) => row.place === place).length > 1).toBe(shared);
      }
      // Every group that was split is told of, with the value of each of its clubs.
      for (const { among, values, leaves } of table.steps) {
        expect(values.map(({ club }) => club)).toEqual(among);
        expect([...leaves.flat()].sort()).toEqual([...among].sort());
      }
    },
  );
  fc.assert(law, { seed: SEED, numRuns: 300 });
});
