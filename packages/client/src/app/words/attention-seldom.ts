/** What people read on the first screen when they decide, or when something is wrong: fetched after the first view. */
import { count } from "../words.ts";

export const rulingWords = {
  title: "Which report counts?",
  none: "Neither: the match does not count",
  reason: "Reason",
  reasonHint: "Both sides can read it.",
  reasonMissing: "Write the reason: it is what an appeal would ask for.",
  choiceMissing: "Choose one.",
  save: "Let it count",
  done: "The match is decided.",
} as const;

export const rivalsWords = {
  title: "Two corrections of one entry",
  lead: "Made apart from each other; until one is taken back the first one here counts.",
  counts: "counts for now",
  keep: "Keep this one",
  keepReason: "another correction of the same entry is kept",
  done: "One correction stands, the others are taken back.",
  mayNot: "Taking the others back is for a handicapper of the club.",
} as const;

export const deviceWords = {
  usedElsewhere: {
    title: "This device's key is in use somewhere else",
    body: "An entry signed with its key arrived that was not written here. Until that is put right nothing can be saved here, for two places that write with one key spoil each other's entries. Close the other browser or folder, then reload this page. Ask a handicapper for an address of its own for each device.",
  },
  notMet: (waiting: number, days: number | null) =>
    `${count(waiting, "entry is", "entries are")} only on this device${
      days === null ? ", which has not met the relay yet" : `; the relay was last met ${count(days, "day")} ago`
    }`,
  notMetBody:
    "They are safe here and count here; nobody else has them yet. Go where there is a signal and open this page, or save the record as a file under Sharing and take it along.",
} as const;
