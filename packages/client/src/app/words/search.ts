/** What people read when they look for something, and on the map of keys. */
import type { ThingKind } from "../search/find.ts";
import { number } from "../words.ts";

export const searchWords = {
  button: "Find",
  title: "Find",
  label: "A name, an event, a match, or what you want to do",
  hint: "A few letters of each word are enough.",
  results: "Found",
  found: (many: number) => (many === 1 ? "1 found" : `${many} found`),
  nothing: (typed: string) => `Nothing here begins like “${typed}”.`,
  nothingMore:
    "Members, visitors, events, fixtures, screens and commands are found by the beginnings of their words, in any order. Games are found on the card of whoever played them.",
  kinds: {
    member: "member",
    screen: "screen",
    command: "do",
    visitor: "visitor",
    event: "event",
    fixture: "fixture",
    left: "has left",
  } satisfies Record<ThingKind, string>,

  /** Further words a screen is looked for by. */
  also: {
    attention: "attention first sign off disputes questions home",
    members: "handicaps cards list visitors people",
    entry: "result match score afternoon report game",
    league: "fixtures clubs",
    joinLeague: "enter code club",
    strokes: "extra pairing doubles",
    sharing: "sync relay devices storage connection export backup",
    check: "audit winter sign",
    lawn: "lawn tokens hoops game",
    review: "statistics fairness improvers year",
    files: "import export csv json spreadsheet paste results",
    tables: "rules trigger points exchange starting sources",
    moving: "transfer record club change",
    proposals: "handicap change answer accept decline",
    print: "paper notice board",
    printHandicaps: "print notice board members",
    printWall: "print extra strokes",
    printReport: "print year committee counts",
    printMatch: "print blank sheet league",
  },

  member: (handicap: number | null) => (handicap === null ? "no handicap yet" : `handicap ${number(handicap)}`),
  visitor: (home: string | null) => home ?? "club not known",
  left: "card kept as it was",
  fixtureAlso: "league match",

  commands: {
    add: { title: "Add a member or a visitor", also: "new join newcomer three rounds" },
    undo: { title: "Undo what was saved last", also: "take back withdraw" },
    offline: { title: "Work offline", also: "signal pause" },
    online: { title: "Share again", also: "online signal resume work" },
    print: { title: "Print this page", also: "paper" },
    keys: { title: "Keys", also: "keyboard shortcuts map help" },
    devices: { title: "Other devices in this browser", also: "switch passes" },
  },

  keys: {
    title: "Keys",
    everywhere: "Everywhere",
    here: "On this page",
    fields: "In a form or a question",
    find: "finds anything",
    map: "shows these keys",
    enter: "saves",
    esc: "backs out",
    tab: "goes on to the next field, with Shift back",
    goTo: (screen: string) => `goes to ${screen}`,
    afterwards: "then",
    single: "Single keys work on this device",
    singleHint:
      "Switch them off if you dictate, or if they are set off by a slip. Everything can be reached without them.",
  },

  event: {
    notHere: "No event with this address is in the records on this device.",
    lead: (from: string, to: string, occasion: string) =>
      from === to ? `${from}, ${occasion}.` : `${from} to ${to}, ${occasion}.`,
    none: "No match of it has been entered yet.",
    matches: "Matches",
    disputed: "told in two ways",
    columns: { day: "Day", players: "Players", score: "Score" },
  },
} as const;
