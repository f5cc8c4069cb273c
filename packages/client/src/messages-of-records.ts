/** The part of the table of sentences that is about record files, devices' folders and bringing one into the other. */
import type { LinkFault } from "@sward/core";
import type { TakeFault } from "./book/faults.ts";
import type { NamesFault } from "./cli/faults.ts";
import type { HomeFault } from "./desk/faults.ts";
import type { Message, Messages } from "./message.ts";
import type { ExportFault, RecordFault, SlipFault, TakingFault } from "./record/faults.ts";

export type FaultOfRecords =
  | RecordFault
  | ExportFault
  | TakingFault
  | SlipFault
  | HomeFault
  | NamesFault
  | Exclude<TakeFault, { readonly type: "not-saved" }>;

/** For whatever shows that a file is not the one that was written. */
const anotherCopy =
  "Ask for the file again, or take another copy; a record is sent as a file, not pasted into a letter.";

const changed = (what: string, why: string): Message => ({ what, why, todo: anotherCopy });

/** Why two players cannot be one. */
const whyNotOne: Readonly<Record<LinkFault["type"], string>> = {
  "link-self": "They are one already.",
  "link-unknown": "Nobody of that id is known here.",
  "link-circular": "Here the two are linked otherwise already.",
  "link-two-homes": "Each of the two has a home club, and not the same one.",
  "link-same-match": "The two played in one match, and nobody is there twice.",
};

/** What people call an entry, by its kind. */
const entryNames: Readonly<Record<string, string>> = {
  "match-reported": "a result",
  "handicap-set": "a handicap that was set",
  "card-signed": "a signature on a card",
  "device-admitted": "the admission of a device",
  "device-barred": "the bar of a device",
  "book-opened": "the opening of the book",
  "rules-adopted": "the adoption of rules",
  "entry-withdrawn": "something taken back",
  "ruling-made": "a ruling",
  "entry-carried": "a result from another book",
};

const entries = (count: number): string => (count === 1 ? "1 entry" : `${count} entries`);

export const messagesOfRecords: Messages<FaultOfRecords> = {
  "record-empty": () => changed("The file is empty.", "A record has at least a first line that says what it holds."),
  "record-blank-line": ({ line }) =>
    changed(`Line ${line} is blank.`, "In a record every line is an entry, and somebody or something has put one in."),
  "record-not-json": ({ line }) =>
    changed(
      `Line ${line} is not one JSON string.`,
      "Each line of a record is one signed entry between quotation marks; this one was broken, or the file is something else.",
    ),
  "record-not-jws": ({ line }) =>
    changed(
      `Line ${line} is not a signed entry.`,
      "It does not have the form of a compact JWS with an Ed25519 signature.",
    ),
  "record-not-entry": ({ line, path }) =>
    changed(
      `Line ${line} is not an entry of a book${path === "" ? "" : ` (${path})`}.`,
      "It is signed, but what it says is not something a book can hold.",
    ),
  "record-not-canonical": ({ line }) =>
    changed(
      `Line ${line} is not written as entries are.`,
      "There is one way to write an entry down; a program has written this line anew, or its end was changed.",
    ),
  "record-too-long": ({ line, length }) => changed(`Line ${line} has ${length} characters.`, "No entry is that long."),
  "record-manifest-missing": () =>
    changed(
      "Line 1 does not say what the record holds.",
      "The first line of a record is signed by the device that wrote it; here it is missing, or this is not a record.",
    ),
  "record-manifest-bad": ({ path }) =>
    changed(
      `Line 1 does not say properly what the record holds${path === "" ? "" : ` (${path})`}.`,
      "It has been altered, or a program that is not Sward wrote it.",
    ),
  "record-manifest-forged": () =>
    changed(
      "Line 1 has been altered: its signature does not hold.",
      "What it says of the record is not what the device that wrote it signed.",
    ),
  "record-version": ({ v }) => ({
    what: `Line 1 says that this is a record of version ${v}.`,
    why: "This version of Sward reads version 1.",
    todo: "Use a newer version of Sward.",
  }),
  "record-other-book": ({ line, book, of }) =>
    changed(`Line ${line} is an entry of another book, ${book}.`, `The record is of the book ${of}.`),
  "record-twice": ({ line, first }) =>
    changed(`Line ${line} is the same entry as line ${first}.`, "A record has each entry once."),
  "record-truncated": ({ line, expected, found, missing }) =>
    changed(
      `The file breaks off after line ${line}: ${missing === 1 ? "1 entry is" : `${missing} entries are`} missing.`,
      `The record was written with ${entries(expected)}, and ${found} ${found === 1 ? "is" : "are"} here.`,
    ),
  "record-too-many": ({ line, expected, found }) =>
    changed(
      `Line ${line} and what follows do not belong to the record.`,
      `It was written with ${entries(expected)}, and ${found} are here.`,
    ),
  "record-unended": ({ line }) =>
    changed(
      `Something stands behind the end of the record, in line ${line}.`,
      "It was not there when the record was signed.",
    ),
  "record-key-unknown": ({ line, key }) =>
    changed(
      `Line ${line} is signed with a key that nothing in the file names (${key}).`,
      "A signature is checked with the key that an admission names, up to the root of the book; without that nobody can tell who signed.",
    ),
  "record-forged": ({ line, key, kind }) =>
    changed(
      `Line ${line} has been altered: its signature does not hold.`,
      `It gives itself out as ${entryNames[kind] ?? "an entry"}, and is not what its signer (${key}) signed.`,
    ),
  "record-digest": () =>
    changed(
      "The entries are genuine, but they are not those the record was written with.",
      "At least one was put in the place of another; line 1 was signed over other ones.",
    ),
  "record-no-opening": ({ book }) =>
    changed(
      "The record does not have the opening of its book.",
      `Who may sign in the book ${book} follows from the entry with which its root key opened it.`,
    ),
  "taking-into-league": () => ({
    what: "A player's record is not taken into a league's book.",
    why: "Cards are kept by clubs; a league reads what the home club states.",
    todo: "Take it into the club's book.",
  }),
  "taking-own-book": () => ({
    what: "This is a record of this very club.",
    why: "A player comes from another club; what is missing of one's own book is brought in otherwise.",
    todo: "Use `sward import`, or let the device meet the club's others.",
  }),
  "taking-whole-book": ({ name }) => ({
    what: `This is the whole book of ${name}, not one player's record.`,
    why: "A club takes in what is about the player who comes, and nothing of anybody else.",
    todo: "Ask the old club, or the player, for the player's record alone.",
  }),
  "taking-of-league": ({ name }) => ({
    what: `This is a record of ${name}, which is a league.`,
    why: "A league keeps no cards; the card is the home club's.",
    todo: "Ask the player's club for the record.",
  }),
  "taking-nobody": ({ player }) => ({
    what: `There is no player ${player} in this book.`,
    why: "The record can be joined only to somebody who is known here.",
    todo: "Choose the player from the list, or leave it out: who comes with a record becomes a member.",
  }),
  "taking-other-player": ({ player, as, why }) => ({
    what: `The record is of another player (${player}) than the one it was to be joined to (${as}).`,
    why: whyNotOne[why.type],
    todo: "Choose the right player, or undo a wrong link first. Nothing was changed.",
  }),
  "taking-entry-too-long": ({ entry }) => ({
    what: `The entry ${entry} of the record is too long to be taken in.`,
    why: "An entry is kept inside another one here, and that one has a limit too.",
    todo: "Tell the old club; results can still be brought one by one.",
  }),
  "taking-too-long": ({ parts, most }) => ({
    what: `The record needs ${parts} parts, and ${most} is the most.`,
    why: "One entry names all parts of a record.",
    todo: "Ask the old club for a record written anew by a device that has all of its book.",
  }),
  "slip-nothing": () => ({
    what: "There is no result for a slip.",
    why: "A slip holds results that were written in this very record; what was carried here goes on from where it was written.",
    todo: "Choose a player and days with games played here.",
  }),
  "slip-into-league": () => ({
    what: "A slip is not taken into a league's book.",
    why: "It goes to the home club of a player, whose card it moves.",
    todo: "Take it into the club's book.",
  }),
  "slip-own-book": () => ({
    what: "This slip was written by this very club.",
    why: "Its results are here already.",
    todo: "Give it to the players' home club.",
  }),
  "slip-unconfirmed": ({ reports }) => ({
    what: `${reports === 1 ? "The result in the slip does" : `The ${reports} results in the slip do`} not count where written.`,
    why: "Who signed was not allowed to there, or was barred before.",
    todo: "Ask the other club for a slip from a device that is admitted.",
  }),
  "slip-nobody": ({ name }) => ({
    what: "Nobody of this club is in the slip.",
    why: `${name} knows its players under ids of its own, and no link says who they are here.`,
    todo: "Say which of the slip's players is which member.",
  }),
  "slip-other-player": ({ player, is, why }) => ({
    what: `The player ${player} of the slip cannot be ${is}.`,
    why: whyNotOne[why.type],
    todo: "Choose the right member. Nothing was changed.",
  }),
  "export-no-opening": () => ({
    what: "This device does not have its book's opening yet.",
    why: "Without it nobody could check who was allowed to sign what.",
    todo: "Let the device meet the club's other devices, or import a record, and try again.",
  }),
  "export-unknown-player": ({ player }) => ({
    what: `There is no player ${player} in this book.`,
    why: "A player's record is written for somebody who has joined as a member or a visitor.",
    todo: "`sward replay --home` with this folder lists the players' ids.",
  }),
  "export-device-unknown": ({ device }) => ({
    what: "This device is not admitted to the book yet.",
    why: `No entry of the book names its key (${device}), so nobody could check what it signs.`,
    todo: "Have a handicapper admit the device, let it meet the club's others, and try again.",
  }),
  "home-not-read": ({ folder, cause }) => ({
    what: `${folder} could not be opened as a device's folder.`,
    why: cause,
    todo: "Check the name: a device's folder has the file pass.json in it.",
  }),
  "home-not-a-pass": ({ folder }) => ({
    what: `The file pass.json in ${folder} is not a device's pass.`,
    why: "It has been altered, or something else has that name.",
    todo: "Put the device's pass back, or choose another folder.",
  }),
  "home-not-written": ({ folder, cause }) => ({
    what: `The device's pass could not be written into ${folder}.`,
    why: cause,
    todo: "Choose a folder you may write in, on a disk that has space.",
  }),
  "home-taken": ({ folder }) => ({
    what: `${folder} belongs to another device.`,
    why: "A folder is one device's for good: what that device wrote can be gone on with only by itself.",
    todo: "Choose an empty folder.",
  }),
  "home-in-use": ({ folder }) => ({
    what: `${folder} is open in another program.`,
    why: "Only one program at a time may write for a device.",
    todo: "Close the other one and try again.",
  }),
  "home-no-such-book": ({ folder, book, books }) => ({
    what: `The device in ${folder} has no book ${book}.`,
    why: `It has ${books.join(", ")}.`,
    todo: "Give one of these, or leave the option out for the club's book.",
  }),
  "entries-not-taken": ({ refused, of }) => ({
    what: `${refused} of ${entries(of)} could not be taken into the book.`,
    why: "They are not entries of this book, or are not signed by who they say. None was taken, and the book is as it was.",
    todo: anotherCopy,
  }),
  "names-heading": ({ found }) => ({
    what: "The heading of the file of names has no columns id and name.",
    why: `Line 1 reads: ${found.join(", ")}.`,
    todo: "The heading must be id,name.",
  }),
  "names-value": ({ line, column, given }) => ({
    what:
      given === ""
        ? `Line ${line}, ${column}: nothing is there.`
        : `Line ${line}, ${column}: "${given}" cannot be read.`,
    why:
      column === "id"
        ? "The column holds a player's id, 22 letters and digits."
        : "The column holds the player's name.",
    todo: "Correct the value.",
  }),
};
