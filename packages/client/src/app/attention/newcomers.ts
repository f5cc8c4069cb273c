/**
 * Newcomers whose starting handicap is due to be looked at again: after five to ten games that count, as the governing bodies ask
 * (Setting an Initial Handicap, Croquet England: https://www.croquet.org.uk/?p=games/golf/handicapping/initial). Looked at is a
 * signature after five of them, or a handicap set since; so there is no list of reminders to keep in step between devices.
 *
 * Not a newcomer: who came with an index of a card kept elsewhere. Of those written down before the record's first game, when a club
 * copies in all the cards it has, the record cannot tell who was a beginner then: they are one question together, asked of those who
 * stood on a trigger point, and answered by one look. Rejected: a reminder for each of them (a new record would ask about every member
 * of the club in its first month, and nobody would read the list again), and none (a club's first beginners would never be asked about).
 */
import type { Card, CardLine, Day, Draft, GameLine, LineReason, PlayerId, RuleSet, SetLine } from "@sward/core";
import { byCodeUnits, byNumber, triggerOf } from "@sward/core";
import type { SignPlan } from "../card/signing.ts";
import { planWholeCard, signDraft } from "../card/signing.ts";

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

/** Those who began with the record and have five games that count by now, and nobody has looked at their start since. */
export interface FoundersMatter {
  readonly about: "founders";
  /** Most games first. */
  readonly founders: readonly NewcomerMatter[];
}

const counting: ReadonlySet<LineReason> = new Set([
  "handicap-singles",
  "handicap-doubles",
  "level-singles",
  "level-doubles",
]);

/**
 * Newcomers one by one, and those who began with the record together.
 * @param rulesOn the rule set of a day, to know an index that is no trigger point
 */
export function newcomersDue(
  cards: Iterable<Card>,
  today: Day,
  rulesOn: (day: Day) => RuleSet | undefined,
): readonly (NewcomerMatter | FoundersMatter)[] {
  const all = [...cards];
  let first: Day = "";
  for (const card of all) {
    const began = readOnce(card).first;
    if (began !== undefined && (first === "" || began < first)) first = began;
  }
  const founders: NewcomerMatter[] = [];
  const newcomers = all.flatMap((card): NewcomerMatter[] => {
    const { initial, games } = readOnce(card);
    const start = initial === null ? null : atTrigger(initial, rulesOn);
    if (start === null) return [];
    if (games.length < REVIEW_FROM || wasLookedAt(card, games)) return [];
    const won = games.filter(({ points }) => points > 0).length;
    const matter: NewcomerMatter = {
      about: "newcomer",
      player: card.player,
      card,
      start,
      games: games.length,
      won,
      plan: planWholeCard(card, today),
    };
    if (start.date > first) return [matter];
    if (!startWasSeen(card, games)) founders.push(matter);
    return [];
  });
  founders.sort((a, b) => byNumber(b.games, a.games) || byCodeUnits(a.player, b.player));
  return founders.length === 0 ? newcomers : [...newcomers, { about: "founders", founders }];
}

/** What "none of them was a beginner" writes: the start of each is seen, and nothing that came after it. */
export const foundersDrafts = ({ founders }: Pick<FoundersMatter, "founders">): readonly Draft[] =>
  founders.flatMap(({ card, start }) => signDraft(card, { upto: start.date }) ?? []);

interface Beginning {
  /** Day of the first game that counts; a game from before a start does not. */
  readonly first: Day | undefined;
  /** The only handicap ever set, at the start; null for everybody else. */
  readonly initial: SetLine | null;
  /** Games that count since then. */
  readonly games: readonly GameLine[];
}

const beginnings = new WeakMap<Card, Beginning>();

/** A card is never changed, and what changes makes another: each is read through once, and not with every game of anybody. */
function readOnce(card: Card): Beginning {
  const known = beginnings.get(card);
  if (known !== undefined) return known;
  const { lines } = card;
  const [start, later] = lines.filter((line): line is SetLine => line.line === "set");
  const initial = start !== undefined && later === undefined && start.basis === "initial" ? start : null;
  const isGame = (line: CardLine): line is GameLine => line.line === "game" && counting.has(line.reason);
  const beginning = {
    first: lines.find(isGame)?.date,
    initial,
    games: initial === null ? [] : lines.slice(lines.indexOf(initial)).filter(isGame),
  };
  beginnings.set(card, beginning);
  return beginning;
}

/** A start on a trigger point. */
function atTrigger(start: SetLine, rulesOn: (day: Day) => RuleSet | undefined): SetLine | null {
  const rules = rulesOn(start.date);
  const trigger = rules === undefined ? undefined : triggerOf(rules, start.handicap);
  return trigger === undefined || trigger === start.index ? start : null;
}

/** Signed on the day of the fifth game or later, however far it reaches: somebody who had these games before him saw the start. */
const startWasSeen = ({ signatures }: Card, games: readonly GameLine[]): boolean =>
  signatures.some(({ at }) => at.slice(0, 10) >= (games[REVIEW_FROM - 1]?.date ?? ""));

/** A signature counts by the day it reaches: what was signed was looked at, whatever has changed below it since. */
function wasLookedAt({ signatures }: Card, games: readonly GameLine[]): boolean {
  const fifth = games[REVIEW_FROM - 1]?.date ?? "";
  return signatures.some(({ upto, lines }) => upto >= fifth && lines > REVIEW_FROM);
}
