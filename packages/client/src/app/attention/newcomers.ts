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
import type {
  Card,
  CardLine,
  Day,
  Draft,
  GameLine,
  LineReason,
  Lines,
  PlayerId,
  RuleSet,
  SetLine,
  Steps,
} from "@sward/core";
import { byCodeUnits, byNumber, linesOf, triggerOf } from "@sward/core";
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
 * Newcomers one by one, the longest here first, and those who began with the record together.
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
    const { initial, from, fifth } = readOnce(card);
    const start = initial === null ? null : atTrigger(initial, rulesOn);
    if (start === null || fifth === null || wasLookedAt(card, fifth)) return [];
    const isFounder = start.date <= first;
    if (isFounder && startWasSeen(card, fifth)) return [];
    const games = gamesFrom(linesOf(card), from, Number.POSITIVE_INFINITY);
    const matter: NewcomerMatter = {
      about: "newcomer",
      player: card.player,
      card,
      start,
      games: games.length,
      won: games.filter(({ points }) => points > 0).length,
      plan: planWholeCard(card, today),
    };
    if (!isFounder) return [matter];
    founders.push(matter);
    return [];
  });
  newcomers.sort((a, b) => byCodeUnits(a.start.date, b.start.date) || byCodeUnits(a.player, b.player));
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
  /** The place of that line, else 0. */
  readonly from: number;
  /** Day of the game that counts after which that may be looked at; null where there are fewer. */
  readonly fifth: Day | null;
}

const beginnings = new WeakMap<Card, Beginning>();

const isGame = (line: CardLine): line is GameLine => line.line === "game" && counting.has(line.reason);

/**
 * A card is never changed, and what changes makes another: each is read once, and not with every game of anybody. No more of its lines
 * are made than it takes: all of sixty cards of ten years were a fifth of a second of a phone's start.
 */
function readOnce(card: Card): Beginning {
  const known = beginnings.get(card);
  if (known !== undefined) return known;
  const lines = linesOf(card);
  const sets: number[] = [];
  for (let place = 0; place < lines.count && sets.length < 2; place += 1) if (lines.isSetAt(place)) sets.push(place);
  const [from = 0, later] = sets;
  const start = sets.length === 0 ? undefined : lines.lineAt(from);
  const initial = later === undefined && start?.line === "set" && start.basis === "initial" ? start : null;
  const [first] = gamesFrom(lines, 0, 1);
  const firstFive = initial === null ? [] : gamesFrom(lines, from, REVIEW_FROM);
  const beginning = { first: first?.date, initial, from, fifth: firstFive[REVIEW_FROM - 1]?.date ?? null };
  beginnings.set(card, beginning);
  return beginning;
}

/** Reads beginnings, a card in a step: who asks for newcomers after it asks of cards that are read. */
export function* readingBeginnings(cards: Iterable<Card>): Steps<void> {
  for (const card of cards) {
    readOnce(card);
    yield;
  }
}

/** At most so many games that count. */
function gamesFrom(lines: Lines, from: number, most: number): readonly GameLine[] {
  const games: GameLine[] = [];
  for (let place = from; place < lines.count && games.length < most; place += 1) {
    const line = lines.lineAt(place);
    if (isGame(line)) games.push(line);
  }
  return games;
}

/** A start on a trigger point. */
function atTrigger(start: SetLine, rulesOn: (day: Day) => RuleSet | undefined): SetLine | null {
  const rules = rulesOn(start.date);
  const trigger = rules === undefined ? undefined : triggerOf(rules, start.handicap);
  return trigger === undefined || trigger === start.index ? start : null;
}

/** Signed on the day of the fifth game or later, however far it reaches: somebody who had these games before him saw the start. */
const startWasSeen = ({ signatures }: Card, fifth: Day): boolean =>
  signatures.some(({ at }) => at.slice(0, 10) >= fifth);

/** A signature counts by the day it reaches: what was signed was looked at, whatever has changed below it since. */
const wasLookedAt = ({ signatures }: Card, fifth: Day): boolean =>
  signatures.some(({ upto, lines }) => upto >= fifth && lines > REVIEW_FROM);
