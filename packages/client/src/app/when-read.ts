/**
 * For what can wait until the record is here: keeping the whole app for a day without a signal fetches a hundred scripts, over the same
 * few connections as the worker that reads the record and at the cost of the same processor. A device that has the app kept already
 * waits for nothing, and nobody waits longer than a little while, whatever becomes of the record.
 */
import { effect } from "@preact/signals";
import { desk, opening, version } from "./desk-store.ts";

/** Milliseconds: a record of ten years is read in less, and who walks off to the lawn before that has not got the record either. */
const PATIENCE = 15_000;

export const whenRead = (run: () => void): void => whenSo(isRead, PATIENCE, run);

/** Does it once that is so, which signals say, or after so many milliseconds all the same. */
export function whenSo(isSo: () => boolean, patience: number, run: () => void): void {
  let stop = (): void => undefined;
  let isOver = false;
  const goOn = (): void => {
    if (isOver) return;
    isOver = true;
    clearTimeout(timer);
    stop();
    run();
  };
  const timer = setTimeout(goOn, patience);
  stop = effect(() => {
    if (isSo()) queueMicrotask(goOn);
  });
}

/** The record has been opened, or cannot be. */
export const isOpened = (): boolean => opening.value.type !== "none" && opening.value.type !== "opening";

function isRead(): boolean {
  version.value;
  if (!isOpened()) return false;
  const open = desk.value;
  return open === null || [open.club, ...open.leagues].every((book) => book.caughtUp() && book.progress() === null);
}
