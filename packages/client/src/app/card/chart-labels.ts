/** Which trigger points get their label written: none over another, and the next ones before all. */
import type { ChartTrigger } from "./chart-plan.ts";

/** Less than this between two labels, in pixels, and one would stand on the other. */
const APART = 19;

export function labelled(triggers: readonly ChartTrigger[], y: (index: number) => number): readonly ChartTrigger[] {
  const kept: ChartTrigger[] = [];
  for (const row of [...triggers].sort((a, b) => Number(b.next) - Number(a.next))) {
    if (kept.every((other) => Math.abs(y(other.trigger) - y(row.trigger)) >= APART)) kept.push(row);
  }
  return kept;
}
