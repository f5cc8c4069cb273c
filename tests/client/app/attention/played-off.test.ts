/** What the strokes and the points would have been is worked out in few lines for the first view: it is what those that know all say. */
import type { Format, GameLine, PlayerId, RuleSet } from "@sward/core";
import { exchangePoints, extraStrokes, extrasBySeat, ruleSets } from "@sward/core";
import { expect, test } from "vitest";
import { playedOff } from "../../../../packages/client/src/app/attention/played-off.ts";

/** With 13, which no table has. */
const handicaps = [-6, -1, 0, 1, 2, 7, 12, 13, 14, 20];
const formats: readonly Format[] = [7, 13, 19];

/** Own strokes less the opponent's. */
function whole(set: RuleSet, format: Format, own: number, other: number): number | null {
  const sides = [[own], [other]];
  const found = extraStrokes(set, { format, sides });
  if (!found.ok) return null;
  const [[mine], [theirs]] = extrasBySeat(found.value.choices[0]!, sides) as [[number], [number]];
  return mine - theirs;
}

test("ST1 ST2 ST11 off another handicap the strokes are those that any two would have, in every set and format", () => {
  let compared = 0;
  for (const set of ruleSets)
    for (const format of formats)
      for (const other of handicaps)
        for (const record of handicaps) {
          const opponents = [{ player: "ben" as PlayerId, off: other }];
          const line = { rules: set.id, format, play: "handicap", partner: null, opponents, off: 7, points: 0 };
          const { strokes } = playedOff({ ...line, notice: { off: 7, record } } as unknown as GameLine);
          const [was, would] = [whole(set, format, 7, other), whole(set, format, record, other)];
          expect(strokes).toEqual(was === null || would === null ? null : { was, would });
          if (strokes !== null) compared += 1;
        }
  expect(compared).toBeGreaterThan(500);
});

test("EX1 off another handicap the points are those that any game exchanges, in every set, won and lost, in singles and doubles", () => {
  let compared = 0;
  for (const set of ruleSets)
    for (const play of ["handicap", "level"] as const)
      for (const other of handicaps)
        for (const record of handicaps)
          for (const points of [1, -1])
            for (const partner of [
              null,
              { player: "cat" as PlayerId, off: 5 },
              { player: "cat" as PlayerId, off: 13 },
            ]) {
              const opponents = (partner === null ? [other] : [other, 9]).map((off) => ({
                player: "ben" as PlayerId,
                off,
              }));
              const line = { rules: set.id, format: 13, play, partner, opponents, off: 7, points };
              const { would } = playedOff({ ...line, notice: { off: 7, record } } as unknown as GameLine).points;
              const [mine, theirs] = [
                [record, ...(partner === null ? [] : [partner.off])],
                opponents.map(({ off }) => off),
              ];
              const [winner, loser] = points > 0 ? [mine, theirs] : [theirs, mine];
              const found = exchangePoints(set, { play, winner, loser });
              expect(would).toBe(found.ok ? found.value.points * points : null);
              if (found.ok && found.value.points > 0) compared += 1;
            }
  expect(compared).toBeGreaterThan(500);
});
