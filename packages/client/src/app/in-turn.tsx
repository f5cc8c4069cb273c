/**
 * What is drawn when a record has opened is drawn a part at a time, each in a task of its own: the band and the tabs, the screen, the
 * number of things to do. Right after a start the browser has compiled nothing yet and one part takes it ten times as long as later on,
 * so that all of them at once would leave a finger unanswered for a third of a second on a phone. A part that was drawn stays: going
 * from screen to screen happens at once. Rejected: parts of one screen in turn (what is below would jump down under a finger).
 */
import type { ComponentChildren } from "preact";
import { useEffect, useState } from "preact/hooks";

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
  const { port1, port2 } = new MessageChannel();
  port1.onmessage = () => {
    port1.close();
    isPending = false;
    const next = order.find((part) => waiting.get(part)?.length !== 0);
    if (next === undefined) return;
    const run = waiting.get(next)?.shift();
    pend();
    run?.();
  };
  port2.postMessage(null);
}

export interface InTurnProps {
  readonly part: Part;
  /** What stands there before. */
  readonly before?: ComponentChildren;
  readonly children: ComponentChildren;
}

export function InTurn({ part, before = null, children }: InTurnProps) {
  const [come, setCome] = useState(false);
  useEffect(() => {
    let left = false;
    inTurn(part, () => left || setCome(true));
    return () => {
      left = true;
    };
  }, []);
  return <>{come ? children : before}</>;
}
