/**
 * For what can wait until the record is here: the scripts of other screens, and keeping the whole app for a day without a signal, which
 * fetches a hundred of them. Both go over the same few connections as what reads the record, and at the cost of the same processor: a
 * first join of ten years is a twelfth shorter without the former alone. A device that has the app kept already keeps it at once, and
 * nobody waits longer than a little while, whatever becomes of the record.
 */
import { effect } from "@preact/signals";
import { desk, opening, version } from "./desk-store.ts";

/** Milliseconds: a record of ten years is read in less, and who walks off to the lawn before that has not got the record either. */
const PATIENCE = 15_000;

/** Does it once the record has been read, or after a little while all the same. */
export function whenRead(run: () => void): void {
  let stop = (): void => undefined;
  let isOver = false;
  const goOn = (): void => {
    if (isOver) return;
    isOver = true;
    clearTimeout(timer);
    stop();
    run();
  };
  const timer = setTimeout(goOn, PATIENCE);
  stop = effect(() => {
    if (isRead()) queueMicrotask(goOn);
  });
}

function isRead(): boolean {
  version.value;
  if (opening.value.type === "none" || opening.value.type === "opening") return false;
  const open = desk.value;
  return open === null || [open.club, ...open.leagues].every((book) => book.caughtUp() && book.progress() === null);
}
