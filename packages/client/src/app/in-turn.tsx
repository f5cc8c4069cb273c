/**
 * What is drawn when a record has opened is drawn a part at a time, each in a task of its own: the band and the tabs, the screen, the
 * number of things to do. Right after a start the browser has compiled nothing yet and one part takes it ten times as long as later on,
 * so that all of them at once would leave a finger unanswered for a third of a second on a phone. A part that was drawn stays: going
 * from screen to screen happens at once. Rejected: parts of one screen in turn (what is below would jump down under a finger).
 */
import type { ComponentChildren } from "preact";
import { createContext } from "preact";
import { useEffect, useLayoutEffect, useRef, useState } from "preact/hooks";
import type { Part } from "./turns.ts";
import { inTurn } from "./turns.ts";

export interface InTurnProps {
  readonly part: Part;
  /** What it will ask for, worked out in a task before: it must be found again when it is drawn. */
  readonly prepare?: () => void;
  /** What stands there before. */
  readonly before?: ComponentChildren;
  readonly children: ComponentChildren;
}

/** For what is drawn inside: whether it comes by itself, for the first time, and not because somebody pressed something. */
export const ComesByItself = createContext<{ readonly current: boolean }>({ current: false });

export function InTurn({ part, prepare, before = null, children }: InTurnProps) {
  const [come, setCome] = useState(false);
  const isFirst = useRef(true);
  // After the effects of what is inside.
  useLayoutEffect(() => {
    isFirst.current = !come;
  }, [come]);
  const left = useRef(false);
  useEffect(() => {
    if (prepare !== undefined) inTurn(part, () => left.current || prepare());
    inTurn(part, () => left.current || setCome(true));
  }, []);
  // Known at once: an effect that waits for a frame is also taken back a frame late.
  useLayoutEffect(
    () => () => {
      left.current = true;
    },
    [],
  );
  return <ComesByItself.Provider value={isFirst}>{come ? children : before}</ComesByItself.Provider>;
}
