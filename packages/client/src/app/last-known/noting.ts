/**
 * When what is known is kept: a little after the last change, when nobody waits. After each change would be work that the next one throws
 * away; when the page is left is too late, for a phone may end it without a word.
 */
import { inSteps } from "../../book/breathing.ts";
import { breathe } from "../../desk/breathe-here.ts";
import type { Desk } from "../../desk/desk.ts";
import { systemClock } from "../../desk/platform.ts";
import { further, reminders } from "../attention/further.ts";
import { groupMatters } from "../attention/groups.ts";
import { keepCheckpoint, keepLastKnown } from "./kept.ts";
import { knowingLast } from "./last-known.ts";

export { readCheckpoint, readLastKnown } from "./kept.ts";

/** Milliseconds after the last change; and after the first that was not kept, however many follow. */
const QUIET = 2_000;
const AT_LATEST = 20_000;

let timer: ReturnType<typeof setTimeout> | undefined;
let first: number | null = null;

/** @param isOpen whether this desk still is the one that is open */
export function noteSoon(desk: Desk, isOpen: () => boolean): void {
  clearTimeout(timer);
  first ??= performance.now();
  const after = Math.max(0, Math.min(QUIET, first + AT_LATEST - performance.now()));
  timer = setTimeout(() => {
    first = null;
    if (isOpen() && isKnown(desk)) void note(desk).catch(() => undefined);
  }, after);
}

/** A record that is still being read for the first time says handicaps of long ago, and would say them as what was last known. */
const isKnown = ({ club }: Desk): boolean => club.state().as !== null && club.caughtUp();

async function note(desk: Desk): Promise<void> {
  const today = desk.today();
  const groups = groupMatters(desk, today, [], further.value ?? [], reminders.value);
  const known = await inSteps(knowingLast(desk.club.state(), groups, today), breathe);
  await keepLastKnown(desk.club, known, systemClock.timestamp());
  await keepCheckpoint(desk.club);
}
