/** What people read about a player who comes from another club, or leaves for one. Fetched with those screens. */
import type { BookState, Day } from "@sward/core";
import { showDay, showMoment } from "../dates.ts";
import { number } from "../words.ts";

type Role = NonNullable<ReturnType<BookState["devices"]["get"]>>["role"];

const lines = (count: number): string => (count === 1 ? "1 line" : `${count} lines`);
const entries = (count: number): string => (count === 1 ? "1 entry" : `${count} entries`);

const roles: Readonly<Record<Role, string>> = {
  root: "the club's own key",
  handicapper: "a handicapper's device",
  recorder: "a recorder's device",
  reader: "a device that only reads",
};

export const movingWords = {
  title: "A player from another club",
  lead: "The card goes on here where it stood there, line by line. The old club, or the player alone, brings the record as a file.",
  mayNot: "Taking a record in is for a handicapper's device.",
  file: "The player's record",
  fileHint: "A file written at the old club, on the player's card: “Leaves for another club”.",
  reading: "Every signature in the file is being checked.",

  found: {
    title: (club: string) => `The record from ${club}`,
    holds: (count: number) => `${entries(count)}. Every signature holds, and none is missing.`,
    by: (at: string, role: Role) => `Written at that club by ${roles[role]}, ${showMoment(at)}.`,
    byNobody: (at: string) =>
      `Written ${showMoment(at)} by a device that club has not admitted: nobody vouches that nothing was left out.`,
    card: (handicap: number, index: number, count: number) =>
      `Handicap ${number(handicap)}, index ${number(index)}, on a card of ${lines(count)}.`,
    noCard: "No card is in it: the old club has not set a handicap.",
    who: "Who signed it",
    code: (book: string) => `That club's own key begins ${book.slice(0, 10)}. Ask the club whether it does.`,
    columns: { who: "Device", role: "As", entries: "Entries", counted: "Count", how: "Known through" },
    device: (key: string) => key.slice(0, 10),
    role: (role: Role | null, barred: boolean) =>
      `${role === null ? "not admitted" : roles[role]}${barred ? ", barred since" : ""}`,
    root: "the club is named after it",
    nobody: "nobody admitted it",
    through: (by: string, line: number) => `${by.slice(0, 10)}, line ${line} of the file`,
  },

  form: {
    who: "Who is it here?",
    fresh: "Somebody new: becomes a member",
    same: (name: string) => `${name}: the record names this entry`,
    other: (name: string, standing: string) => `${name} (${standing})`,
    cutover: "From which day on is it this club's?",
    cutoverHint: "Games before that day are the old club's; from that day on this club's games and rules go on.",
    badDay: "Give a day.",
    take: "Take the record in",
  },

  done: {
    sentence: (name: string) => `The record of ${name} was taken in`,
    title: (name: string) => `${name} has come.`,
    again: "All of it was here already; nothing was changed.",
    same: (cutover: Day) => `Before ${showDay(cutover)} the card is the old club's, line by line.`,
    differs: (cutover: Day) =>
      `Before ${showDay(cutover)} the card has games that the record does not: this club's own, or ones a league brought. They stand on their day.`,
    toCard: "To the card",
  },

  past: {
    title: "From another club",
    from: (club: string, cutover: Day) =>
      `Lines before ${showDay(cutover)} are the record of ${club}; from that day on they are this club's.`,
    older: (club: string) => `A record of ${club} is here too; a later one is gone on from.`,
    waiting: "A record is here in part only. It counts when all of it has come.",
    taken: (at: string, by: string, count: number) => `Taken in ${at} by ${by}: ${entries(count)}.`,
    vouched: (key: string) => `Device ${key.slice(0, 10)} of the old club vouched that nothing was left out.`,
    unconfirmed:
      "Unconfirmed: that device was not admitted there, or was barred before something it wrote in the record.",
    signers: "Who signed it there",
    signer: (key: string, role: Role, counted: number, barred: boolean) =>
      `${key.slice(0, 10)}, ${roles[role]}: ${entries(counted)} that count${barred ? "; barred since, what came before stays" : ""}`,
    beyond: (count: number) =>
      `${entries(count)} unconfirmed: written by a device of the old club after it was barred there. They move nothing.`,
    again: "Take in a newer record",
  },

  leaving: {
    title: "Leaves for another club",
    lead: "The whole record goes along as a file that the new club can check by itself. It holds no names. This club keeps its copy.",
    on: "Last day here",
    left: "Write down that the player leaves, and give the record",
    only: "Only give the record",
    mayNot: "Writing down that somebody leaves is for a handicapper's device. The record can be given by any.",
    sentence: (name: string, on: Day) => `${name} left on ${showDay(on)}`,
    given: "The file was written. It can be written again at any time, and a newer one brings what came late.",
    fileName: (today: Day) => `player-record-${today}.jsonl`,
  },
} as const;
