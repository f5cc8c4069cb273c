/**
 * Newcomers whose starting handicap is due to be looked at again: after five to ten games that count, as the governing bodies ask
 * (Setting an Initial Handicap, Croquet England: https://www.croquet.org.uk/?p=games/golf/handicapping/initial). Looked at is a
 * signature after five of them, or a handicap set since; so there is no list of reminders to keep in step between devices.
 *
 * Not a newcomer: who came with an index of a card kept elsewhere, and who was written down before the record's first game, when a
 * club copies in all the cards it has. Rejected: asking about those too (a new record would ask about every member of the club in
 * its first month, and nobody would read the list again).
 */
import type { Card, Day, GameLine, LineReason, PlayerId, RuleSet, SetLine } from "@sward/core";
import { byCodeUnits, triggerOf } from "@sward/core";
import type { SignPlan } from "../card/signing.ts";
import { planWholeCard } from "../card/signing.ts";

/** Games that count after which a start may be looked at, and by which it should have been. */
export const REVIEW_FROM = 5;
export const REVIEW_BY = 10;

export interface NewcomerMatter {
  readonly about: "newcomer";
  readonly player: PlayerId;
  readonly card: Card;
  readonly start: SetLine;
  /** Games that count since the start, and how many of them were won. */
  readonly games: number;
  readonly won: number;
  /** What confirming would sign. */
  readonly plan: SignPlan | null;
}

const counting: ReadonlySet<LineReason> = new Set([
  "handicap-singles",
  "handicap-doubles",
  "level-singles",
  "level-doubles",
]);

/** @param rulesOn the rule set of a day, to know an index that is no trigger point */
export function newcomersDue(
  cards: Iterable<Card>,
  today: Day,
  rulesOn: (day: Day) => RuleSet | undefined,
): readonly NewcomerMatter[] {
  const all = [...cards];
  const first = firstGame(all);
  return all.flatMap((card) => {
    const start = newStart(card, first, rulesOn);
    if (start === null) return [];
    const games = gamesSince(card, start);
    if (games.length < REVIEW_FROM || wasLookedAt(card, games)) return [];
    const won = games.filter(({ points }) => points > 0).length;
    return [
      {
        about: "newcomer",
        player: card.player,
        card,
        start,
        games: games.length,
        won,
        plan: planWholeCard(card, today),
      },
    ];
  });
}

/** Day of the first game that counts on any card; a game from before a start does not. */
const firstGame = (cards: readonly Card[]): Day =>
  cards
    .flatMap(({ lines }) => lines.find((line) => line.line === "game" && counting.has(line.reason))?.date ?? [])
    .sort(byCodeUnits)[0] ?? "";

/** The line a newcomer began with; null for everybody else. */
function newStart({ lines }: Card, first: Day, rulesOn: (day: Day) => RuleSet | undefined): SetLine | null {
  const set = lines.filter((line): line is SetLine => line.line === "set");
  const [start, later] = set;
  if (start === undefined || later !== undefined || start.basis !== "initial" || start.date <= first) return null;
  const rules = rulesOn(start.date);
  const trigger = rules === undefined ? undefined : triggerOf(rules, start.handicap);
  return trigger === undefined || trigger === start.index ? start : null;
}

const gamesSince = ({ lines }: Card, start: SetLine): readonly GameLine[] =>
  lines
    .slice(lines.indexOf(start))
    .filter((line): line is GameLine => line.line === "game" && counting.has(line.reason));

/** A signature counts by the day it reaches: what was signed was looked at, whatever has changed below it since. */
function wasLookedAt({ signatures }: Card, games: readonly GameLine[]): boolean {
  const fifth = games[REVIEW_FROM - 1]?.date ?? "";
  return signatures.some(({ upto, lines }) => upto >= fifth && lines > REVIEW_FROM);
}
