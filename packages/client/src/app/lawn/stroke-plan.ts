/**
 * A plan for the one who receives extra strokes, as common coaching practice has it (no source): up to three are kept for the
 * decisive later hoops; four to eight are spread and used to attack from the start; with nine or more there is one at almost every
 * hoop; and none is ever carried unused past the end. A hint, never a rule: the player decides.
 *
 * Those counts are said of a 13-point game. For the other lengths the count is first brought to 13 points in proportion, which is
 * our own reading. The last hoop that may be needed is left out of the plan: a game often ends before it.
 */
import type { Format } from "@sward/core";
import { winningScore } from "@sward/core";

export interface StrokePlan {
  readonly type: "none" | "keep" | "spread" | "every-hoop";
  /** Hoops, from 1, at each of which one is planned; a hoop is named as often as there are strokes for it. Ascending. */
  readonly hoops: readonly number[];
}

/** @param count extra strokes in one game, 0 or more */
export function strokePlan(count: number, format: Format): StrokePlan {
  if (count <= 0) return { type: "none", hoops: [] };
  const planned = format - 1;
  const inThirteen = Math.round((count * 13) / format);
  if (inThirteen <= 3) {
    const from = planned - count + 1;
    return { type: "keep", hoops: Array.from({ length: count }, (_, at) => from + at) };
  }
  const hoops = Array.from({ length: count }, (_, at) => 1 + Math.floor((at * planned) / count));
  return { type: inThirteen <= 8 ? "spread" : "every-hoop", hoops };
}

export type PlanHint =
  /** Either side needs one hoop more: what is not used now may never be. */
  | "now-or-never"
  /** By plan more should have been used up to this hoop. */
  | "use-one"
  | "keep";

export interface PlanQuestion {
  /** What the player still has, at least 1. */
  readonly left: number;
  /** The hoop being played for, from 1. */
  readonly hoop: number;
  readonly score: readonly [number, number];
  readonly format: Format;
}

/** What the plan says of the stroke that could be taken now. */
export function planHint(plan: StrokePlan, { left, hoop, score, format }: PlanQuestion): PlanHint {
  if (Math.max(...score) >= winningScore(format) - 1) return "now-or-never";
  const later = plan.hoops.filter((at) => at > hoop).length;
  return left > later ? "use-one" : "keep";
}
