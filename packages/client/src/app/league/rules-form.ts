/**
 * A league's rules as a form: what is in the fields as text, and back again. The matches of a fixture are one line each, as they would be
 * written on the sheet: `1 v 3, level, 13` or `1+2 v 3+4, handicap, 13, best of 3`. Pure; the last word has core's own reading of rules.
 */
import type { LeagueRules, LeagueRulesFault, Measure, Result, TieBreak } from "@sward/core";
import { fail, ok, parseLeagueRules } from "@sward/core";
import { rulesFormWords } from "../words/league-rules-form.ts";

export interface RulesForm {
  readonly title: string;
  readonly meetings: LeagueRules["meetings"];
  readonly players: string;
  readonly order: LeagueRules["team"]["order"];
  readonly borrowed: string;
  readonly oneClub: boolean;
  readonly reservesInFixture: string;
  readonly reservesInSeason: string;
  readonly most: string;
  readonly least: string;
  readonly totalAtLeast: string;
  /** One match a line. */
  readonly slots: string;
  /** In order; empty ones are passed over. */
  readonly score: readonly (Measure | "")[];
  readonly points: Readonly<Record<keyof LeagueRules["points"], string>>;
  readonly bonus: readonly { readonly when: string; readonly count: string; readonly points: string }[];
  readonly forfeitWinner: string;
  readonly forfeitLoser: string;
  readonly forfeitGames: LeagueRules["forfeit"]["games"];
  readonly gameForfeited: LeagueRules["gameForfeited"];
  readonly some: LeagueRules["unfinished"]["some"];
  readonly none: LeagueRules["unfinished"]["none"];
  readonly oneReport: LeagueRules["oneReport"];
  /** MM-DD, or empty for none. */
  readonly deadline: string;
  readonly reportWithin: string;
  readonly tieBreaks: readonly (TieBreak | "")[];
}

export const MOST_TIE_BREAKS = 8;

const orNone = (value: number | null): string => (value === null ? "" : String(value));

export function formOfRules(rules: LeagueRules): RulesForm {
  const { team, handicaps, points, forfeit, unfinished, tieBreaks, score } = rules;
  return {
    title: rules.title,
    meetings: rules.meetings,
    players: String(team.players),
    order: team.order,
    borrowed: String(team.borrowed),
    oneClub: team.oneClub,
    reservesInFixture: orNone(team.reserves.inFixture),
    reservesInSeason: orNone(team.reserves.inSeason),
    most: orNone(handicaps.most),
    least: orNone(handicaps.least),
    totalAtLeast: orNone(handicaps.totalAtLeast),
    slots: rules.slots.map(rulesFormWords.slotLine).join("\n"),
    score: padded(score, 3),
    points: {
      win: String(points.win),
      draw: String(points.draw),
      loss: String(points.loss),
      slot: String(points.slot),
      game: String(points.game),
      drawnGame: String(points.drawnGame),
      hoop: String(points.hoop),
    },
    bonus: [
      ...rules.bonus.map((one) => ({ when: one.when, count: String(one.count), points: String(one.points) })),
      { when: "", count: "", points: "" },
    ].slice(0, 6),
    forfeitWinner: String(forfeit.winner),
    forfeitLoser: String(forfeit.loser),
    forfeitGames: forfeit.games,
    gameForfeited: rules.gameForfeited,
    some: unfinished.some,
    none: unfinished.none,
    oneReport: rules.oneReport,
    deadline: rules.deadline ?? "",
    reportWithin: orNone(rules.reportWithin),
    tieBreaks: padded(tieBreaks, MOST_TIE_BREAKS),
  };
}

const padded = <T extends string>(list: readonly T[], places: number): readonly (T | "")[] =>
  Array.from({ length: places }, (_, at) => list[at] ?? "");

export type RulesFormFault =
  | LeagueRulesFault
  /** A line of the matches that is not of the form; lines count from 1. */
  | { readonly type: "rules-form-line"; readonly line: number; readonly text: string };

/** A number, or what cannot be one, which the reading of rules then refuses at its place. */
const numberIn = (text: string): unknown =>
  /^[-−]?\d{1,4}$/.test(text.trim()) ? Number(text.trim().replace("−", "-")) : text;
const orNull = (text: string): unknown => (text.trim() === "" ? null : numberIn(text));

const SLOT =
  /^(\d+(?:\s*\+\s*\d+)?)\s*v\s*(\d+(?:\s*\+\s*\d+)?)\s*,\s*(handicap|level)\s*,\s*(\d+)(?:\s*,\s*best of (\d))?$/i;

/** Rules changed from others keep their sources, and what these left open only while it is untouched. */
export function rulesOfForm(form: RulesForm, base: LeagueRules): Result<LeagueRules, RulesFormFault> {
  const slots: unknown[] = [];
  for (const [at, text] of form.slots.split("\n").entries()) {
    if (text.trim() === "") continue;
    const found = SLOT.exec(text.trim());
    if (found === null) return fail({ type: "rules-form-line", line: at + 1, text: text.trim() });
    const [, home = "", away = "", play = "", format = "", bestOf = "1"] = found;
    const seats = (side: string): number[] => side.split("+").map(Number);
    const game = { play: play.toLowerCase(), format: Number(format), bestOf: Number(bestOf) };
    slots.push({ ...game, home: seats(home), away: seats(away) });
  }
  const worth = Object.fromEntries(Object.entries(form.points).map(([what, text]) => [what, numberIn(text)]));
  const read = parseLeagueRules({
    id: base.id,
    title: form.title.trim(),
    sources: base.sources,
    gaps: base.gaps,
    meetings: form.meetings,
    team: {
      players: numberIn(form.players),
      order: form.order,
      borrowed: numberIn(form.borrowed),
      oneClub: form.oneClub,
      reserves: { inFixture: orNull(form.reservesInFixture), inSeason: orNull(form.reservesInSeason) },
    },
    handicaps: { least: orNull(form.least), most: orNull(form.most), totalAtLeast: orNull(form.totalAtLeast) },
    slots,
    score: form.score.filter((one) => one !== ""),
    points: worth,
    bonus: form.bonus
      .filter(({ when }) => when !== "")
      .map((one) => ({ when: one.when, count: numberIn(one.count), points: numberIn(one.points) })),
    forfeit: { winner: numberIn(form.forfeitWinner), loser: numberIn(form.forfeitLoser), games: form.forfeitGames },
    gameForfeited: form.gameForfeited,
    unfinished: { some: form.some, none: form.none },
    oneReport: form.oneReport,
    deadline: form.deadline.trim() === "" ? null : form.deadline.trim(),
    reportWithin: orNull(form.reportWithin),
    tieBreaks: form.tieBreaks.filter((one) => one !== ""),
  });
  if (!read.ok || isSame(read.value, base)) return read;
  const own = base.id.startsWith("own-") ? base.id : `own-${base.id}`.slice(0, 58);
  return ok({ ...read.value, id: own });
}

const isSame = (one: LeagueRules, other: LeagueRules): boolean =>
  JSON.stringify(formOfRules(one)) === JSON.stringify(formOfRules(other));

/** The field that a place in the rules is written in, such as `handicaps.most`; null for none of ours. */
export function fieldAt(at: string): string | null {
  const fields: Readonly<Record<string, string>> = {
    title: "title",
    "team.players": "players",
    "team.borrowed": "borrowed",
    "team.reserves.inFixture": "reservesInFixture",
    "team.reserves.inSeason": "reservesInSeason",
    "handicaps.most": "most",
    "handicaps.least": "least",
    "handicaps.totalAtLeast": "totalAtLeast",
    "forfeit.winner": "forfeitWinner",
    "forfeit.loser": "forfeitLoser",
    deadline: "deadline",
    reportWithin: "reportWithin",
  };
  if (/^slots(\.|$)/.test(at)) return "slots";
  if (/^points\./.test(at)) return at;
  if (/^bonus\.\d/.test(at)) return at.split(".").slice(0, 2).join(".");
  if (/^score(\.|$)/.test(at)) return "score";
  return fields[at] ?? null;
}
