/** @sward/core: the rules, the record and what they come to. Pure; see SPEC.md for every rule it keeps. */
export { type Authority, settleAuthority } from "./authority/authority.ts";
export * from "./authority/corrections.ts";
export * from "./authority/epochs.ts";
export * from "./authority/permissions.ts";
export * from "./exchange/compiled-rules.ts";
export * from "./exchange/logistic.ts";
export * from "./exchange/points.ts";
export * from "./ids.ts";
export * from "./league/check-league.ts";
export * from "./league/fixture-plan.ts";
export * from "./league/league-book.ts";
export * from "./league/league-rules.ts";
export * from "./league/match-sheet.ts";
export * from "./league/outcome.ts";
export * from "./league/pairing.ts";
export * from "./league/proposals.ts";
export * from "./league/read-league.ts";
export * from "./league/season.ts";
export * from "./league/standing.ts";
export * from "./league/statements.ts";
export * from "./league/table.ts";
export * from "./league/team-check.ts";
export * from "./league/written-rules.ts";
export * from "./ledger/canonical.ts";
export * from "./ledger/encoding.ts";
export * from "./ledger/entry.ts";
export * from "./ledger/kinds.ts";
export { later } from "./made-later.ts";
export * from "./matches/identity.ts";
export { keepReport, type More, partsOf, type ReportParts, reportOf } from "./matches/kept-report.ts";
export { type Account, reconcile } from "./matches/reconcile.ts";
export { createSharing, type Sharing } from "./matches/sharing.ts";
export * from "./order.ts";
export * from "./people/check-link.ts";
export * from "./people/link-candidates.ts";
export * from "./people/links.ts";
export * from "./people/player-code.ts";
export * from "./replay/admission.ts";
export * from "./replay/adoption.ts";
export * from "./replay/calendar.ts";
export {
  byMatchOrder,
  bySetOrder,
  type CardInput,
  type FoldedCard,
  type FoldInput,
  type PlayedMatch,
} from "./replay/card-input.ts";
export { countUpTo, type Lines, lastGame, linesOf } from "./replay/card-lines.ts";
export { type Career, isInPast, type Past } from "./replay/career.ts";
export type { Counted, CountedEntries } from "./replay/counted.ts";
export { foldRows } from "./replay/fold.ts";
export * from "./replay/fold-card.ts";
export type { Arrival } from "./replay/held.ts";
export * from "./replay/in-force.ts";
export * from "./replay/ledger.ts";
export { RunningCard, type RunningFold } from "./replay/running-card.ts";
export * from "./replay/signatures.ts";
export * from "./replay/steps.ts";
export * from "./replay/touched.ts";
export * from "./result.ts";
export * from "./review/counts.ts";
export {
  gamesToReview,
  type LeftOutReason,
  leftOutReasons,
  type ReviewedGame,
  type Span,
} from "./review/games.ts";
export { type StrokeRecord, type StrokeTaking, strokeRecords } from "./review/strokes-taken.ts";
export * from "./rules/catalogue.ts";
export { checkRuleSet, type RuleSetFault } from "./rules/check.ts";
export * from "./rules/effective.ts";
export { gapsOf } from "./rules/gaps.ts";
export * from "./rules/older-scale.ts";
export * from "./rules/rule-set.ts";
export * from "./rules/starting.ts";
export * from "./rules/triggers.ts";
export * from "./state.ts";
export * from "./strokes/choice.ts";
export * from "./strokes/conversion.ts";
export { doublesExtras } from "./strokes/doubles.ts";
export * from "./strokes/extra-strokes.ts";
export { joinUpdates, pagesOf, updateAfter } from "./transport/cutting.ts";
export * from "./transport/ending.ts";
export * from "./transport/entering.ts";
export * from "./transport/form.ts";
export * from "./transport/frames.ts";
export * from "./transport/refusal.ts";
export * from "./transport/room.ts";
export * from "./transport/screen.ts";
export * from "./transport/token.ts";
export { contentOf, readUpdate } from "./transport/update.ts";
