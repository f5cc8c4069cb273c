/** What people read where a league's rules are shown and set. */
import type { Bonus, LeagueRules, Measure, SlotRule } from "@sward/core";
import { showDay } from "../dates.ts";

export const rulesFormWords = {
  title: "League rules",
  none: {
    title: "This league has no rules yet",
    secretary:
      "Begin with the rule file nearest to your league's regulations, and change what is different. Everything below is worked out from it: fixtures, match sheets, the table.",
    others: "The league's secretary sets them; every club then reads the same rules here, with or without a signal.",
  },
  inForce: (from: string) => `In force from ${showDay(from)}.`,
  later: (title: string, from: string) => `From ${showDay(from)}: ${title}.`,
  earlier: (title: string, from: string) => `From ${showDay(from)}: ${title}.`,
  others: "Of other seasons",
  unreadable: "Some rules in the record cannot be read by this version of the app. Load the newest version.",
  modelledOn: "Modelled on",
  modelledHint: "The facts of these rules are theirs, the wording is ours. The league's committee always prevails.",
  gaps: "Where those say nothing, or could not be read, and these rules chose",
  print: "Print the rules",
  secretaryOnly: "Only the league's own devices set its rules.",

  set: "Set the league's rules",
  change: "Change the rules",
  begin: "Begin with",
  beginHint: "Each is modelled on published league regulations. Choosing one fills the form; nothing is saved yet.",
  present: (title: string) => `the rules as they are: ${title}`,
  preview: "What these rules say",
  details: "Change what is different",
  from: "In force from",
  fromHint:
    "Rules of a new day begin a new season, with a table of its own. To put these right within the season, keep its day.",
  fromMissing: "Say from which day.",
  save: "Set these rules",
  cancel: "Leave them as they are",
  saved: (title: string, from: string) => `Rules set from ${showDay(from)}: ${title}.`,

  fields: {
    title: "What these rules are called",
    meetings: "Every club meets every other",
    players: "Players in a team",
    order: "Order of a team",
    borrowed: "Players borrowed from other clubs",
    oneClub: "A player plays for one club in a season",
    reservesInFixture: "Reserves in one fixture",
    reservesInSeason: "Times one player may stand in",
    most: "Highest handicap",
    least: "Lowest handicap",
    totalAtLeast: "Handicaps of a team together at least",
    slots: "The matches of a fixture",
    score: (place: number) =>
      place === 1 ? "A fixture is won by more" : place === 2 ? "If those are level, by" : "Then by",
    forfeitWinner: "Conceded: points for the other club",
    forfeitLoser: "Conceded: points for the club that conceded",
    forfeitGames: "Conceded: games",
    gameForfeited: "A single game not played",
    some: "Rained off with some games played",
    none: "Rained off with none",
    oneReport: "Reported by one club alone",
    deadline: "Last day for all fixtures",
    reportWithin: "Days to report a fixture",
    tieBreak: (place: number) => (place === 1 ? "Clubs level on points: first by" : `Then by (${place})`),
  },
  hints: {
    none: "Empty for no limit.",
    slots:
      "One a line, home places first: “1 v 3, level, 13”, or for doubles “1+2 v 3+4, handicap, 13”. Add “best of 3” where more than one game is played.",
    deadline: "Month and day, such as 09-30. Empty for none.",
    reportWithin: "0 for the same day. Empty for no limit.",
  },
  /** As it is read back by the form. */
  slotLine: ({ home, away, play, format, bestOf }: SlotRule): string =>
    [`${home.join("+")} v ${away.join("+")}`, play, format, ...(bestOf === 1 ? [] : [`best of ${bestOf}`])].join(", "),
  points: {
    legend: "Points in the table",
    win: "A fixture won",
    draw: "drawn",
    loss: "lost",
    slot: "Each match won",
    game: "Each game won",
    drawnGame: "Each game drawn",
    hoop: "Each hoop",
  } satisfies Readonly<Record<keyof LeagueRules["points"] | "legend", string>>,
  bonus: {
    legend: "Bonus points",
    when: (at: number) => `Bonus ${at}`,
    none: "no bonus",
    count: "games",
    points: "points",
    whens: {
      "games-won-at-least": "for winning at least so many games",
      "lost-by-games-at-most": "for losing by at most so many games",
    } satisfies Readonly<Record<Bonus["when"], string>>,
  },
  choices: {
    meetings: { once: "once", "home-and-away": "twice, at home and away" },
    order: { "by-handicap": "by handicap, lowest first", any: "as the captain likes" },
    forfeitGames: { all: "all to the other club, to nothing", none: "none are counted" },
    gameForfeited: { counts: "counts as won", "does-not-count": "does not count" },
    some: { stands: "what was played stands", "even-games": "an even number counts", void: "counts for nothing" },
    none: { draw: "a draw", void: "counts for nothing" },
    oneReport: {
      counts: "counts at once",
      waits: "waits for the other club",
      "home-counts": "counts if the home club's",
    },
    measures: { slots: "matches", games: "games", hoops: "hoops" } satisfies Readonly<Record<Measure, string>>,
    nothing: "nothing more",
  },
  sections: {
    team: "The team",
    matches: "The matches",
    worth: "What they are worth",
    seldom: "Conceded, rain, reports",
    ties: "Clubs level on points",
  },
  wrongLine: (line: number, text: string) =>
    `Line ${line}, “${text}”, is not of the form “1 v 3, level, 13” or “1+2 v 3+4, handicap, 13”.`,
  wrong: {
    here: "This cannot be. Write a whole number in the range that makes sense here.",
    title: "Give the rules a name.",
    deadline: "Write month and day, such as 09-30.",
    slots: "One of the matches cannot be: games are to 7, 13 or 19 points, and the best of 3 or 5.",
  },
} as const;
