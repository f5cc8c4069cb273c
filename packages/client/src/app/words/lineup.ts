/** What people read where a club names its team for a league match, and where teams are shown. */
import { showDay, showMoment } from "../dates.ts";
import { count, number } from "../words.ts";

export const lineupWords = {
  title: "Team",
  lead: (versus: string, day: string) => `${versus}, ${day}`,
  teams: "Teams",
  notNamed: "Not named yet.",
  namedBy: (by: string, at: string) => `Named by ${by}, ${showMoment(at)}.`,
  reserve: "reserve",
  off: (name: string, off: number) => `${name} (${number(off)})`,
  name: (club: string) => `Name ${club}'s team`,
  change: (club: string) => `Change ${club}'s team`,
  toFixture: "To the match",
  noRules: {
    title: "The league has no rules yet",
    body: "How many play in a team, and in which order, is in the league's rules. Its secretary sets them; they come here by themselves.",
  },
  nobodyEntered: {
    title: "Nobody plays for this club yet",
    body: "A team is named from the players that the club has entered in the league.",
    link: "Enter players",
  },
  notOurs: "A team is named by its own club, or by the league's officers.",
  readsOnly: "This device reads only. A recorder's or a handicapper's device names a team.",
  whose: "Which team",
  place: (at: number) => `Place ${at}`,
  player: (at: number) => `Place ${at}, player`,
  offLabel: (at: number) => `Place ${at}, handicap`,
  reserveLabel: (at: number) => `Place ${at} is a reserve`,
  empty: "nobody",
  option: (name: string, stated: number | null) => (stated === null ? name : `${name} (${number(stated)})`),
  stated: (handicap: number, by: string, on: string, at: string) =>
    `${number(handicap)} as of ${showDay(on)}: stated by ${by} on ${showMoment(at)}.`,
  noneStated: "Nobody has stated this player's handicap. Choose what is played off.",
  chooseOff: "choose",
  byHandicap: "In this league teams stand in the order of handicaps, the lowest first.",
  sort: "Put in order",
  warnings: "Worth a look before play",
  warningsLead: "None of this stops you: captains may have agreed otherwise. The league's secretary sees it too.",
  missing: (names: string) => `Choose a handicap: ${names}.`,
  nobodyChosen: "Choose the players.",
  save: "Name the team",
  saved: (club: string, players: number) => `${club}'s team is named: ${count(players, "player")}.`,
  changed: {
    title: (times: number) => `Named anew ${times === 1 ? "once" : `${times} times`}`,
    line: (by: string, at: string) => `${showMoment(at)}, ${by}`,
    came: (names: string) => `in: ${names}`,
    went: (names: string) => `out: ${names}`,
    onlyOrder: "the order or a handicap",
  },
} as const;
