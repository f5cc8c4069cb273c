/** What people read about barring a device, the change of the club's key that follows, and what a barred device wrote since. */
import type { EpochDue } from "@sward/core";
import type { BarringHere } from "../devices/bar-plan.ts";
import type { SetAside } from "../devices/quarantine.ts";
import { count } from "../words.ts";

export const barringWords = {
  bar: (device: string) => `Bar ${device}…`,
  barShort: "Bar…",
  title: (device: string) => `Bar ${device}`,
  lead: "For a device that is lost, stolen, sold or given back. From the entry you choose on, nothing it writes counts, whatever its clock says; and the club changes its key, so that it reads nothing written afterwards.",
  keeps:
    "It keeps what it has read so far: nobody can take that back. It is not let in again; the same person's next device is admitted anew.",
  last: "The last of its entries that still counts",
  lastHint:
    "If it was stolen, choose the last one its owner wrote. What comes after is set aside, and you can count the good ones afterwards one by one.",
  everything: "all it has written so far counts",
  after: (after: number) => `${count(after, "entry", "entries")} set aside`,
  nothing: "None: nothing it ever wrote counts",
  notRead: "An entry of a newer version",
  words: "The club's words",
  wordsLead:
    "Only the club's own key bars a handicapper's device, so that no handicapper can shut out another. It is made of the 24 words on paper, is used for this, and is kept nowhere.",
  wordsHint: "All 24, in their order.",
  go: "Bar this device",
  busy: "Asking the relay for what the club's key has written so far, then barring. This takes a moment.",
  done: (device: string) => `${device} is barred. The club changes its key.`,
  noUndo: "A bar is not taken back.",
  whyNot: {
    itself: "A device does not bar itself: ask another handicapper.",
    root: "The club's own key is not barred.",
    barred: "Barred.",
    "role-may-not": "A handicapper bars devices.",
    "other-club": "Its own club bars it.",
  } satisfies Readonly<Record<Exclude<BarringHere, "may" | "words">, string>>,

  lock: {
    title: { club: "The club's key", league: "The league's key" },
    never: "It is the key the record began with; it changes when a device is barred.",
    changed: (times: number, moment: string | null) =>
      `It has been changed ${times === 1 ? "once" : `${times} times`}${moment === null ? "" : `, the last time on ${moment}`}.`,
    settled: "Every device that is not barred has been handed it; a barred one has not.",
    moving: "This device is going over to the new key.",
    due: {
      "barred-inside":
        "A barred device still has this key. A handicapper's device changes it by itself, as soon as it is open.",
      "left-out":
        "There is a newer key that this device was not handed. A handicapper's device puts that right by itself; what is written meanwhile is not lost.",
    } satisfies Readonly<Record<EpochDue["type"], string>>,
    owed: (devices: number) =>
      `${count(devices, "device is", "devices are")} yet to be handed the new key: a handicapper's device sees to it when it is in step.`,
  },

  aside: {
    title: "Set aside",
    lead: "What a barred or copied device wrote after its last entry that counts. It is kept and counts for nothing until a handicapper counts it, entry by entry, under his own signature.",
    of: (device: string, entries: number) => `${device}: ${count(entries, "entry", "entries")}`,
    why: {
      "after-bar": "written after the bar",
      forked: "two different entries in one place",
    } satisfies Readonly<Record<SetAside["why"], string>>,
    at: (moment: string) => `by its clock ${moment}`,
    take: "Count it",
    taken: "An entry that was set aside counts now.",
    leave: "Leave it out",
    left: (entries: number) => `${count(entries, "entry", "entries")} left out here`,
    again: "Look at them again",
    cannot: "Cannot be counted as it is: write it anew if it is right.",
    mayNot: "A handicapper decides about these.",
  },
} as const;
