/**
 * Looks for further matters whenever the record has changed: in a turn of its own when a device is opened, for which the first screen
 * waits so that what it shows stays where it is, and after that when the browser has nothing else to do, since in a record of ten years
 * it takes a tenth of a second. In several tasks, and told together.
 */
import { batch, effect, signal } from "@preact/signals";
import { inSteps } from "../../book/breathing.ts";
import { breathe } from "../../desk/breathe-here.ts";
import { onceDrawn } from "../../desk/once-drawn.ts";
import { desk, version } from "../desk-store.ts";
import { rosterRecordOf } from "../names.ts";
import { further, reminders } from "./further.ts";
import { furtherGroups } from "./further-found.ts";
import { readApart } from "./kept-apart.ts";
import { findingReminders } from "./reminders.ts";

/** Goes up when somebody was said to be two people. */
export const apartChanged = signal(0);

let lookedAt: unknown = null;
let asked = false;
/** Looks begun, and the last one whose finds were told. */
let begun = 0;
let told = 0;

async function look(): Promise<void> {
  asked = false;
  begun += 1;
  const mine = begun;
  const open = desk.peek();
  const due = open === null ? [] : await inSteps(findingReminders(open.club.state(), open.today()), breathe);
  const breath = breathe();
  if (breath !== null) await breath;
  // Another one was opened, which is looked at in its turn; or a later look was done sooner.
  if (open !== desk.peek() || mine < told) return;
  told = mine;
  const apart = open === null ? null : readApart(localStorage, open.club);
  batch(() => {
    reminders.value = due;
    further.value =
      open === null || apart === null ? [] : furtherGroups(open, (id) => rosterRecordOf(open, id)?.name, apart);
  });
}

/** Called once, when the script is here. */
export const keepLooking = (): void => {
  effect(() => {
    const open = desk.value;
    version.value;
    apartChanged.value;
    if (open !== lookedAt) {
      lookedAt = open;
      asked = true;
      reminders.value = [];
      further.value = open === null ? [] : null;
      setTimeout(() => void look(), 0);
    } else if (!asked) {
      asked = true;
      onceDrawn(() => void look());
    }
  });
};
