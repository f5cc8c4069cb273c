/** The extra strokes of the match being typed, as soon as its handicaps are there. */
import type { Format, Play, RuleSet, SeatExtras } from "@sward/core";
import { extraStrokes, extrasBySeat } from "@sward/core";

export type Extras =
  | { readonly type: "level" }
  /** A handicap is missing, or is not in the table. */
  | { readonly type: "not-yet" }
  /** Each lawful way, by side and seat: `[[3, 0], [0, 2]]`. At least one. */
  | { readonly type: "ways"; readonly ways: readonly SeatExtras[] };

export function extrasOf(
  rules: RuleSet | undefined,
  game: { readonly play: Play; readonly format: Format },
  sides: readonly (readonly number[])[] | null,
): Extras {
  if (game.play === "level") return { type: "level" };
  if (rules === undefined || sides === null) return { type: "not-yet" };
  const found = extraStrokes(rules, { format: game.format, sides });
  if (!found.ok) return { type: "not-yet" };
  return { type: "ways", ways: found.value.choices.map((choice) => extrasBySeat(choice, sides)) };
}
