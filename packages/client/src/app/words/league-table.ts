/** What people read of a league's table. */
import type { Earned, FixtureMark } from "@sward/core";
import { listed } from "../../league/explained.ts";
import { showDay, showMoment } from "../dates.ts";
import { count } from "../words.ts";

const markWords: Readonly<Record<FixtureMark["as"], string>> = {
  postponed: "Postponed",
  conceded: "Conceded",
  void: "Void",
  "rained-off": "Rained off",
};

const moved = ({ to }: Pick<FixtureMark, "to">): string => (to === null ? "" : ` to ${showDay(to)}`);

const ended = (reason: string): string => (/[.!?]$/.test(reason) ? reason : `${reason}.`);

export const tableWords = {
  title: "League table",
  lead: (league: string, rules: string) => `${league}: ${rules}`,
  asOf: (at: string | null, waiting: number) =>
    `${at === null ? "Nothing has been written yet." : `As of the last entry this device has: ${showMoment(at)}.`}${
      waiting === 0 ? "" : ` ${count(waiting, "entry", "entries")} from here not yet at the relay.`
    } Every club with the same entries has the same table.`,
  print: "Print the table",
  theLeague: "the league",

  noRules: {
    title: "No table yet",
    body: "A table needs the league's rules: what a win is worth, and how ties are told apart. The league's secretary sets them once, and every club has the table at once.",
    link: "The league's rules",
  },
  noClubs: {
    title: "No clubs yet",
    body: "The table begins with the clubs. The league's secretary admits them, each by its own key.",
    link: "The league's clubs",
  },

  caption: "Clubs in order of points, then of the rules' tie-breaks",
  columns: {
    place: "Place",
    club: "Club",
    played: "Played",
    won: "Won",
    drawn: "Drawn",
    lost: "Lost",
    points: "Points",
  },
  letters: { place: "", played: "P", won: "W", drawn: "D", lost: "L", points: "Pts" },
  place: (place: number, shared: boolean) => (shared ? `${place}=` : String(place)),
  forAgainst: (games: readonly [number, number], hoops: readonly [number, number]) =>
    `games ${games[0]}–${games[1]}, hoops ${hoops[0]}–${hoops[1]}`,

  why: {
    title: "Why it stands as it does",
    nothing: "No two clubs are level on points: nothing else had to be looked at.",
  },
  points: {
    title: "Where the points come from",
    for: {
      match: "Win, draw, loss",
      slot: "Matches",
      game: "Games",
      hoop: "Hoops",
      bonus: "Bonus",
      forfeit: "Conceded",
    } satisfies Readonly<Record<keyof Earned, string>>,
    total: "Together",
  },
  counted: {
    title: "What is counted",
    nothing: "No fixture is settled yet.",
  },
  leftOut: {
    title: "What is not counted, and why",
    nothing: "Every fixture whose day has come is counted.",
    ahead: (many: number) => `${count(many, "fixture")} still to come.`,
  },
  mark: (mark: Pick<FixtureMark, "as" | "to" | "reason">, said: string) =>
    `${markWords[mark.as]}${moved(mark)}, says ${said}: ${ended(mark.reason)}`,
  alsoSaid: (mark: Pick<FixtureMark, "as" | "to" | "reason">, said: string) =>
    `Also said, and not followed: ${markWords[mark.as].toLowerCase()}${moved(mark)}, by ${said}: ${ended(mark.reason)}`,
  openMatches: (numbers: readonly number[], reason: string) =>
    `${numbers.length === 1 ? "Match" : "Matches"} ${listed(numbers.map(String))}: ${reason}.`,
} as const;
