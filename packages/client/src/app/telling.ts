/**
 * Changes of one moment are told together, at its end: a first join would else draw the screens ten thousand times. Who has something of
 * his own to show with a change (that it was saved) ends the moment himself, so that it is drawn with it and not once more; or, where it
 * says enough by itself, holds the moment until it has been drawn. What is no change of the record (a receipt, a connection) may wait a
 * little longer: most often it comes just before an entry does, and what is drawn for it would keep the entry waiting.
 */

/** Milliseconds, two frames: nobody sees that a receipt came sooner. */
const LITTLE = 30;

interface Moment {
  readonly end: () => void;
  readonly isLong: boolean;
}

let moment: Moment | null = null;
let isHeld = false;

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
  setTimeout(() => isHeld || one.end(), mayWait ? LITTLE : 0);
}

/** The moment lasts until it is ended by `tellNow`, which whoever calls this calls soon. */
export function holdTelling(): void {
  isHeld = true;
}

/** Ends the moment. */
export function tellNow(): void {
  isHeld = false;
  moment?.end();
}
