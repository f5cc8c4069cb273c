/** What people read where a person's data are taken out or erased. */
import type { Day } from "@sward/core";
import type { ErasureReason } from "../../book/roster.ts";
import { showDay } from "../dates.ts";
import { count } from "../words.ts";

export const personWords = {
  title: "Personal data",
  lead: "What the club keeps of this person, to hand over or to erase. Names are kept apart from the record of games, which has none.",
  out: "Everything about this person, as a file",
  outHint:
    "A page to read and print, with the same as data for a program inside it. Other people in it go by their short names.",
  outDone: "The file is with your browser's downloads.",
  fileName: (on: Day) => `about-one-person-${on}.html`,
  erase: "Erase the name",
  mayNotErase: "Only a handicapper's device erases a name.",
  nothing: "There is no name to erase.",
  erased: (on: string, by: string, why: ErasureReason) =>
    `The name was erased on ${on} by ${by}: ${personWords.reasons[why].toLowerCase()}. It cannot be brought back. The games stay in the record under “Player withdrawn”.`,
  reasons: {
    asked: "The person asked for it",
    "no-longer-needed": "The club no longer needs it",
    "entered-wrongly": "It was entered by mistake",
  } satisfies Readonly<Record<ErasureReason, string>>,

  dialog: {
    title: (name: string) => `Erase the name of ${name}`,
    never: "This cannot be taken back, by anybody. There is no undo.",
    does: [
      "Every device of the club erases the name from its own storage when it next meets the relay; the relay erases it too. A device that has been away for months erases it when it comes back.",
      "All games stay, under “Player withdrawn”. Nobody's handicap or index changes.",
      "The name can never be written under this player again. Somebody who comes back later joins as a new player.",
    ],
    cannot: "What it does not reach",
    cannotList: [
      "Paper, photographs, and files that were saved or sent before, such as lists, prints and results.",
      "Other clubs' own records, where this person is their visitor. Tell them.",
      "Devices that never meet the relay again, and copies of a device made before. A barred device keeps what it had.",
      "Words that were typed into the record itself: reasons, and names of clubs. They are signed and stay.",
    ],
    typed: "These words in the record name the person, and stay:",
    member: "This person is still a member here. Mark the person as having left as well, if that is so.",
    devices: "Devices in the person's name",
    devicesHint: "Their names are erased as well. Erasing does not bar them.",
    reason: "Why",
    reasonMissing: "Choose why: it is kept with the day and with who did it.",
    confirm: (name: string) => `To erase, type the name: ${name}`,
    confirmMissing: "That is not the name as it is written above.",
    save: "Erase for good",
    done: "The name is erased. It cannot be brought back.",
    left: (books: number) =>
      `${count(books, "league has", "leagues have")} it still: this device is no handicapper's there. Ask one of the league's to erase it as well.`,
  },

  page: {
    title: "What is kept about one person",
    intro: (on: Day) =>
      `Taken out on ${showDay(on)} from one device of the club. It holds what that device knows: the club's record and those of its leagues.`,
    contact: "Contact details: none are kept in these records.",
    record: (name: string, as: string | null) => `${as === "league" ? "League" : "Club"}: ${name}`,
    names: "Names",
    short: "Short name",
    junior: "Under eighteen",
    yes: "yes",
    no: "no",
    erased: "Erased",
    standing: "Standing",
    home: "Home club",
    card: "Handicap card",
    now: (handicap: number, index: number) => `Handicap ${handicap}, index ${index}.`,
    date: "Date",
    line: "Line",
    index: "Index",
    handicap: "Handicap",
    signatures: "Signatures",
    signature: (by: string, at: string, upto: Day, standing: string) =>
      `Up to ${showDay(upto)}, signed by ${by} on ${at} (${standing}).`,
    stated: (handicap: number, index: number, on: Day, by: string) =>
      `Stated to the league on ${showDay(on)}: handicap ${handicap}, index ${index}, by ${by}.`,
    matches: "Matches and who reported them",
    sides: "Who",
    score: "Score",
    status: "Standing of the match",
    reports: "Reports",
    devices: "Devices in the person's name",
    device: (name: string, role: string, barred: boolean, by: string, entries: number) =>
      `${name}: ${role}${barred ? ", barred" : ""}; admitted by ${by}; ${count(entries, "entry", "entries")} written.`,
    invitations: "Invitations hold no names; a device is named when it is admitted.",
    entries: "Every entry that names the person",
    entriesHint: "As it was signed. Entries name players by random numbers; this person's are listed above.",
    kind: "Kind",
    at: "Signed at",
    by: "By",
    counts: "Counts",
    says: "What it says",
    note: "A note of the committee, kept on this device only",
    none: "None.",
    data: "The same for a program (JSON), with the signatures",
  },
} as const;
