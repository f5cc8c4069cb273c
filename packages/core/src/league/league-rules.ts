/**
 * A league's rules as data: who meets whom, in what order, and what a match is worth. No two leagues agree in any of it, so none of
 * it is code; a league's secretary takes one of the rule files that come with the program, changes it, and signs it into the
 * league's book, where every club reads the same. The league's committee always prevails over what is computed from them.
 *
 * A fixture is a list of *slots*, each one match between named places of the two teams (home 1 against away 3; home 1 and 2
 * against away 1 and 2). A match may be one game or the best of several. `score` says what decides a fixture, and what is looked at
 * next when that is level: two that win nine games each may have drawn, or hoops may decide.
 *
 * Rejected: an id of a rule set known to the program inside the entry (a league could not change a number), and formulas in the
 * file (nobody could read them aloud at an annual meeting).
 *
 * API: `LeagueRules` (zod, the wire and file edge) · `parseLeagueRules(json)`: taken whole or refused with the place · `fixtureSlots(rules)`:
 * what goes into a `fixture-set`. The files that come with the program are in `written-rules.ts`.
 *
 * SPEC: LG1 to LG4.
 */
import * as z from "zod/mini";
import { Format, Handicap, Play } from "../ledger/kinds.ts";
import type { Result } from "../result.ts";
import { fail, ok } from "../result.ts";

const int = (min: number, max: number) => z.int().check(z.minimum(min), z.maximum(max));
const text = (max: number) => z.string().check(z.minLength(1), z.maxLength(max));

const Seats = z.array(int(1, 12)).check(z.minLength(1), z.maxLength(2));

/** One match of a fixture. `bestOf` 1 is a single game. Seats are places in the two teams, from 1. */
export const SlotRule = z.strictObject({
  play: Play(),
  format: Format(),
  bestOf: z.union([z.literal(1), z.literal(3), z.literal(5)]),
  home: Seats,
  away: Seats,
});
export type SlotRule = z.infer<typeof SlotRule>;

/** What two clubs are compared in: matches (slots) won, games won, hoops. */
export const Measure = z.enum(["slots", "games", "hoops"]);
export type Measure = z.infer<typeof Measure>;

/** `head-to-head-…` looks only at the fixtures between the clubs that are still level. */
export const TieBreak = z.enum([
  "head-to-head-points",
  "head-to-head-games",
  "head-to-head-hoops",
  "matches-won",
  "games-won",
  "games-difference",
  "hoops-won",
  "hoops-difference",
]);
export type TieBreak = z.infer<typeof TieBreak>;

/** Points on top: for so many games won in a fixture, or for losing it by so few games. */
export const Bonus = z.strictObject({
  when: z.enum(["games-won-at-least", "lost-by-games-at-most"]),
  count: int(0, 200),
  points: int(1, 100),
});
export type Bonus = z.infer<typeof Bonus>;

const worth = int(0, 100);

export const LeagueRules = z.strictObject({
  id: z.string().check(z.regex(/^[a-z0-9][a-z0-9-]{1,58}$/)),
  title: text(80),
  /** Published regulations these are modelled on. */
  sources: z.array(z.strictObject({ title: text(200), url: text(300) })).check(z.maxLength(10)),
  /** Where those say nothing, or could not be read, and these rules had to choose. */
  gaps: z.array(text(300)).check(z.maxLength(20)),
  meetings: z.enum(["once", "home-and-away"]),
  team: z.strictObject({
    players: int(1, 12),
    /** `by-handicap`: the lowest handicap is first; equal ones in any order. */
    order: z.enum(["by-handicap", "any"]),
    /** Players of another club that a team may have in one fixture. */
    borrowed: int(0, 12),
    /** A player plays for one club of the league in a season. */
    oneClub: z.boolean(),
    /** How many stand in in one fixture, and how often one player may in a season; null for no limit. */
    reserves: z.strictObject({ inFixture: z.nullable(int(0, 12)), inSeason: z.nullable(int(0, 100)) }),
  }),
  /** Limits of the handicaps of a team; null for none. */
  handicaps: z.strictObject({
    least: z.nullable(Handicap()),
    most: z.nullable(Handicap()),
    totalAtLeast: z.nullable(int(-200, 600)),
  }),
  slots: z.array(SlotRule).check(z.minLength(1), z.maxLength(60)),
  score: z.array(Measure).check(z.minLength(1), z.maxLength(3)),
  points: z.strictObject({
    win: worth,
    draw: worth,
    loss: worth,
    slot: worth,
    game: worth,
    drawnGame: worth,
    hoop: worth,
  }),
  bonus: z.array(Bonus).check(z.maxLength(6)),
  /** A fixture conceded, or a team that does not come. `games`: `all` gives the other club every game, to nothing. */
  forfeit: z.strictObject({ winner: worth, loser: worth, games: z.enum(["all", "none"]) }),
  /** A single game that one side could not play. */
  gameForfeited: z.enum(["counts", "does-not-count"]),
  /** Rained off: with some games played, and with none. `even-games`: an even number counts, the last is dropped. */
  unfinished: z.strictObject({ some: z.enum(["stands", "even-games", "void"]), none: z.enum(["draw", "void"]) }),
  /** What a slot counts for in the table while one club alone has reported it. */
  oneReport: z.enum(["counts", "waits", "home-counts"]),
  /** All fixtures are played by this day of the year, MM-DD. */
  deadline: z.nullable(z.string().check(z.regex(/^(0[1-9]|1[0-2])-(0[1-9]|[12]\d|3[01])$/))),
  /** Days after a fixture by which it is reported. */
  reportWithin: z.nullable(int(0, 60)),
  tieBreaks: z.array(TieBreak).check(z.maxLength(8)),
});
export type LeagueRules = z.infer<typeof LeagueRules>;

export type LeagueRulesFault =
  /** `at` is a path such as `slots.0.format`; `problem` the form's own word for what is wrong there. */
  | { readonly type: "league-rules-form"; readonly at: string; readonly problem: string }
  /** A slot's two sides are not one against one or two against two different places. Slots count from 1. */
  | { readonly type: "league-rules-seats"; readonly slot: number }
  /** A slot names a place that the team does not have. */
  | {
      readonly type: "league-rules-no-such-seat";
      readonly slot: number;
      readonly seat: number;
      readonly players: number;
    }
  | { readonly type: "league-rules-limits"; readonly least: number; readonly most: number }
  /** A measure or a tie-break is listed twice. */
  | { readonly type: "league-rules-twice"; readonly of: Measure | TieBreak };

/**
 * A league's rules from parsed JSON, taken whole or refused with the first thing that is wrong.
 * @param json whatever a file, a form or an entry brought
 */
export function parseLeagueRules(json: unknown): Result<LeagueRules, LeagueRulesFault> {
  const parsed = LeagueRules.safeParse(json);
  if (!parsed.success) {
    const issue = parsed.error.issues[0];
    const at = issue === undefined ? "" : issue.path.map(String).join(".");
    return fail({ type: "league-rules-form", at, problem: issue?.code ?? "custom" });
  }
  const fault = senseFault(parsed.data);
  return fault === null ? ok(parsed.data) : fail(fault);
}

function senseFault({ slots, team, handicaps, score, tieBreaks }: LeagueRules): LeagueRulesFault | null {
  for (const [at, { home, away }] of slots.entries()) {
    const distinct = [home, away].every((side) => new Set(side).size === side.length);
    if (home.length !== away.length || !distinct) return { type: "league-rules-seats", slot: at + 1 };
    const seat = [...home, ...away].find((one) => one > team.players);
    if (seat !== undefined) return { type: "league-rules-no-such-seat", slot: at + 1, seat, players: team.players };
  }
  const { least, most } = handicaps;
  if (least !== null && most !== null && least > most) return { type: "league-rules-limits", least, most };
  for (const list of [score, tieBreaks]) {
    const twice = list.find((one, at) => list.indexOf(one as never) !== at);
    if (twice !== undefined) return { type: "league-rules-twice", of: twice };
  }
  return null;
}

/** What a `fixture-set` of this league holds: each slot's discipline, play and length. */
export const fixtureSlots = ({ slots }: LeagueRules) =>
  slots.map(({ home, play, format }) => ({
    discipline: home.length === 2 ? ("doubles" as const) : ("singles" as const),
    play,
    format,
  }));

/** Games that win a match of a slot. */
export const gamesToWin = ({ bestOf }: SlotRule): number => (bestOf + 1) / 2;
