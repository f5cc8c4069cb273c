/**
 * What a card is folded from, and the order it is folded in. Settings of the handicap and matches are told apart by their own form and
 * lie in one list: so there is one order, one place to look something up in, and no second list to keep in step.
 *
 * SPEC: RP.
 */
import type { EventId, PlayerId } from "../ids.ts";
import { byAuthorInOrder } from "../ledger/chain.ts";
import { dayDigits } from "../ledger/day-digits.ts";
import type { EntryOf } from "../ledger/entry.ts";
import type { Day, Occasion } from "../ledger/kinds.ts";
import type { SingleGame } from "../matches/single-game.ts";
import { byCodeUnits } from "../order.ts";
import type { CardLine, Match, MatchFacts } from "../state.ts";
import type { Adoptions } from "./adoption.ts";

/** A match whose facts count, as the fold needs it. */
export type PlayedMatch = Pick<Match, "key" | "event" | "start" | "status"> &
  Partial<SingleGame> & { readonly facts: MatchFacts };

export type Setting = EntryOf<"handicap-set">;

/** What lines of a card come from. */
export type Source = PlayedMatch | Setting;

export const isSetting = (source: Source): source is Setting => "body" in source;

export const dateOf = (source: Source): Day => (isSetting(source) ? source.body.from : source.facts.date);

/** What a fold reads besides the games and settings that it is given one by one. */
export interface FoldInput {
  readonly player: PlayerId;
  readonly adoptions: Adoptions;
  readonly events: Pick<
    ReadonlyMap<EventId, { readonly occasion: Occasion; readonly from: Day; readonly to: Day }>,
    "get"
  >;
  /** Ids the player had in matches of another club's record. */
  readonly also?: ReadonlySet<PlayerId>;
}

export interface CardInput extends FoldInput {
  /** Standing settings of the player's handicap, in any order. */
  readonly sets: readonly Setting[];
  /** Matches the player took part in, in any order. */
  readonly matches: readonly PlayedMatch[];
}

export interface FoldedCard {
  readonly lines: readonly CardLine[];
  readonly handicap: number;
  readonly index: number;
}

const basisRank = { initial: 0, transfer: 1, discretionary: 2 } as const;

export const bySetOrder = (a: Setting, b: Setting): number =>
  byCodeUnits(a.body.from, b.body.from) || basisRank[a.body.basis] - basisRank[b.body.basis] || byAuthorInOrder(a, b);

/** By day, then by stated starting time (unstated last), then by the match's identity, which no clock or arrival can move. */
export const byMatchOrder = (a: PlayedMatch, b: PlayedMatch): number =>
  dayOf(a) - dayOf(b) || byCodeUnits(a.start ?? "~", b.start ?? "~") || byCodeUnits(a.key, b.key);

/** As `dayDigits` has it. */
export const dayOf = ({ day, facts }: PlayedMatch): number => day ?? dayDigits(facts.date);

/** Settings come before the games of their day. */
export function bySourceOrder(a: Source, b: Source): number {
  if (isSetting(a)) return isSetting(b) ? bySetOrder(a, b) : a.body.from <= b.facts.date ? -1 : 1;
  return isSetting(b) ? -bySourceOrder(b, a) : byMatchOrder(a, b);
}
