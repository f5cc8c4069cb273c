/**
 * Saving into a league's book: asked first of the league's own checks, then saved as everything is. A refusal of either kind changes
 * nothing. Rejected: the league's checks inside every book's saving (a club without a league would carry them to the lawn).
 *
 * API: `saveInLeague(book, drafts, today)` → ids and warnings, or a `LeagueFault` or `AppendFault`; sentences are in `messages.ts`.
 */
import type { Day, Draft, EntryId, LeagueFault, LeagueReading, Result, RuleSet, TeamWarning } from "@sward/core";
import { checkLeagueDraft, fail, findRuleSet, ok, readLeague } from "@sward/core";
import type { Book } from "../book/book.ts";
import type { AppendFault } from "../book/faults.ts";

export interface SavedInLeague {
  readonly ids: readonly EntryId[];
  readonly warnings: readonly TeamWarning[];
}

/** What checking and saving need of a book. */
export type LeagueBookHere = Pick<Book, "state" | "counted" | "device" | "append">;

/** @param today the reader's calendar day */
export async function saveInLeague(
  book: LeagueBookHere,
  drafts: readonly Draft[],
  today: Day,
): Promise<Result<SavedInLeague, LeagueFault | AppendFault>> {
  const warnings: TeamWarning[] = [];
  const reading = readLeague({ state: book.state(), counted: book.counted() }, today);
  for (const draft of drafts) {
    const checked = checkHere(book, reading, draft, today);
    if (!checked.ok) return checked;
    warnings.push(...checked.value.warnings);
  }
  const saved = await book.append(drafts);
  return saved.ok ? ok({ ids: saved.value, warnings }) : fail(saved.fault);
}

/** The same question without saving, for warnings shown while a captain is still choosing. */
export function checkHere(book: LeagueBookHere, reading: LeagueReading, draft: Draft, today: Day) {
  const { league, statements, proposals } = reading;
  const state = book.state();
  const day = dayOf(draft, reading) ?? today;
  const rules = league.rules.findLast(({ from }) => from <= day) ?? league.rules[0];
  const context = { state, league, statements, proposals, device: book.device, set: setOn(state.rules, day) };
  return checkLeagueDraft(draft, { ...context, rules: rules?.rules ?? null });
}

/** The day that decides which rules a form is held to. */
function dayOf({ kind, body }: Draft, { league }: LeagueReading): Day | null {
  if (kind === "fixture-set") return body.date;
  if (kind !== "lineup-named" && kind !== "fixture-marked") return null;
  return league.fixtures.find(({ fixture }) => fixture === body.fixture)?.day ?? null;
}

/** The set of playing rules of a day, of those the league adopted; the first before the first. */
export function setOn(rules: readonly { readonly rules: string; readonly from: Day }[], day: Day): RuleSet | undefined {
  const adopted = rules.findLast(({ from }) => from <= day) ?? rules[0];
  return adopted === undefined ? undefined : findRuleSet(adopted.rules);
}
