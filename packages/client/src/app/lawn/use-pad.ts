/** A pad's life on the screen: each tap is tried, kept, and only then shown; what is refused is said in words. */
import { useMemo, useRef, useState } from "preact/hooks";
import { useDesk } from "../desk-store.ts";
import { lawnWords } from "../words/lawn.ts";
import { apply, replay } from "./game.ts";
import { sideName } from "./names.ts";
import type { Pad, PadEvent } from "./pad.ts";
import { undone } from "./pad.ts";
import { padStoreOf } from "./pad-store.ts";

export const usePadStore = () => {
  const { device } = useDesk().club;
  return useMemo(() => padStoreOf(device, localStorage), [device]);
};

export function usePad(initial: Pad) {
  const store = usePadStore();
  // Not the state alone: a second tap may come before the screen is drawn again.
  const held = useRef(initial);
  const [pad, setPad] = useState(initial);
  const [kept, setKept] = useState(true);
  const [said, setSaid] = useState("");
  const state = useMemo(() => replay(pad.setup, pad.events).state, [pad]);
  const sides = ([0, 1] as const).map((side) => sideName(pad.setup, state.first, side));

  const keep = (next: Pad): void => {
    held.current = next;
    setKept(store.write(next));
    setPad(next);
  };
  return {
    pad,
    state,
    sides,
    /** The last tap is in the browser's storage. */
    kept,
    /** Why the last tap was refused; empty when it was not. */
    said,
    /** All of them or none. */
    tap(...events: readonly PadEvent[]): void {
      const { setup } = held.current;
      let after = replay(setup, held.current.events).state;
      for (const event of events) {
        const next = apply(setup, after, event);
        if (!next.ok) {
          setSaid(lawnWords.refusal(next.fault, sides));
          return;
        }
        after = next.value;
      }
      setSaid("");
      keep({ ...held.current, events: [...held.current.events, ...events] });
    },
    undo(): void {
      setSaid("");
      if (held.current.events.length > 0) keep(undone(held.current));
    },
  };
}

export type PadInHand = ReturnType<typeof usePad>;
