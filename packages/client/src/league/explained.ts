/**
 * The league's table and the warnings about a team in sentences, for a screen, for paper and for the command line. Core gives the
 * comparisons as data; which words they take is decided here alone.
 *
 * API: `tableTold(table, nameOf)` one line for each comparison · `warningTold(warning, names)` · `outcomeTold(outcome, rules, nameOf)`.
 */
import type {
  FixtureStanding,
  KeyId,
  LeagueTable,
  Measure,
  Outcome,
  PlayerId,
  SlotOutcome,
  TableStep,
  TeamWarning,
} from "@sward/core";

export type ClubNameOf = (club: KeyId) => string;

const compared: Readonly<Record<TableStep["by"], string>> = {
  points: "points",
  "head-to-head-points": "points in the fixtures between them",
  "head-to-head-games": "games won less lost in the fixtures between them",
  "head-to-head-hoops": "hoops for less against in the fixtures between them",
  "matches-won": "fixtures won",
  "games-won": "games won",
  "games-difference": "games won less lost",
  "hoops-won": "hoops",
  "hoops-difference": "hoops for less against",
};

/** What a comparison is called in the middle of a sentence. */
export const comparedBy = (by: TableStep["by"]): string => compared[by];

/** "Ash, Birch and Cedar". */
export function listed(names: readonly string[]): string {
  const last = names.at(-1) ?? "";
  return names.length < 2 ? last : `${names.slice(0, -1).join(", ")} and ${last}`;
}

/** Why the table stands as it does, from the top down. The first comparison, by points, is the table itself. */
export function tableTold({ steps, level }: LeagueTable, nameOf: ClubNameOf): string[] {
  const told = steps.filter(({ by }) => by !== "points").map((step) => stepTold(step, nameOf));
  const shared = level.map(
    (group) => `${listed(group.map(nameOf))} share a place: nothing in the rules tells them apart.`,
  );
  return [...told, ...shared];
}

export function stepTold({ by, values, leaves }: TableStep, nameOf: ClubNameOf): string {
  const told = new Map(values.map(({ club, value }) => [club, value]));
  const groups = leaves.map((group) => {
    const [first] = group;
    const value = first === undefined ? 0 : (told.get(first) ?? 0);
    return `${listed(group.map(nameOf))} ${value}`;
  });
  const what = `${listed(leaves.flat().map(nameOf))} are level; by ${compared[by]}: ${groups.join(", ")}`;
  return leaves.length === 1 ? `${what}: still level.` : `${what}.`;
}

const standings: Readonly<Record<FixtureStanding, string>> = {
  "to-play": "to play",
  "in-play": "not all in",
  postponed: "postponed",
  played: "played",
  "rained-off": "rained off",
  conceded: "conceded",
  void: "void",
};

export const standingTold = (standing: FixtureStanding): string => standings[standing];

const slotStandings: Readonly<Record<SlotOutcome["standing"], string>> = {
  counts: "",
  "not-reported": "not reported",
  differs: "the two reports differ",
  "one-report": "waits for the other club's report",
  "ruled-void": "ruled not to count",
  "sides-unknown": "it cannot be told which side played for which club",
};

/** Why a match of a fixture does not count; empty when it does. */
export const slotTold = (standing: SlotOutcome["standing"]): string => slotStandings[standing];

const measured: Readonly<Record<Measure, string>> = { slots: "matches", games: "games", hoops: "hoops" };

/** What a fixture came to, such as "Ash beat Birch 11-7 in games". */
export function outcomeTold({ home, away, standing, tally, result, dropped }: Outcome, nameOf: ClubNameOf): string {
  const left =
    dropped === null ? "" : `; game ${dropped.game} of match ${dropped.slot} left out, for an even number counts`;
  if (result === null) {
    const soFar = score(tally.games);
    return `${nameOf(home)} v ${nameOf(away)}: ${standings[standing]}${soFar === "" ? "" : `, so far${soFar}`}${left}`;
  }
  if (result.winner === null) return `${nameOf(home)} and ${nameOf(away)} drew${score(result.tally.games)}${left}`;
  const [winner, loser] = result.winner === 0 ? [home, away] : [away, home];
  if (result.by === "forfeit") return `${nameOf(loser)} conceded to ${nameOf(winner)}`;
  const by = result.by ?? "games";
  const [own, other] = result.winner === 0 ? result.tally[by] : [result.tally[by][1], result.tally[by][0]];
  return `${nameOf(winner)} beat ${nameOf(loser)} ${own}-${other} in ${measured[by]}${left}`;
}

const score = ([own, other]: readonly [number, number]): string => (own + other === 0 ? "" : ` ${own}-${other}`);

export interface TeamNames {
  readonly player: (player: PlayerId) => string;
  readonly club: ClubNameOf;
  readonly day: (day: string) => string;
}

/** A warning before play. What it means for the match is the captains' and the league's to say. */
export function warningTold(warning: TeamWarning, { player, club, day }: TeamNames): string {
  switch (warning.about) {
    case "handicap-above":
      return `${player(warning.player)} has handicap ${warning.off}; the league's limit is ${warning.most}.`;
    case "handicap-below":
      return `${player(warning.player)} has handicap ${warning.off}; the lowest the league allows is ${warning.least}.`;
    case "short":
      return `The team has ${warning.players} of ${warning.wanted} players. The games of an empty place are forfeited.`;
    case "total-below":
      return `The handicaps add up to ${warning.total}; the league asks for at least ${warning.atLeast}.`;
    case "played-for-another-club":
      return `${player(warning.player)} has played for ${club(warning.club)} this season.`;
    case "too-many-borrowed":
      return `${listed(warning.players.map(player))}: not known as the club's own. ${allowance(warning.allowed, "borrowed")}`;
    case "too-many-reserves":
      return `${listed(warning.players.map(player))} ${warning.players.length === 1 ? "stands" : "stand"} in. ${allowance(warning.allowed, "in reserve")}`;
    case "reserve-too-often":
      return `${player(warning.player)} stands in for the ${ordinal(warning.times)} time; the league allows ${warning.allowed}.`;
    case "off-another": {
      const { handicap, on } = warning.stated;
      return `${player(warning.player)} is named off ${warning.off}; stated is ${handicap}, as of ${day(on)}.`;
    }
    case "not-stated":
      return `Nobody has stated a handicap of ${player(warning.player)} for that day.`;
  }
}

const allowance = (count: number, what: string): string =>
  count === 0 ? `The league allows nobody ${what}.` : `The league allows ${count} ${what}.`;

function ordinal(count: number): string {
  const tens = count % 100;
  const ending = tens >= 11 && tens <= 13 ? "th" : (["th", "st", "nd", "rd"][count % 10] ?? "th");
  return `${count}${ending}`;
}
