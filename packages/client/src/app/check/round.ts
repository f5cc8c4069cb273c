/**
 * The yearly check of all cards as a round: card after card in the order of names, each looked at once. What was signed or set is in
 * the record and is read from there, so that undoing a signature also undoes it here; where the round stands, and the notes, are this
 * device's own (kept-round.ts). Rejected: keeping "signed" with the round (after an undo the round and the record would disagree).
 */
import type { BookState, Card, Counted, Day, EntryId, PlayerId } from "@sward/core";
import { byCodeUnits, handicapInForce } from "@sward/core";
import { inLastYear, monthsBefore } from "../dates.ts";

export interface Round {
  /** The device's clock when it began, RFC 3339. */
  readonly begun: string;
  /** Cards in the order in which they are looked at, fixed when the round begins. */
  readonly cards: readonly PlayerId[];
  /** The card it is at, from 0; as many as there are cards: at the summary. */
  readonly at: number;
  readonly notes: Readonly<Record<PlayerId, string>>;
  /** Handicaps when the round began, to say afterwards what it changed. */
  readonly was: Readonly<Record<PlayerId, number>>;
}

/** Cards signed within so many months are left out; 0 leaves none out. */
export const skipChoices = [0, 1, 3, 6, 12] as const;
export type SkipMonths = (typeof skipChoices)[number];

export interface Checkable {
  readonly player: PlayerId;
  readonly name: string;
  readonly handicap: number;
}

const collator = new Intl.Collator(undefined, { sensitivity: "base" });

/** Members' cards a round would go through, by name. */
export function cardsToCheck(
  { cards, players }: Pick<BookState, "cards" | "players">,
  nameOf: (player: PlayerId) => string,
  skip: SkipMonths,
  today: Day,
): readonly Checkable[] {
  const found: Checkable[] = [];
  for (const card of cards.values()) {
    if (players.get(card.player)?.standing !== "member") continue;
    if (skip > 0 && isSignedSince(card, monthsBefore(today, skip))) continue;
    found.push({ player: card.player, name: nameOf(card.player), handicap: handicapInForce(card, today).handicap });
  }
  return found.sort((a, b) => collator.compare(a.name, b.name) || byCodeUnits(a.player, b.player));
}

/** A signature that still holds and covers every line, made after a day. */
const isSignedSince = (card: Card, day: Day): boolean =>
  card.signatures.some(
    ({ at, standing, lines }) => standing === "holds" && lines === card.lines.length && at.slice(0, 10) > day,
  );

export const beginRound = (cards: readonly Checkable[], begun: string): Round => ({
  begun,
  cards: cards.map(({ player }) => player),
  at: 0,
  notes: {},
  was: Object.fromEntries(cards.map(({ player, handicap }) => [player, handicap])),
});

export const moveTo = (round: Round, at: number): Round => ({
  ...round,
  at: Math.max(0, Math.min(at, round.cards.length)),
});

/** An empty note takes the note away. */
export function withNote(round: Round, player: PlayerId, note: string): Round {
  const { [player]: _, ...others } = round.notes;
  const text = note.trim();
  return { ...round, notes: text === "" ? others : { ...others, [player]: text } };
}

/** `left`: for later, with a note. `gone`: no card of a member any more. */
export type Outcome = "signed" | "left" | "open" | "gone";

/** What has become of a card in a round: read from the record, but for notes. */
export function outcomeOf(round: Round, player: PlayerId, card: Card | undefined): Outcome {
  if (card === undefined) return "gone";
  const since = card.signatures.filter(({ at, standing }) => standing === "holds" && at >= round.begun);
  if (since.some(({ lines }) => lines === card.lines.length)) return "signed";
  if (round.notes[player] !== undefined) return "left";
  return "open";
}

export interface Findings {
  /** Places of changes nobody has signed. */
  readonly unsigned: readonly number[];
  readonly touched: number;
  /** Lines played off another handicap, after the last standing signature. */
  readonly playedOff: number;
  /** Games of the last twelve months. */
  readonly games: number;
  readonly last: Day | null;
  readonly lastSigned: { readonly on: Day; readonly upto: Day } | null;
  /** Matches of this player that two reports tell differently. */
  readonly disputed: number;
}

/** Below this many games in a year somebody should look whether the handicap still fits. Common practice in more than one club. */
export const FEW_GAMES = 10;

export function findingsOf(
  card: Card,
  { questions, matches }: Pick<BookState, "questions" | "matches">,
  today: Day,
): Findings {
  let disputed = 0;
  let playedOff = 0;
  let touched = 0;
  for (const question of questions) {
    if (question.about === "disputed-match") {
      const players = matches.get(question.match)?.reports[0]?.facts.sides.flat() ?? [];
      if (players.some(({ player }) => player === card.player)) disputed += 1;
    }
    if (question.about === "played-off" && question.player === card.player) playedOff += 1;
    if (question.about === "touched-signature" && question.player === card.player) touched += 1;
  }
  const games = card.lines.filter(({ line }) => line === "game");
  const signed = [...card.signatures].sort((a, b) => byCodeUnits(a.at, b.at)).at(-1);
  return {
    unsigned: card.unsigned,
    touched,
    playedOff,
    games: games.filter(({ date }) => inLastYear(date, today)).length,
    last: games.at(-1)?.date ?? null,
    lastSigned: signed === undefined ? null : { on: signed.at.slice(0, 10), upto: signed.upto },
    disputed,
  };
}

export interface Tally {
  readonly signed: number;
  readonly left: number;
  readonly open: number;
}

export function tally(round: Round, cards: BookState["cards"]): Tally {
  const counts = { signed: 0, left: 0, open: 0, gone: 0 };
  for (const player of round.cards) counts[outcomeOf(round, player, cards.get(player))] += 1;
  return { signed: counts.signed, left: counts.left, open: counts.open };
}

/** What is left to look at on a card: the lines no standing signature covers, newest first, but at least the last few. */
export function linesToLookAt(card: Card, least: number): Card["lines"] {
  const holding = Math.max(0, ...card.signatures.map((one) => (one.standing === "holds" ? one.lines : 0)));
  return card.lines.slice(Math.max(0, Math.min(holding, card.lines.length - least)));
}

/** Whose card the entries that were saved last are about; null when they are about no one's. */
export function playerOfSaved(counted: Iterable<Counted>, saved: readonly EntryId[]): PlayerId | null {
  if (saved.length === 0) return null;
  for (const { entry } of counted) {
    if (saved.includes(entry.id) && (entry.kind === "card-signed" || entry.kind === "handicap-set")) {
      return entry.body.player;
    }
  }
  return null;
}
