/** What people read on what is printed, and on the screens it is printed from. */
import type { Day } from "@sward/core";
import { showDay } from "../dates.ts";
import { count, number, words } from "../words.ts";

export const printWords = {
  preview: (name = "") => (name === "" ? "What is printed" : `What is printed: ${name}`),
  printed: (day: Day) => `Printed ${showDay(day)}`,
  nobody: "Nobody is on it.",

  index: {
    title: "Print",
    lead: "For the notice board, the lawn and the file. Everything is legible in black and white.",
    link: "All that can be printed",
    handicaps: "Everybody's handicap as of today, for the notice board.",
    wall: "Extra strokes for every pairing of the members, on one sheet or several.",
    tables: "Trigger points, index points, what counts, starting handicaps: with where each number was read.",
    cards: "Cards of members",
    cardsWhere: "Open a member's card: it prints flat, or as a card that folds, and its chart on a sheet of its own.",
    blank: "For a match inside the club or a friendly: line-ups, scores and captains by hand.",
    fixtures: "Match sheets of the league",
    fixturesWhere: "Open a fixture: its sheet has the line-ups, the handicaps as stated and the extra strokes.",
    report: "Games, members, changes of handicap and league matches of a year, in counts.",
  },

  wall: {
    title: "Wall chart",
    lead: "Extra strokes for every pairing of the members.",
    link: "Wall chart to print",
    sheetTitle: (format: number) => `Extra strokes in singles, ${words.points(format)}`,
    howTo:
      "Find yourself at the left, your opponent at the top. A bold number: you receive them. In brackets: you give them.",
    length: "Length of game",
    columns: "At the top",
    byMembers: "the same members",
    byHandicaps: "every handicap",
    own: "You",
    hcp: "Hcp",
    who: (on: number, all: number) =>
      on === all ? `Everybody is on it (${all})` : `${on} of ${all} members are on it`,
    everybody: "Everybody",
    nobodyYet: "Nobody yet",
    sheets: (on: number, all: number, sheets: number) =>
      on === 0
        ? "Nobody is on it: choose some members above."
        : `${on === all ? "All members" : `${on} of ${all} members`} on ${count(sheets, "sheet")} of A4, lying down.`,
    sheet: (at: number, all: number) => `Sheet ${at} of ${all}.`,
    cells: { gives: (extra: number) => `(${extra})`, none: "–", unknown: "?", self: "■" },
    nobody: {
      title: "Not enough handicaps yet",
      body: "As soon as two members have a starting handicap, they are here.",
    },
  },

  list: {
    title: "Handicap list",
    lead: "For the notice board. Members under eighteen are on it by their short names.",
    link: "Handicap list to print",
    sheetTitle: "Handicaps",
    asOf: (day: string) => `As of ${day}`,
    order: "In order of",
    byName: "name",
    byHandicap: "handicap",
    name: "Name",
    since: "In force since",
    becomes: (to: number, after: string) => `${number(to)} after ${after}`,
    without: (many: number) => `${count(many, "member has", "members have")} no handicap yet and is not on it.`,
  },

  report: {
    title: "The year's report",
    lead: "Counts from the club's record, for the general meeting.",
    sheetTitle: (year: string) => `The year ${year}`,
    counts: (from: Day, until: Day) =>
      `Counts from the club's own record, from ${showDay(from)} to the day before ${showDay(until)}.`,
    year: "Year",
    begins: "A year begins in",
    games: "Games",
    matches: "Matches",
    gamesPlayed: "Games",
    singles: "Games of singles",
    doubles: "Games of doubles",
    play: (play: string) => `Games of ${play}`,
    open: "Matches that do not stand (held, waiting or void)",
    people: "People",
    members: "Members now",
    membersPlayed: "Members who played",
    started: "Cards begun this year",
    visitors: "Visitors who played here",
    occasions: "Games by what they were played for",
    months: "Games by month",
    month: (at: number): string => monthName(at),
    changes: "Changes of handicap",
    down: "Lower",
    up: "Higher",
    set: "Of all these, set by the handicapper",
    most: "Most games",
    none: "No game of this year is in the record.",
    changesList: "Every change of handicap",
    name: "Name",
    date: "Date",
    from: "From",
    to: "To",
    how: "How",
    bySetting: "set by the handicapper",
    byGames: "by games",
    rival: "Against",
    where: "Where",
    atHome: "home",
    away: "away",
    won: "Won",
    lost: "Lost",
    notDecided: "Open or drawn",
  },

  sheet: {
    title: "Match sheet",
    link: "Match sheet to print",
    blankTitle: "Blank match sheet",
    blankLead: "Everything is written in by hand.",
    blankLink: "Blank match sheet",
    writeIn: "Club or team, opponents, day and lawn:",
    slot: (at: number, kind: string) => `${at}. ${kind}`,
    lineUp: "Line-ups",
    lineUpLead:
      "Chosen here for the sheet only: nothing is entered, and nobody else sees it. Leave a place free to write it in by hand.",
    fromRecord: "As reported or named, or blank",
    byHand: "by hand",
    asOf: "Handicaps as known on the day given beside each.",
    player: "Player",
    extra: "Extra",
    game: (game: number) => `Game ${game}`,
    agreed: "Captain ✓",
    level: "level",
    noExtra: "–",
    askCard: "see card",
    toWorkOut: "Extra strokes: to be worked out when both sides are known.",
    tickOne: "The pair chooses before the game. Tick one:",
    from: {
      reported: (day: string) => `played off, ${day}`,
      named: (day: string) => `as named for ${day}`,
      card: (day: string) => `card, as of ${day}`,
      stated: (day: string) => `stated as of ${day}`,
      "last-played": (day: string) => `last played off, ${day}`,
    },
    club: "Club",
    won: "Matches won",
    captain: "Captain",
    date: "Date",
    singles: "Singles",
    doubles: "Doubles",
    play: "Play",
    length: "Length of game",
  },

  fold: {
    title: (name: string) => `${name}: a card that folds`,
    link: "Card to fold",
    lead: "A4 lying down, folded to A5: print both pages on one sheet, turned over on the short edge.",
    back: "How this card is read",
    howTo: [
      "H is handicap play, L level play. The own score stands first.",
      "The handicap goes down when the index reaches the next trigger point from below, up when it falls to one from above, and not before.",
    ],
    front: "Changes of handicap",
    inside: "Games",
    insideGoesOn: "Games, continued",
    triggers: "Trigger points",
    earlierChanges: (many: number) => `${count(many, "earlier change")} not on this sheet.`,
    earlierLines: (many: number) => `${count(many, "earlier line")} not on this card.`,
    signedBy: "Checked and signed",
    member: "Member",
    which: "On the card",
    outside: "front and back",
    pages: (first: number) => `pages ${first} and ${first + 1}`,
    sheets: (sheets: number) => (sheets === 1 ? "One sheet, two sides." : `${sheets} sheets, both sides of each.`),
  },

  chart: {
    title: (name: string) => `${name}: index over time`,
    link: "Chart to print",
    none: "There is nothing to draw yet.",
  },

  plan: {
    title: "How to use them",
    lead: "A plan as players are often taught it; no rule, and no source. The player decides.",
    plan: (who: string, many: number, format: number) =>
      `${who}, ${count(many, "extra stroke")} in ${words.points(format)}`,
    keep: "Few: keep them for the decisive later hoops.",
    spread: "Enough to spread: use them to attack from the start.",
    "every-hoop": "Many: one at almost every hoop.",
    hoops: (hoops: readonly number[]) => `For instance at ${hoops.length === 1 ? "hoop" : "hoops"} ${listed(hoops)}.`,
    unused: "Never carry one past the end: what is not used lapses.",
  },
} as const;

const month = new Intl.DateTimeFormat(undefined, { month: "long", timeZone: "UTC" });
/** @param at from 1 */
const monthName = (at: number): string => month.format(new Date(Date.UTC(2023, at - 1, 1)));

/** "3, 5 (two) and 7". */
function listed(hoops: readonly number[]): string {
  const many = new Map<number, number>();
  for (const hoop of hoops) many.set(hoop, (many.get(hoop) ?? 0) + 1);
  const parts = [...many].map(([hoop, times]) => (times === 1 ? String(hoop) : `${hoop} (${times})`));
  const last = parts.pop() ?? "";
  return parts.length === 0 ? last : `${parts.join(", ")} and ${last}`;
}
