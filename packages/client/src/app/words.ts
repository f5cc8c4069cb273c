/**
 * What people read, in one place, so that it can be read as a whole and one day translated. Here what belongs to the shell and to
 * several screens; one screen's own words are in `words/<screen>.ts`. What is refused has its sentences in `../messages.ts`.
 */
import type { LineReason } from "@sward/core";
import type { Connection } from "../wire/connection.ts";

/** Negative numbers with the minus sign that type has for them, not the hyphen. */
export const number = (value: number): string => (value < 0 ? `−${-value}` : String(value));

/** Such as "+10", "−4" and "0". */
export const signed = (value: number): string => (value > 0 ? `+${value}` : number(value));

/** Read aloud, "minus 2" is clearer than a sign. */
export const spoken = (value: number): string => (value < 0 ? `minus ${-value}` : String(value));

export const count = (many: number, one: string, more = `${one}s`): string => `${many} ${many === 1 ? one : more}`;

export const words = {
  appName: "Sward",
  nameNotSaved: "The name could not be kept on this device.",
  nameUnknown: (code: string) => `Player not named (${code})`,
  nameErased: "Player withdrawn",
  deviceUnknown: (code: string) => `a device not named (${code})`,
  thisDevice: "this device",
  prevail: "The governing body's regulations and your club's committee always prevail over these numbers.",

  nav: {
    label: "Screens",
    attention: "To do",
    toDo: "to do",
    members: "Members",
    entry: "Enter",
    league: "League",
    strokes: "Strokes",
    sharing: "Sharing",
    skip: "Skip to the page",
    devices: "Other devices in this browser",
    find: "Find",
  },

  /** When the sentences themselves could not be fetched. */
  refusedUnsaid: {
    what: "It was not saved.",
    why: (fault: string) => `It was refused (${fault}), and the sentence that says why is not on this device.`,
    todo: "With a signal, try again; nothing has changed meanwhile.",
  },

  save: "Save",
  cancel: "Cancel",
  close: "Close",
  undo: "Undo",
  print: "Print",
  back: "Back",

  handicap: "Handicap",
  index: "Index",
  handicapSpoken: (value: number) => `handicap ${spoken(value)}`,

  connection: (connection: Connection): string => {
    switch (connection.type) {
      case "offline":
        return "Offline, as you asked";
      case "connecting":
        return connection.fault === null ? "Looking for the relay" : "No signal";
      case "live":
        return connection.synced ? "In step" : "Catching up";
      case "refused":
        return "Relay says no";
      case "closed":
        return "Closed";
    }
  },
  waiting: (entries: number) =>
    entries === 0 ? "" : `${count(entries, "entry", "entries")} saved here, not yet at the relay`,
  waitingShort: (entries: number) => `${entries} waiting`,
  lastMet: (moment: string | null) =>
    moment === null ? "This device has not met the relay yet." : `This device last met the relay on ${moment}.`,

  versus: "v",
  /** Partners, as on a score sheet. */
  pair: (names: readonly string[]) => names.join(" and "),
  points: (format: number) => `${format} points`,

  saved: {
    undone: (sentence: string) => `Undone: ${sentence}`,
    undoReason: "undone by the device that wrote it",
    undoMeans: "Saved here. Undo takes it back with an entry of its own; both stay in the record.",
  },

  office: {
    root: "the club's own key",
    handicapper: "a handicapper's device",
    recorder: "a recorder's device",
    reader: "a reader's device",
    none: "not admitted yet",
    barred: "barred",
  },

  notSecure: {
    title: "This address is not secure",
    body: "A browser gives an app its keys and its storage only at an address that begins with https, or on the machine itself (localhost). Ask whoever runs the relay for its https address.",
  },
  loading: "Opening the record on this device…",
  saving: "Saving on this device…",
  screenComing: "Fetching this screen…",
  screenMissing: {
    title: "This screen could not be fetched",
    body: "Its part of the app is not on this device, and could not be fetched just now. The record is not touched: everything saved is safe. Try again where there is a signal.",
    again: "Try again",
  },
  checking: (checked: number, total: number) =>
    `Checking signatures: ${checked} of the ${total} entries that have come so far`,
  waitingForRecord: {
    title: "The club's record is on its way",
    body: "This device has been given its keys and has not yet met the relay, or the club's record is still arriving. It opens by itself as soon as it is here; after that it also opens without a signal.",
  },
  behind: {
    title: "Nothing can be saved yet",
    body: "This device came with nothing of its own, and first reads all that the relay has. Until then games may be missing here, and handicaps be those of long ago; after it, it saves with or without a signal.",
  },
  failed: {
    title: "The record could not be opened",
    body: "Nothing was lost or changed. Reload the page; if it comes again, the browser may be short of space, or in a private window, which keeps nothing.",
    reload: "Reload the page",
  },
  crashed: {
    title: "This screen could not be shown",
    body: "That is a fault in the app, not in the record: what was saved is safe. Go to another screen, or reload the page.",
  },
  update: {
    title: "A new version of the app is ready",
    body: "It takes over when you say so. Finish what you are typing first.",
    load: "Load it now",
  },
  notFound: {
    title: "There is no such screen",
    body: "The address may have been cut short.",
    back: "Go to what needs attention",
  },
} as const;

/** Why a line of a card stands as it does. */
export const reasonWords: Readonly<Record<LineReason, string>> = {
  start: "starting handicap",
  discretionary: "set by the handicapper",
  transfer: "brought from another club",
  "handicap-singles": "handicap singles",
  "handicap-doubles": "handicap doubles",
  "level-singles": "level singles",
  "level-doubles": "level doubles",
  "doubles-do-not-count": "doubles do not move the index here",
  "occasion-does-not-count": "games of this kind do not count",
  "excluded-beforehand": "both sides agreed beforehand that it does not count",
  abandoned: "abandoned, so it does not count",
  walkover: "walkover, so it does not count",
  drawn: "drawn: no winner, no points",
  "table-not-readable": "the body's table for such games is not in the rules here: set the index by hand",
  "handicap-not-in-table": "a handicap in it is not in the table",
  "before-start": "played before the starting handicap",
};
