/**
 * The three-rounds test of a newcomer: three rounds of hoops 1 to 6, the strokes of each counted, all three added, and the sum looked
 * up in the starting table of the rules in force. A proposal: the handicapper may choose another handicap and say why.
 */
import type { AssessmentRow, RuleSet } from "@sward/core";
import { startingRow } from "@sward/core";
import { membersWords } from "../words/members.ts";

/** Strokes of each round as typed. */
export type Counts = readonly [string, string, string];

export const noCounts: Counts = ["", "", ""];

/** Six hoops cannot be run in fewer strokes; more than this is a slip of the finger. */
const FEWEST = 6;
const MOST = 300;

export type Assessment =
  | { readonly type: "none" }
  /** Rounds, from 1, whose count is no number of strokes. */
  | { readonly type: "not-counts"; readonly rounds: readonly number[] }
  /** Rounds still to come, and the sum so far. */
  | { readonly type: "unfinished"; readonly sum: number; readonly left: number }
  | { readonly type: "no-table"; readonly sum: number }
  /** Fewer strokes than the table has: such players are assessed separately. */
  | { readonly type: "below-table"; readonly sum: number; readonly from: number }
  | { readonly type: "row"; readonly sum: number; readonly row: AssessmentRow };

export function assess(set: RuleSet | undefined, counts: Counts): Assessment {
  const typed = counts.map((text) => text.trim());
  if (typed.every((text) => text === "")) return { type: "none" };
  const rounds = typed.flatMap((text, place) => (text === "" || isCount(text) ? [] : [place + 1]));
  if (rounds.length > 0) return { type: "not-counts", rounds };
  const given = typed.filter((text) => text !== "").map(Number);
  const sum = given.reduce((all, one) => all + one, 0);
  if (given.length < counts.length) return { type: "unfinished", sum, left: counts.length - given.length };
  const [first] = set?.assessment ?? [];
  if (set === undefined || first === undefined) return { type: "no-table", sum };
  const row = startingRow(set, sum);
  return row === undefined ? { type: "below-table", sum, from: first.atLeast } : { type: "row", sum, row };
}

function isCount(text: string): boolean {
  const strokes = Number(text);
  return /^\d{1,3}$/.test(text) && strokes >= FEWEST && strokes <= MOST;
}

export interface Assessed {
  readonly counts: Counts;
  readonly handicap: number | null;
  readonly reason: string;
}

/**
 * The form after a count was typed: the table's handicap is put in as soon as there is one, and how it was found is written down
 * unless somebody has written something else there.
 */
export function withCounts(set: RuleSet | undefined, before: Assessed, counts: Counts): Assessed {
  const was = assess(set, before.counts);
  const now = assess(set, counts);
  const own = before.reason.trim() !== "" && before.reason !== reasonOf(was, before.counts);
  return {
    counts,
    handicap: now.type === "row" ? now.row.handicap : before.handicap,
    reason: own ? before.reason : reasonOf(now, counts),
  };
}

/** How the handicap was found, for the record; empty until all three rounds are counted. */
const reasonOf = (found: Assessment, counts: Counts): string =>
  found.type === "row" || found.type === "below-table" || found.type === "no-table"
    ? membersWords.test.reason(
        counts.map((text) => text.trim()),
        found.sum,
      )
    : "";

export interface TableRow {
  /** Such as "54–56", and "79 or more". */
  readonly atLeast: number;
  readonly atMost: number | null;
  readonly handicap: number;
  readonly index: number;
  /** The row the sum is in. */
  readonly found: boolean;
}

/** The whole table as it is published, with the row that was found marked. */
export const tableRows = (set: RuleSet | undefined, found: Assessment): readonly TableRow[] =>
  (set?.assessment ?? []).map((row) => ({
    atLeast: row.atLeast,
    atMost: row.atMost,
    handicap: row.handicap,
    index: row.index,
    found: found.type === "row" && found.row === row,
  }));

export interface TableSource {
  readonly title: string;
  readonly url: string;
}

/** Where the table was read; none for a set without one. */
export function tableSources(set: RuleSet | undefined): readonly TableSource[] {
  const keys = new Set((set?.assessment ?? []).flatMap(({ source }) => source ?? []));
  return [...keys].flatMap((key) => set?.sources[key] ?? []);
}
