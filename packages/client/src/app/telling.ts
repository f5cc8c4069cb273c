/**
 * Changes of one moment are told together, at its end: a first join would else draw the screens ten thousand times. Who has something of
 * his own to show with a change (that it was saved) ends the moment himself, so that it is drawn with it and not once more. What is no
 * change of the record (a receipt, a connection) may wait a little longer: most often it comes just before an entry does, and what is
 * drawn for it would keep the entry waiting.
 */

/** Milliseconds, two frames: nobody sees that a receipt came sooner. */
const LITTLE = 30;

interface Moment {
  readonly end: () => void;
  readonly isLong: boolean;
}

let moment: Moment | null = null;

/** Does this at the end of the moment; what waits for it already is done instead. */
export function tellSoon(tell: () => void, mayWait = false): void {
  if (moment !== null && (mayWait || !moment.isLong)) return;
  const one: Moment = {
    isLong: mayWait,
    end() {
      // It was ended before its time, or made shorter.
      if (moment !== one) return;
      moment = null;
      tell();
    },
  };
  moment = one;
  setTimeout(one.end, mayWait ? LITTLE : 0);
}

/** Ends the moment. */
export const tellNow = (): void => moment?.end();
