/** What people read about visitors, and about two entries that are one person. Fetched with those screens. */
import type { Day } from "@sward/core";
import { showDay } from "../dates.ts";
import { count, number } from "../words.ts";

export const visitorWords = {
  lead: (club: string | null) =>
    club === null ? "A visitor. Nobody has said from which club." : `A visitor from ${club}.`,
  card: "The home club keeps the card. Here are the games that were played against our members.",
  home: "Members",

  stated: {
    title: "Handicap",
    by: (club: string, handicap: number, on: Day, league: string) =>
      `${club} says handicap ${number(handicap)}, from ${showDay(on)} (${league}).`,
    seen: (handicap: number, on: Day) => `Last played here off ${number(handicap)}, on ${showDay(on)}.`,
    none: "No handicap is known here.",
    asOf: (met: string) => `As this device knows it. ${met}`,
  },

  games: {
    title: "Games here",
    none: "No game of this visitor is in the club's record.",
    day: "Day",
    who: "Players, and off what",
    score: "Score",
    told: "Told by",
    held: "two accounts disagree",
    void: "decided not to count",
    waiting: "waits for a second account",
  },

  told: {
    inLeague: (who: string, league: string) => `${who}, in the ${league}`,
    elsewhere: "another club's record",
    by: (who: readonly string[]) => `told by ${who.join("; and by ")}`,
  },

  links: {
    title: "Who this is",
    ownTitle: "One person, several entries",
    lead: "The home club knows this visitor under an entry of its own. Linked to it, games that both clubs wrote down are one game, and nothing is counted twice. A link can be undone at any time, and then everything is as before.",
    none: "Not linked to anybody yet.",
    own: "Games written down under another entry of the same person are on this card too. Undoing a link gives everything back as it was.",
    linked: (one: string, other: string, who: string, at: string) => `${one} is ${other}: linked by ${who}, ${at}.`,
    /** Where both entries have one name. */
    code: (id: string) => `entry ${id.slice(0, 4)}`,
    undo: "Undo this link",
    undoTitle: "Undo this link?",
    undoMeans: "An entry takes the link back; nothing that was written down is lost, and it can be linked again.",
    undoReason: "not the same person after all",
    undone: "The link is undone; everything is as it was before it.",
    mayNot: "Linking two entries of one person is for a handicapper's device.",

    candidates: "May be",
    candidate: (name: string, club: string | null) => (club === null ? name : `${name}, ${club}`),
    member: "a member of this club",
    visitor: "a visitor here too",
    league: (club: string | null) => (club === null ? "known in a league" : "known in a league of ours"),
    reasons: {
      same: "the same name",
      like: "a name that is like",
      sameClub: "the same club",
      otherClub: "another club",
      matches: (many: number) => `${count(many, "game")} that ${many === 1 ? "looks" : "look"} the same on both sides`,
    },
    look: "See what it would change",

    ways: "Somebody else",
    waysMore: "Another entry of the same person",
    typed: "A name",
    typedHint: "A member, a visitor, or somebody one of our leagues knows.",
    typedNone: "Nobody by these letters.",
    byCode: "The player's code",
    byCodeHint: "On the card at the home club, 27 letters and digits. Blanks, hyphens and small letters do not matter.",
    read: "Read the code",
    byFile: "The player's record, as a file",
    byFileHint:
      "As the home club or the player gave it. It is only read to see who it is; nothing of it is taken in here.",
    fileWhole: {
      what: "That is a whole book, and no one player's record.",
      why: "It has many players, and does not say which of them this visitor is.",
      todo: "Ask for the record of this player alone.",
    },
  },

  preview: {
    title: (visitor: string, name: string, club: string | null) =>
      `Is ${visitor === name ? "this visitor" : visitor} ${name}${club === null ? "" : ` of ${club}`}?`,
    unknown: "somebody this device has no name for",
    known: (code: string) => `Code ${code}`,
    working: "Working out what would change…",
    clubs: (entered: string, club: string) =>
      `Written down here as from ${entered}, and at home at ${club}. Are you sure it is one person?`,
    named: "The record names this very entry.",
    inCommon: (many: number) =>
      many === 0
        ? "No game in the record looks like one that was written down here, which proves nothing either way."
        : `${count(many, "game")} in the record ${many === 1 ? "looks" : "look"} like games that were written down here.`,
    from: (book: string) => `A record of ${book}.`,
    games: (many: number) => `${count(many, "match", "matches")} here would be this person's.`,
    becomeOne: (many: number) =>
      many === 1
        ? "This match was written down twice and becomes one:"
        : "These matches were written down twice and become one each:",
    becomeSeveral: (many: number) =>
      many === 1 ? "This match becomes two again:" : "These matches become several again:",
    noneOne: "No two matches become one.",
    held: "the two accounts disagree: it counts for nobody until one is corrected",
    cards: "Cards that change",
    player: "Card",
    before: "Now",
    after: "Then",
    says: (handicap: number, index: number, games: number) =>
      `handicap ${number(handicap)}, index ${number(index)}, ${count(games, "game")}`,
    noCard: "no card",
    noCards: "No card changes, and no index moves.",
    once: "Every game counts once, however often it was written down.",
    save: "Link them",
    saved: (visitor: string, name: string, club: string | null) =>
      `${visitor} is linked to ${name}${club === null ? "" : ` of ${club}`}.`,
  },

  code: {
    title: "The player's code",
    lead: "By this code another club links what it wrote down of this player to this card, without anybody's name being sent. It says who, and proves nothing.",
    label: (name: string) => `QR code of ${name}'s code`,
  },

  matters: {
    peopleTitle: "Visitors to look at",
    peopleLead:
      "Somebody may be in the record twice. Games written down under two entries are two games until they are linked.",
    mayBe: (visitor: string, club: string | null, name: string) =>
      club === null ? `${visitor} may be ${name}` : `${visitor} may be ${name} of ${club}`,
    why: (reasons: readonly string[]) => `For: ${reasons.join(", ")}.`,
    look: "Look at it",
    apart: "Not the same",
    apartMeans: "Not the same: not asked again on this device.",
    twoHomes: (name: string) => `${name} was written down with two home clubs`,
    twoHomesLead: "A player has one home club, which keeps the card. For now the first one here is taken.",
    unnamedClub: "a club nobody here can name",
    saidBy: (who: string, at: string) => `written by ${who}, ${at}`,
    counts: "taken for now",
    keep: (club: string) => `It is ${club}`,
    keepReason: "another home club is the right one",
    kept: (name: string, club: string) => `${name}'s home club is ${club}.`,
    mayNot: "Taking back what others wrote is for a handicapper of the club.",
  },
} as const;
