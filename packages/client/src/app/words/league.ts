/** What people read about league matches. */
import type { FactName, Fixture, KeyId, MatchFacts, PlayerId } from "@sward/core";
import { showDay } from "../dates.ts";
import type { ClubReport, SlotStatus, Tally } from "../league/slots.ts";
import { count, number } from "../words.ts";
import { scoreWords } from "./match.ts";
import { occasionWords, playWords } from "./play.ts";

export const leagueWords = {
  title: "League",
  titleMany: "Leagues",
  empty: {
    title: "This device is in no league",
    body: "In a league, clubs report their matches to one another; fixtures, both clubs' reports and the table are then shown here, with or without a signal. Your club comes in by a code that its handicapper shows the league's secretary; after that every device of the club by one that it shows its own handicapper.",
    join: "Join a league",
    start: "Are you to be a league's secretary? A league is started at the front page, beside your other devices.",
    toFront: "To the front page",
  },
  joinAnother: "Join another league",
  onItsWay: "The league's record is on its way. It opens by itself as soon as it is here.",
  noFixtures: "The league has set no fixtures yet.",
  ours: "Our fixtures",
  others: "Other clubs' fixtures",
  back: "All fixtures",
  notFound: "There is no such fixture on this device. It may still be on its way.",
  links: { table: "Table", fixtures: "All fixtures", statements: "Handicaps stated", rules: "Rules", clubs: "Clubs" },
  noSuchLeague: "This device has no keys of such a league. The address may be another device's.",
  backToLeagues: "All leagues of this device",
  versus: (home: string, away: string) => `${home} v ${away}`,
  clubUnknown: (key: KeyId) => `a club not named (${key.slice(0, 4)})`,
  theLeague: "the league",
  us: "us",

  status: (status: SlotStatus, own: KeyId | null, nameOf: (club: KeyId) => string): string => {
    switch (status.type) {
      case "not-reported":
        return "not reported";
      case "one-club":
        if (status.club === null) return "reported by the league only";
        return `reported by ${status.club === own ? "us" : nameOf(status.club)} only`;
      case "agreed":
        return "agreed";
      case "differs":
        return "differs: held";
      case "ruled":
        return "ruled on";
      case "void":
        return "does not count, by ruling";
    }
  },
  counted: (matches: number, words: string) => `${matches} ${words}`,
  tally: ({ home, away, open }: Tally, homeName: string, awayName: string): string =>
    `${homeName} ${home}, ${awayName} ${away}${open === 0 ? "" : `; ${count(open, "match", "matches")} open`}`,

  slot: (number: number) => `Match ${number}`,
  slotKind: ({ discipline, play, format }: Fixture["slots"][number]) =>
    `${discipline === "singles" ? "Singles" : "Doubles"}, ${playWords[play]}, ${format} points`,
  held: "The two reports say different things. Until they agree, or the league rules, the match is held: it counts in no table and moves no index.",
  waits: "It counts once the other club's report agrees.",
  counts: "It counts; the other club has not confirmed it yet.",

  report: (slot: number) => `Report match ${slot}`,
  correct: "Correct our report",
  theirsIsRight: "Theirs is right",
  agree: "We agree",
  disagree: "We have it differently",
  cancel: "Leave it",
  save: (slot: number) => `Save match ${slot}`,
  saved: (slot: number, sentence: string) => `Match ${slot}: ${sentence}`,
  copied: (slot: number, sentence: string) => `Match ${slot}, as the other club reports it: ${sentence}`,
  mayNotCorrect: (device: string) =>
    `Reported by ${device}. Only that device or a handicapper's device of our club can correct it.`,
  readsOnly: "This device can see the league's record but not write in it.",
  notOurs: "Only the two clubs of a fixture report its matches.",
  ahead: (day: string) => `To be played on ${showDay(day)}.`,

  date: "Played on",
  playerShort: (seat: 0 | 1, doubles: boolean) => (doubles && seat === 1 ? "Partner" : "Player"),
  player: (club: string, seat: 0 | 1, doubles: boolean) => `${club} ${doubles && seat === 1 ? "partner" : "player"}`,
  handicap: (club: string, seat: 0 | 1, doubles: boolean) =>
    `${club} ${doubles && seat === 1 ? "partner" : "player"}'s handicap`,
  choose: "Choose…",
  nobodyEntered: (club: string) => `${club} has entered nobody in the league yet.`,
  stated: (handicap: number, on: string, club: string) => `${club} states ${number(handicap)}, as of ${showDay(on)}.`,
  ownCard: (handicap: number, on: string) => `Our card says ${number(handicap)} on ${showDay(on)}.`,
  ownStated: (handicap: number, on: string) => `Stated to the league: ${number(handicap)} as of ${showDay(on)}.`,
  lastOff: (handicap: number, on: string) => `Last played off ${number(handicap)} on ${showDay(on)}; nothing stated.`,
  notStated: "No handicap is stated. Ask to see the card.",
  offDiffers: (handicap: number) => `Not the ${number(handicap)} that is known here; it stands as played off.`,

  whoReported: (reports: number) => (reports === 1 ? "The report" : "Both reports"),
  playerOff: (name: string, off: number) => `${name} (${number(off)})`,
  reportBy: (club: string, device: string | null) => (device === null ? club : `${club}, ${device}`),
  factNames: {
    date: "Day",
    occasion: "Played as",
    play: "Play",
    format: "Length",
    sides: "Players and handicaps",
    games: "Hoops",
    excluded: "Counts",
  } satisfies Readonly<Record<FactName, string>>,
  differsHere: "differs",

  ruling: {
    title: (slot: number) => `Rule on match ${slot}`,
    which: "What counts",
    accept: (club: string) => `The report of ${club}`,
    none: "Neither: the match does not count",
    reason: "Reason",
    reasonHint: "Both clubs read it. As long as a sentence or two.",
    save: "Enter the ruling",
    noChoice: "Say which report counts.",
    noReason: "Give the reason.",
    saved: (slot: number) => `Match ${slot} ruled on.`,
    made: (device: string, reason: string) => `Ruling by ${device}: ${reason}`,
  },
} as const;

/** One fact of a report in words. */
export function factWords(fact: FactName, facts: MatchFacts, nameOf: (player: PlayerId) => string): string {
  switch (fact) {
    case "date":
      return showDay(facts.date);
    case "occasion":
      return occasionWords[facts.occasion];
    case "play":
      return playWords[facts.play];
    case "format":
      return `${facts.format} points`;
    case "sides":
      return facts.sides
        .map((side) => side.map(({ player, off }) => `${nameOf(player)} (${number(off)})`).join(" and "))
        .join(" v ");
    case "games":
      return scoreWords(facts.games);
    case "excluded":
      return facts.excluded ? "agreed beforehand not to count" : "counts";
  }
}

/** The facts shown: what every match has, and of the rest only what the reports differ in. */
export function factsShown(reports: readonly ClubReport[], differs: readonly FactName[]): readonly FactName[] {
  const always: readonly FactName[] = ["sides", "games", "date"];
  const excluded = reports.some(({ facts }) => facts.excluded) ? (["excluded"] as const) : [];
  return [...new Set<FactName>([...always, ...excluded, ...differs])];
}
