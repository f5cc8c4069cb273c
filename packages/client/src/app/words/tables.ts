/** What people read on the tables of the rules. */
import type { RuleSet, Standing } from "@sward/core";
import { showDay } from "../dates.ts";
import type { AdoptedSet, GameName } from "../tables/tables-model.ts";
import { count, number } from "../words.ts";
import { occasionWords } from "./play.ts";

export const tablesWords = {
  title: "Tables",
  lead: "The numbers this club plays under, row by row with where each was read.",
  link: "Trigger and exchange tables",
  print: "Print the tables",
  none: {
    title: "No rules are adopted yet",
    body: "The handicapper adopts a rule set for the club from a date on. Its tables are then shown here, to read and to print.",
  },
  unknown: {
    title: "These rules are not in this version of the app",
    body: (id: string) =>
      `The record names the rule set “${id}”. A newer version of the app may have it. Its games move no index here until then.`,
  },
  which: "Rules",
  adopted: ({ set, id, from, replacedOn, when }: AdoptedSet): string => {
    const title = set?.title ?? id;
    if (when === "ahead") return `${title}: from ${showDay(from)}, not yet`;
    return replacedOn === null
      ? `${title}: here since ${showDay(from)}`
      : `${title}: here from ${showDay(from)}, replaced on ${showDay(replacedOn)}`;
  },
  body: (body: string) => `Governing body: ${body}.`,
  notKnown: "See also what is not known, at the end.",

  handicap: "Handicap",
  standing: "Standing, source",
  standings: {
    published: "published",
    derived: "derived",
    "common practice": "common practice",
  } satisfies Record<Standing, string>,
  noSource: "(no source)",
  cited: (source: number) => `[${source}]`,
  restsStanding: "Standing",
  restsOn: "Read in",
  noneRead: "No source: a fact of the trade.",

  triggers: {
    title: "Trigger points",
    lead: "The handicap falls to a row's when the index reaches its trigger point from below, and rises to it when the index falls to it from above.",
    trigger: "Trigger point",
  },

  points: {
    title: "Index points of a game",
    lead: "The winner's index goes up by this, the loser's goes down by as much; in doubles each of a pair.",
    game: "Game",
    points: "Points",
    games: {
      handicapSingles: "Handicap singles",
      handicapDoubles: "Handicap doubles",
      levelSingles: "Level singles",
      levelDoubles: "Level doubles",
    } satisfies Record<GameName, string>,
  },

  exchange: {
    title: (game: GameName) => `${tablesWords.points.games[game]}: winner by loser`,
    lead: "Find the winner's handicap at the left and the loser's at the top.",
    corner: "Winner ↓ Loser →",
    winner: "winner",
    label: "Index points, winner by loser",
  },

  effective: {
    title: "When a change takes effect",
  },

  counting: {
    title: "What counts",
    occasion: "Played for",
    counts: "Moves the index",
    yes: "yes",
    no: "no",
  },

  strokes: {
    title: "Extra strokes in singles",
    difference: "Difference",
    points: (format: number) => `${format} points`,
    whole: "13 points: the difference of the two handicaps.",
    converted: (format: number, numerator: number, denominator: number) =>
      `${format} points: that times ${numerator}/${denominator}, halves up.`,
    doubles: "Doubles",
  },

  starting: {
    title: "Starting handicap",
    lead: "Three times round hoops 1 to 6 alone, all strokes of the three rounds added.",
    strokes: "Strokes",
    index: "Index",
    none: "These rules have no starting table that could be read.",
    range: (from: number, to: number | null) => (to === null ? `${from} or more` : `${from} to ${to}`),
  },

  older: {
    title: "A card of the scale before",
    handicap: "Handicap then",
    add: "Index",
    but: "But",
    range: (from: number, to: number) => (from === to ? number(from) : `${number(from)} to ${number(to)}`),
    plus: (add: number) => `+${add}`,
    unless: (handicap: number, index: number) => `handicap ${number(handicap)} from index ${number(index)}`,
  },

  gaps: {
    title: "Not known, or not as one might think",
  },
  sources: {
    title: "Sources",
  },
} as const;

/** The points of one kind of game in words. */
export function pointsRule(rule: RuleSet["exchange"][GameName]): string {
  switch (rule.kind) {
    case "fixed":
      return number(rule.points);
    case "none":
      return "none: does not move the index";
    case "unread":
      return "none here: the body's table could not be read";
    case "logistic":
      return `${rule.min} to ${rule.max}, by the two handicaps: table below`;
  }
}

/** How the numbers of a table by winner and loser are made. */
export function formulaWords({ exchange }: RuleSet, game: GameName): string {
  const rule = exchange[game];
  if (rule.kind !== "logistic") return "";
  const { sum, base, scale, min, max } = rule;
  return `Points = ${sum} / (1 + ${base}^(D/${scale})), halves up, from ${min} to ${max}. D is the winner's trigger point less the loser's.`;
}

export function effectWords({ effective: { unit, eventDays, wholeEvents } }: RuleSet): string {
  const back = "A trigger point passed and passed back within that time changes nothing.";
  switch (unit) {
    case "game":
      return "At once, after the game in which the trigger point was reached.";
    case "match":
      return `After the last game of the match. ${back}`;
    case "day":
      return `After the last game of the day. ${back}`;
    case "event": {
      const always =
        wholeEvents.length === 0 ? "" : `, or of any length when it is a ${wholeEvents.map(named).join(", ")}`;
      return `After the event, when it lasts at most ${count(eventDays, "day")}${always}; otherwise after the day. ${back}`;
    }
  }
}

const named = (occasion: keyof typeof occasionWords): string => occasionWords[occasion];

export function doublesWords({ strokes: { doubles } }: RuleSet): string {
  const pairs =
    doubles.pairing === "cross"
      ? "The lower handicap of each side is set against the higher of the other"
      : "Lower is set against lower and higher against higher";
  const halves =
    doubles.halves === "each"
      ? "every half rounds up"
      : "a half rounds up for one partner of a side only, and the pair chooses for whom";
  return `${pairs}; each receives half the difference, and ${halves}.`;
}
