/**
 * What people read in the review. Each number comes with the number of games it is about; evidence is given and no verdict; and what is
 * an estimate says so. "Chance" is what would happen if every game went as the handicaps expect.
 */
import type { LeftOutReason, Tally } from "@sward/core";
import type { FirstGamesEstimate } from "../review/first-games.ts";
import { FIRST_GAMES } from "../review/first-games.ts";
import type { LogLoss } from "../review/level.ts";
import type { Interval, Verge } from "../review/share.ts";
import { FEWEST, oneIn } from "../review/share.ts";
import type { HoopUse, StrokeUse } from "../review/strokes-review.ts";
import type { Trend } from "../review/trend.ts";
import type { Look, Watch } from "../review/watch.ts";
import { count, number, signed } from "../words.ts";

const percents = new Intl.NumberFormat(undefined, { style: "percent", maximumFractionDigits: 0 });
const oneDecimal = new Intl.NumberFormat(undefined, { minimumFractionDigits: 1, maximumFractionDigits: 1 });
const twoDecimals = new Intl.NumberFormat(undefined, { minimumFractionDigits: 2, maximumFractionDigits: 2 });
const whole = new Intl.NumberFormat(undefined, { maximumFractionDigits: 0 });

/** A share from 0 to 1, such as "53%". */
export const percent = (share: number): string => percents.format(share);

/** Such as "43% to 61%". */
export const range = ({ low, high }: Interval): string => `${percent(low)} to ${percent(high)}`;

/** Such as "about one time in 32". */
export const chanceWords = (chance: number): string => {
  if (chance >= 0.5) return "more often than not";
  const times = oneIn(chance);
  return times > 1000 ? "less than one time in 1,000" : `about one time in ${whole.format(times)}`;
};

const won = ({ won: wins, games }: Tally): string => `${number(wins)} of ${count(games, "game")}`;

const tooFew = (games: number): string =>
  games === 0 ? "No games." : `Only ${count(games, "game")}: too few to say anything (${FEWEST} at least).`;

/** A gap or a number of strokes: "4 to 6", "7 or more". */
export const bandWords = (from: number, to: number | null): string =>
  to === null ? `${from} or more` : `${from} to ${to}`;

export const reviewWords = {
  title: "Review",
  lead: "What the games say about handicaps: evidence for the handicapper, with how sure it is. Nothing here changes a card.",
  ofPlayer: (name: string) => `Review: ${name}`,
  toClub: "Review of the whole club",
  toCard: (name: string) => `${name}'s card`,
  season: "Season",
  allSeasons: "all seasons",
  onPaper: (club: string, season: string | null, printed: string, player?: string) =>
    `${player === undefined ? "Review of handicaps" : `Review: ${player}`}. ${club}, ${season ?? "all seasons"}. Printed ${printed}.`,
  print: "Print the review",
  columns: {
    games: "Games",
    won: "Won",
    share: "Share won",
    range: "Fits a true share of",
    says: "What that says",
    player: "Player",
  },
  none: "–",
  /** Beside a bar of a chart. */
  chartRow: (label: string, tally: Tally) => `${label}: ${won(tally)}`,
  empty: {
    title: "No games to review yet",
    body: "Singles that count for the index appear here as soon as they are entered: who won, off what, with how many extra strokes. The more games, the more they say.",
  },
  unknown: "Nobody with this address is in the club's record on this device.",
  rangeMeans:
    "The range is what the true share may be: worked out this way, it holds the true one 19 times in 20. A short range needs many games.",

  fairness: {
    title: "Do extra strokes make games even?",
    lead: "In handicap play each side should win about half. Here are the games in which one side received strokes, and how often the receiver won.",
    strokes: "Strokes received",
    receiverWon: "Receiver won",
    band: (from: number, to: number | null) => `${bandWords(from, to)} strokes`,
    chart: (rows: string) => `How often receivers of strokes won, with ranges, against one half. ${rows}`,
    row: (label: string, tally: Tally, share: number, interval: Interval) =>
      `${label}: ${won(tally)}, ${percent(share)}, fits ${range(interval)}.`,
    rowEmpty: (label: string) => `${label}: no games.`,
    axis: "share of games the receiver won",
    half: "one half",
    says: {
      "too-few": "too few games to say",
      about: "agrees with one half",
      above: "receivers win more than half, beyond what chance usually gives",
      below: "receivers win less than half, beyond what chance usually gives",
    } satisfies Record<Verge, string>,
    looks:
      "Three bands are looked at. Even where all is fair, one of them stands out by chance in up to one club in seven.",
    noStrokes: (games: number) =>
      games === 0 ? "" : `In ${count(games, "more handicap game")} neither side received any.`,
    rules: (titles: readonly string[]) => `Rules: ${titles.join("; ")}.`,
    nothing: "No handicap singles that count in this season.",
  },

  leftOut: {
    title: (games: number) => `${count(games, "game")} left out`,
    lead: "The review looks at singles that count for the index and have a winner. Left out, each for the first reason that applies:",
    reasons: {
      "not-settled":
        "not settled: two reports that differ, a report that waits for a second one, or a match ruled not to count",
      "no-rules": "no rules adopted that this version knows",
      abandoned: "abandoned",
      walkover: "walkover",
      "excluded-beforehand": "agreed beforehand not to count",
      "occasion-does-not-count": "friendlies and other games that do not count",
      drawn: "drawn",
      doubles: "doubles",
      "handicap-not-in-table": "played off a handicap that is not in the table",
    } satisfies Record<LeftOutReason, string>,
    line: (games: number, reason: LeftOutReason): string => `${games}: ${reviewWords.leftOut.reasons[reason]}`,
  },

  level: {
    title: "Level play against what the handicaps expect",
    lead: "From two handicaps the rules' curve expects how often the lower one wins. If it is right, the marks lie along the dashed line.",
    gap: "Difference of handicaps",
    expected: "Expected",
    observed: "Lower handicap won",
    chart: (rows: string) =>
      `Level play: share the lower handicap was expected to win, across, against the share it won, upwards, with ranges. ${rows}`,
    row: (mark: string, band: string, tally: Tally, expected: number, observed: number, interval: Interval) =>
      `${mark}, ${band}: expected ${percent(expected)}, won ${won(tally)}, ${percent(observed)}, fits ${range(interval)}.`,
    band: (mark: string, band: string) => `${mark}: ${band}`,
    wonShare: (wins: number, share: number) => `${wins}, ${percent(share)}`,
    counts: (bands: readonly (readonly [mark: string, games: number])[]) =>
      `Games: ${bands.map(([mark, games]) => `${mark} ${games}`).join(", ")}.`,
    across: "expected to win",
    upwards: "won",
    says: {
      "too-few": "too few games to say",
      about: "agrees with the expectation",
      above: "the lower handicap wins more than expected",
      below: "the lower handicap wins less than expected",
    } satisfies Record<Verge, string>,
    total: (tally: Tally, expected: number, chance: number) =>
      `Altogether the lower handicap won ${won(tally)}; ${oneDecimal.format(expected)} were expected. Chance alone goes so far from it, one way or the other, ${chanceWords(chance)}.`,
    equal: (games: number) =>
      games === 0 ? "" : `In ${count(games, "more level game")} the handicaps were equal, and nothing was expected.`,
    loss: ({ games, mean }: LogLoss, coin: number) =>
      `Score of the expectations (log loss, the lower the better): ${twoDecimals.format(mean)} over ${count(games, "game")}. Tossing a coin for each would score ${twoDecimals.format(coin)}.`,
    lossSays: ({ better, error, games }: LogLoss): string => {
      if (games < FEWEST) return tooFew(games);
      if (better > 2 * error) return "So the handicaps tell who will win better than a coin does.";
      if (better < -2 * error)
        return "So a coin would have told better who wins: the handicaps played off look wrong for level play.";
      return `That is ${better > 0 ? "better" : "worse"} than a coin, but by no more than chance gives with so few games.`;
    },
    nothing: "No level singles that count in this season.",
  },

  watch: {
    title: "Players to look at",
    lead: "Whose games went further from what the handicaps expect than chance goes one time in ten. That is a reason to look, and no more: who played whom, a long illness, a new mallet are not in the numbers.",
    byChance: ({ players, byChance, listed }: Watch): string => {
      const all = `${count(players, "player has", "players have")} ${FEWEST} games or more of one kind.`;
      const rounded = Math.round(byChance);
      const odd = rounded === 0 ? "hardly anybody" : `about ${rounded === 1 ? "one" : rounded} of them`;
      return `${all} Look at so many and some will seem odd: chance alone puts ${odd} on this list. It has ${count(listed.length, "entry", "entries")}.`;
    },
    evidence: ({ play, games, won: wins, expected, chance }: Look): string =>
      play === "handicap"
        ? `has won ${wins} of ${games} handicap games; chance alone would be as uneven as that, one way or the other, ${chanceWords(chance)}`
        : `has won ${wins} of ${games} level games, where the handicaps expected ${oneDecimal.format(expected)}; chance alone would go as far from it, one way or the other, ${chanceWords(chance)}`,
    nobody: "Nobody this season: no games went further from the expected than chance goes one time in ten.",
    tooFew: `Nobody has ${FEWEST} games of one kind in this season yet, and fewer say nothing.`,
    notHere:
      "This list is shown on a handicapper's device only: it is a reason to look, and would be read as more on a notice-board.",
  },

  newcomers: {
    title: "Newcomers: what their first games speak for",
    lead: "An estimate, not a ruling. It starts from the starting handicap, taken to be right within three steps in two cases of three, and lets each of the first games weigh on it. Extra strokes are taken to even out the handicaps played off, and the opponents' handicaps to be right.",
    sentence: ({ games, won: wins, start, estimate, strongest, weakest }: FirstGamesEstimate): string =>
      `started at ${number(start)} and won ${wins} of the first ${count(games, "game")}. Estimate: ${number(estimate)}; nine times in ten between ${number(strongest)} and ${number(weakest)}.`,
    inside: (now: number) => `The handicap now, ${number(now)}, is within that range.`,
    outside: (now: number) => `The handicap now, ${number(now)}, is outside that range: worth watching a game.`,
    end: "The range reaches the end of the table, and may go beyond it.",
    none: `Nobody here has between 3 and 20 games since a starting handicap. The estimate looks at the first ${FIRST_GAMES}.`,
  },

  strokes: {
    title: "Extra strokes: used and unused",
    lead: "From games kept with the score pad, which notes each extra stroke as it is taken.",
    none: "No game of this season was kept with the score pad, so nothing is known of where strokes were used. A card or a slip says only how many were given.",
    use: ({ records, given, taken, unused }: StrokeUse) =>
      `Of ${count(given, "stroke")} given in ${count(records, "game")}, ${number(taken)} ${taken === 1 ? "was" : "were"} used and ${number(unused)} lapsed.`,
    useNote: "A game counts once for each player who was given strokes in it.",
    lost: ({ records, unused }: StrokeUse, withUnused: number) =>
      records === 0
        ? ""
        : `In ${number(withUnused)} of the ${count(records, "game")} they lost, receivers had strokes left at the end: ${count(unused, "stroke")} in all. A stroke carried past the end is worth nothing.`,
    hoop: "Hoop being played for",
    taken: "Strokes used",
    made: "Hoop then made",
    madeOf: ({ made, known }: HoopUse) => (known === 0 ? "not kept" : `${made} of ${known}`),
  },

  everybody: {
    title: "Everybody",
    lead: "Each player's own review.",
    handicap: "Handicap games won",
    level: "Level games won",
    wonOf: ({ won: wins, games }: Tally) => (games === 0 ? "–" : `${wins} of ${games}`),
  },

  player: {
    noGames: "No singles that count in this season.",
    visitor: "A visitor: only games against our members are in these numbers.",
    share: "Handicap play",
    says: {
      "too-few": "too few games to say",
      about: "agrees with one half",
      above: "more than chance usually gives",
      below: "fewer than chance usually gives",
    } satisfies Record<Verge, string>,
    rows: { all: "all handicap games", giving: "giving strokes", receiving: "receiving strokes", even: "no strokes" },
    words: (tally: Tally, interval: Interval | null, standing: Verge): string => {
      if (interval === null || standing === "too-few") return tooFew(tally.games);
      const first = `Won ${won(tally)} (${percent(tally.won / tally.games)}). So many games fit any true share of ${range(interval)}.`;
      if (standing === "about") return `${first} One half is among them: no sign that the handicap is wrong.`;
      return `${first} One half is not: ${standing === "above" ? "more" : "fewer"} games won than chance usually gives.`;
    },
    chance: (chance: number) =>
      `Chance alone would be as uneven as that, one way or the other, ${chanceWords(chance)}.`,
    settles: "The system works against a share far from half: who wins goes down, who loses goes up.",
    chart: (name: string, rows: string) =>
      `Share of handicap games ${name} won, with ranges, against one half. ${rows}`,
    axis: "share of games won",
    level: "Level play",
    levelWords: (tally: Tally, expected: number, chance: number): string =>
      tally.games < FEWEST
        ? `Won ${won(tally)}, where the handicaps expected ${oneDecimal.format(expected)}. ${tooFew(tally.games)}`
        : `Won ${won(tally)}, where the handicaps expected ${oneDecimal.format(expected)}. Chance alone would go as far from it, one way or the other, ${chanceWords(chance)}.`,
    levelNone: "No level singles that count in this season.",
    trend: "Where the index is going",
    trendWords: ({ games, from, to, slope }: Trend): string =>
      `Over the last ${count(games, "game")} since the handicap was last set the index went from ${number(from)} to ${number(to)}: ${
        Math.abs(slope) < 0.5 ? "about level" : `about ${signedDecimal(slope)} points a game`
      }.`,
    trendSays: ({ games, from, to, reach }: Trend): string => {
      const net = to - from;
      if (games < FEWEST) return tooFew(games);
      const chance = `Chance alone carries an index by more than ${number(reach)} points in ${count(games, "game")}, up or down, one time in twenty.`;
      return Math.abs(net) > reach
        ? `${chance} ${signed(net)} is more than that. Play that is getting ${net > 0 ? "stronger" : "weaker"} looks so, and a handicap that was not right to begin with.`
        : `${chance} ${signed(net)} is within that.`;
    },
    trendNone: "Too few games since the handicap was last set.",
    first: "First games",
    strokes: "Extra strokes",
    strokesNone: "No game of this season was kept with the score pad.",
    seasonless: "Whatever season is chosen: the last games, and the first.",
  },
} as const;

function signedDecimal(value: number): string {
  const text = oneDecimal.format(Math.abs(value));
  return value < 0 ? `−${text}` : `+${text}`;
}
