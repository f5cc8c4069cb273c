/** What people read about sharing: the connection, what waits, who may do what, this device's storage. */
import type { KnownEntry, PlayerId, Uncounted } from "@sward/core";
import { closeCodes, unreachable } from "@sward/core";
import type { Connection, WireFault } from "../../wire/connection.ts";
import { showDay } from "../dates.ts";
import type { OfficeHere } from "../permission.ts";
import { count, number } from "../words.ts";
import { matchWords } from "./match.ts";

export interface Told {
  readonly what: string;
  readonly why: string;
  readonly todo: string;
}

export const sharingWords = {
  title: "Sharing",
  lead: "Every device of the club keeps the whole record itself. The relay only passes sealed entries on; it cannot read them.",
  connection: "Connection",
  files: "Members, results and cards as files; results from a spreadsheet",
  workOffline: "Work offline",
  workOfflineHint: "Nothing is sent or fetched until you switch it off again. Everything else works as ever.",
  tryNow: "Try again now",

  books: "Records on this device",
  kind: { club: "The club's record", league: "A league's record" },
  unnamed: "on its way",
  entries: (entries: number) => `${count(entries, "entry", "entries")} held`,
  waiting: (waiting: number) =>
    waiting === 0
      ? "Everything is stored at the relay."
      : `${count(waiting, "entry is", "entries are")} only on this device so far, and waiting to be stored at the relay.`,
  mark: "Same record?",
  markHint:
    "Two devices hold the same record when these characters are the same on both. Compare them after both have been in step.",
  newest: "Newest entries",
  by: (device: string) => `by ${device}`,
  uncounted: "Entries that do not count",
  uncountedHint: "They are kept and passed on, and nobody's index depends on them.",

  devices: "Devices and what they may do",
  may: {
    root: "Everything, and admits and bars handicappers.",
    handicapper: "Enters matches, sets and signs off handicaps, settles questions, admits and bars devices.",
    recorder: "Enters matches, corrects its own, adds visitors.",
    reader: "Reads.",
    none: "Not admitted yet: reads what it has the keys for.",
    barred: "Nothing it writes counts any more.",
  } satisfies Readonly<Record<OfficeHere, string>>,
  mayHow:
    "A recorder's slip is put right by the same device or by a handicapper; nothing in the record is ever erased.",

  storage: "Storage on this device",
  persisted: "The browser has promised to keep the record until you clear it yourself.",
  notPersisted:
    "The browser may clear the record when it runs short of space. What is stored at the relay comes back by itself.",
  persist: "Ask the browser to keep it",
  refused: "The browser did not promise it. Installing the app, or opening it often, makes it more willing.",
  unknown: "This browser does not say whether it keeps the record.",
  used: (used: string, free: string) => `${used} used, about ${free} free.`,
  exportTitle: "A copy in a file",
  exportHint:
    "All signed entries of this record, each line checkable with nothing but the file. It holds no names. It is no use for reading; it is for keeping, and for moving to another device.",
  exportBook: (name: string) => `Save ${name} as a file`,
  takeFile: (name: string) => `Take in a file of ${name}`,
  takeHint:
    "From another device of this record, where no relay is between you. It is checked whole first; the same file again changes nothing.",
  taking: "Every signature in the file is being checked.",
  taken: (added: number, known: number) =>
    added === 0
      ? "Everything in the file was here already."
      : `${count(added, "entry", "entries")} taken in; ${known} were here already.`,
  exported: (entries: number) => `${count(entries, "entry", "entries")} written.`,
} as const;

/** How a connection stands: what, why, and what to do. */
export function connectionTold(connection: Connection): Told {
  switch (connection.type) {
    case "offline":
      return {
        what: "Offline, as you asked",
        why: "This device neither sends nor fetches. What you save is kept here.",
        todo: "Switch off “Work offline” when you want to share again.",
      };
    case "connecting":
      return connecting(connection.fault, connection.attempt);
    case "live":
      return connection.synced
        ? {
            what: "In step",
            why: "This device and the relay have the same entries, and new ones pass at once.",
            todo: "",
          }
        : { what: "Catching up", why: "Connected; entries are on their way.", todo: "Nothing to do." };
    case "refused":
      return refused(connection.code, connection.reason);
    case "closed":
      return { what: "Closed", why: "The record was closed on this page.", todo: "Reload the page to open it again." };
    default:
      return unreachable(connection);
  }
}

function connecting(fault: WireFault | null, attempt: number): Told {
  const again = "It tries again by itself, ever more seldom; what you save meanwhile is kept here and sent later.";
  if (fault === null) return { what: "Looking for the relay", why: "", todo: "" };
  const what = attempt > 1 ? `No relay yet, after ${attempt} tries` : "No relay yet";
  switch (fault.type) {
    case "unreachable":
      return { what, why: "The network or the relay does not answer.", todo: again };
    case "no-answer":
      return { what, why: `The relay took longer than ${Math.round(fault.after / 1000)} seconds.`, todo: again };
    case "http":
      return { what, why: `The relay answered with error ${fault.status}.`, todo: again };
    case "not-a-relay":
      return {
        what,
        why: "Something else answers at the relay's address, as the sign-in page of a public network does.",
        todo: `Sign in to the network, or use another. ${again}`,
      };
    case "closed":
      return { what, why: `The connection was cut (code ${fault.code}).`, todo: again };
    case "defect":
      return {
        what,
        why: `Something went wrong in the app: ${fault.cause}`,
        todo: "Reload the page. Nothing saved is lost.",
      };
    default:
      return unreachable(fault);
  }
}

function refused(code: number, reason: string): Told {
  const what = "The relay says no";
  const kept = "Nothing saved is lost: it is all on this device.";
  if (reason === "relay-has-another-name" || reason === "token-for-another-relay") {
    return {
      what,
      why: "It goes by another name than the address this page was opened with.",
      todo: `Open the app at the relay's own address. ${kept}`,
    };
  }
  if (reason === "protocol-version") {
    return {
      what,
      why: "The app and the relay are of different ages.",
      todo: `Reload the page for a newer app. ${kept}`,
    };
  }
  if (code === closeCodes.wrongToken) {
    return {
      what,
      why: "It does not take this device's key for the club's room. The club may have changed its keys.",
      todo: `Ask your handicapper for a new address and open it on this device. ${kept}`,
    };
  }
  if (code === closeCodes.noSuchRoom) {
    return { what, why: "It has no room of that name.", todo: `Ask whoever runs the relay. ${kept}` };
  }
  if (code === closeCodes.tooLong) {
    return {
      what,
      why: "Something this device sent is longer than it takes.",
      todo: `Ask whoever runs the relay. ${kept}`,
    };
  }
  return {
    what,
    why: `Code ${code}, ${reason}.`,
    todo: `Reload the page; if it stays, ask whoever runs the relay. ${kept}`,
  };
}

/** Why entries do not count, for a list with numbers. */
export const uncountedWords: Readonly<Record<Uncounted, string>> = {
  "not-understood": "written by a newer version of the app",
  "waiting-for-earlier": "an earlier entry of the same device has not arrived yet",
  forked: "the device wrote two different entries in one place",
  "after-bar": "written after the device was barred",
  "not-admitted": "the device is not admitted",
  "role-may-not": "the device may not write such an entry",
  "may-not-correct": "a correction by a device that may not make it",
  "wrong-book": "belongs to another record",
  "carried-copy-invalid": "a copy from another record that does not check",
  "cannot-be": "a match that cannot be",
  "second-opening": "a second opening of the record",
  "not-this-kind-of-book": "belongs to another kind of record",
};

/** What an entry says, in a line. */
export function entryTold(entry: KnownEntry, nameOf: (player: PlayerId) => string): string {
  switch (entry.kind) {
    case "book-opened":
      return `Record opened: ${entry.body.name}`;
    case "club-admitted":
      return `Club admitted: ${entry.body.name}`;
    case "device-admitted":
      return `A ${entry.body.role}'s device admitted`;
    case "device-barred":
      return "A device barred";
    case "rules-adopted":
      return `Rules adopted from ${showDay(entry.body.from)}: ${entry.body.rules}`;
    case "policy-set":
      return entry.body.unconfirmed === "counts" ? "One report is enough to count" : "A report waits for a second one";
    case "player-joined":
      return `${nameOf(entry.body.player)} joined as a ${entry.body.standing}`;
    case "player-left":
      return `${nameOf(entry.body.player)} left on ${showDay(entry.body.on)}`;
    case "player-linked":
      return `${nameOf(entry.body.player)} and ${nameOf(entry.body.to)} are one person`;
    case "event-opened":
      return `Event: ${entry.body.title}`;
    case "match-reported": {
      const corrected = entry.body.replaces === undefined ? "" : "Corrected: ";
      return `${corrected}${matchWords({ ...entry.body, excluded: entry.body.excluded === true }, nameOf)}`;
    }
    case "handicap-set":
      return `${nameOf(entry.body.player)}: handicap set to ${number(entry.body.handicap)} from ${showDay(entry.body.from)}`;
    case "card-signed":
      return `${nameOf(entry.body.player)}: card signed up to ${showDay(entry.body.upto)}`;
    case "ruling-made":
      return entry.body.accepts === null ? "Ruling: a match does not count" : "Ruling on a match";
    case "entry-withdrawn":
      return "Something taken back";
    case "entry-carried":
      return "An entry brought from another record";
    case "record-part":
      return "A part of a record from another club";
    case "record-taken":
      return `The record of ${nameOf(entry.body.player)} taken in from another club, cut over on ${showDay(entry.body.cutover)}`;
    case "fixture-set":
      return `Fixture on ${showDay(entry.body.date)}`;
    case "handicap-stated":
      return `${nameOf(entry.body.player)}: handicap ${number(entry.body.handicap)} stated, as of ${showDay(entry.body.on)}`;
    case "league-rules-set":
      return `The league's rules, from ${showDay(entry.body.from)}`;
    case "lineup-named":
      return "A team named for a fixture";
    case "fixture-marked":
      return `A fixture ${entry.body.as.replace("-", " ")}`;
    case "change-proposed":
      return `${nameOf(entry.body.player)}: handicap ${number(entry.body.handicap)} proposed`;
    case "change-answered":
      return entry.body.accepts ? "A proposed handicap agreed to" : "A proposed handicap declined";
    case "epoch-opened":
      return "The club's key changed";
    default:
      return unreachable(entry);
  }
}
