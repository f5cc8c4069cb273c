/**
 * What is refused before it is signed: a form with a wrong field, a score that cannot be, a day that has not come, a handicap the
 * table does not have, a player nobody knows, something this device may not do. An entry cannot be taken back unseen, so a slip
 * is caught here; what comes from other devices is judged by core alone, which knows no day and refuses less.
 *
 * The form edge: zod reads the draft.
 */
import type { BookState, Day, Draft, KeyId, MatchReported, PlayerId, Result } from "@sward/core";
import { bodies, checkMatch, fail, findRuleSet, mayMake, ok, triggerOf } from "@sward/core";
import type { AppendFault } from "./faults.ts";

export interface DraftContext {
  readonly state: BookState;
  readonly device: KeyId;
  /** The reader's calendar day. */
  readonly today: Day;
  /** Players who join by earlier drafts of the same saving. */
  readonly joining: ReadonlySet<PlayerId>;
}

export function checkDraft(draft: Draft, context: DraftContext): Result<Draft, AppendFault> {
  const parsed = bodies[draft.kind].safeParse(draft.body);
  if (!parsed.success) {
    return fail({ type: "bad-draft", kind: draft.kind, path: parsed.error.issues[0]?.path.join(".") ?? "" });
  }
  const fault = mayNot(draft, context) ?? dateFault(draft, context.today) ?? contentFault(draft, context);
  return fault === null ? ok(draft) : fail(fault);
}

function mayNot({ kind, body }: Draft, { state, device }: DraftContext): AppendFault | null {
  // The opening entry makes the book: there is nobody yet to allow it.
  if (kind === "book-opened" && state.as === null) return null;
  const standing = state.devices.get(device);
  if (standing === undefined || state.as === null) return { type: "may-not", kind, role: "none" };
  if (standing.barred) return { type: "may-not", kind, role: "barred" };
  const office = standing.role === "root" && standing.club !== null ? "club" : standing.role;
  const verdict = mayMake({ kind, body }, office, state.as, standing.club !== null);
  return verdict === "yes" ? null : { type: "may-not", kind, role: standing.role };
}

function dateFault({ kind, body }: Draft, today: Day): AppendFault | null {
  // What is played lies behind us; a fixture, an event or the next season's rules may lie ahead.
  const dated: readonly (readonly [string, Day])[] =
    kind === "match-reported" ? [["date", body.date]] : kind === "card-signed" ? [["upto", body.upto]] : [];
  const ahead = dated.find(([, date]) => date > today);
  return ahead === undefined ? null : { type: "future-date", field: ahead[0], date: ahead[1], today };
}

function contentFault({ kind, body }: Draft, context: DraftContext): AppendFault | null {
  const { state } = context;
  if (kind === "match-reported") return matchFault(body, context);
  if (kind === "handicap-set" && state.as === "club") {
    const rules = rulesOn(state, body.from);
    const set = rules === undefined ? undefined : findRuleSet(rules);
    if (set !== undefined && triggerOf(set, body.handicap) === undefined) {
      return { type: "handicap-not-in-table", handicap: body.handicap, rules: set.id };
    }
  }
  if (kind === "handicap-set" || kind === "card-signed" || kind === "player-left") {
    return isKnown(body.player, context) ? null : { type: "unknown-player", player: body.player };
  }
  return null;
}

function matchFault(body: MatchReported, context: DraftContext): AppendFault | null {
  const { state } = context;
  const fault = checkMatch(body);
  if (fault !== null) return { type: "bad-match", match: fault };
  const rules = rulesOn(state, body.date);
  const set = rules === undefined ? undefined : findRuleSet(rules);
  for (const { player, off } of body.sides.flat()) {
    if (!isKnown(player, context)) return { type: "unknown-player", player };
    if (set !== undefined && triggerOf(set, off) === undefined) {
      return { type: "handicap-not-in-table", handicap: off, rules: set.id };
    }
  }
  return null;
}

const isKnown = (player: PlayerId, { state, joining }: DraftContext): boolean =>
  joining.has(player) ||
  state.players.has(player) ||
  [...state.players.values()].some(({ alsoKnownAs }) => alsoKnownAs.includes(player));

const rulesOn = (state: BookState, day: Day): string | undefined =>
  (state.rules.findLast(({ from }) => from <= day) ?? state.rules[0])?.rules;
