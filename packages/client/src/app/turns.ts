/** Who is to be drawn next, when a record has opened (`in-turn.tsx`). */

import { nextTask } from "../desk/next-task.ts";

/** In the order in which they are drawn. */
const order = ["screen", "number", "rest"] as const;
export type Part = (typeof order)[number];

const waiting = new Map<Part, (() => void)[]>(order.map((part) => [part, []]));
let isPending = false;

/** Does this in a task of its own, after what waits before it. */
export function inTurn(part: Part, run: () => void): void {
  waiting.get(part)?.push(run);
  pend();
}

function pend(): void {
  if (isPending) return;
  isPending = true;
  nextTask(() => {
    isPending = false;
    const next = order.find((part) => waiting.get(part)?.length !== 0);
    if (next === undefined) return;
    const run = waiting.get(next)?.shift();
    pend();
    run?.();
  });
}
