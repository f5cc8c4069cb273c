/** What the extra strokes would have been is worked out in few lines for the first view: it is what the whole of them says between two. */
import type { Format, GameLine, PlayerId, RuleSet } from "@sward/core";
import { extraStrokes, extrasBySeat, ruleSets } from "@sward/core";
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
