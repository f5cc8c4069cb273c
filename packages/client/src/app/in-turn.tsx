/**
 * What is drawn when a record has opened is drawn a part at a time, each in a task of its own: the band and the tabs, the screen, the
 * number of things to do. Right after a start the browser has compiled nothing yet and one part takes it ten times as long as later on,
 * so that all of them at once would leave a finger unanswered for a third of a second on a phone. A part that was drawn stays: going
 * from screen to screen happens at once. Rejected: parts of one screen in turn (what is below would jump down under a finger).
 */
import type { ComponentChildren } from "preact";
import { useEffect, useState } from "preact/hooks";
import type { Part } from "./turns.ts";
import { inTurn } from "./turns.ts";

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
