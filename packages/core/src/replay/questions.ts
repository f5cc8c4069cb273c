/**
 * What a handicapper has to look at, found in the state and nowhere else: settling a question is making an entry, after which it
 * is no longer found. So there is no list of tasks to keep in step, and every device asks the same. Rejected: notices stored as
 * records (two devices would dismiss them differently).
 *
 * SPEC: RP.
 */
import type { BookId, EntryId, PlayerId } from "../ids.ts";
import { canonicalText } from "../ledger/canonical.ts";
import type { Day } from "../ledger/kinds.ts";
import { byCodeUnits } from "../order.ts";
import type { Card, Device, Match, Player, Question } from "../state.ts";
import { rowsOfCard } from "./card-lines.ts";

export interface Rivalry {
  readonly of: EntryId;
  readonly counts: EntryId;
  readonly others: readonly EntryId[];
}

export interface QuestionSources {
  readonly book: BookId;
  readonly cards: ReadonlyMap<PlayerId, Card>;
  readonly players: ReadonlyMap<PlayerId, Player>;
  readonly devices: ReadonlyMap<string, Device>;
  readonly held: Iterable<Match>;
  /** Matches that wait for a second report, and those of a fixture that count with one. */
  readonly oneSided: Iterable<Match>;
  readonly rivalries: readonly Rivalry[];
  readonly unknownRules: readonly string[];
}

export function findQuestions(from: QuestionSources): Question[] {
  const found: Asked[] = [];
  const ask = (question: Question, date: Day | "" = ""): number => found.push(asked(question, date));
  for (const match of from.held) ask({ about: "disputed-match", match: match.key }, dateOf(match));
  for (const { of, counts, others } of from.rivalries) ask({ about: "rival-corrections", of, counts, others });
  for (const card of from.cards.values()) found.push(...cardQuestions(card));
  for (const { player, standing, home } of from.players.values()) {
    if (standing === "member" && home?.book === from.book && !from.cards.has(player))
      ask({ about: "no-handicap", player });
  }
  for (const { device, forkedAt, barred } of from.devices.values()) {
    if (forkedAt !== null && !barred) ask({ about: "forked-device", device, seq: forkedAt });
  }
  for (const match of from.oneSided) ask({ about: "one-report", match: match.key }, dateOf(match));
  for (const rules of from.unknownRules) ask({ about: "unknown-rules", rules });
  return found.sort(byUrgency).map(({ question }) => question);
}

/** Reports of a match may differ in the day: the earliest. */
const dateOf = ({ reports }: Match): Day => reports.map(({ facts }) => facts.date).sort(byCodeUnits)[0] ?? "";

const ofCards = new WeakMap<Card, readonly Asked[]>();
const nothing: readonly Asked[] = [];

/** A card is never changed, and what changes makes another: each is asked about once, and not with every game of anybody. */
function cardQuestions(card: Card): readonly Asked[] {
  const known = ofCards.get(card);
  if (known !== undefined) return known;
  const found: Asked[] = [];
  askAbout(card, (question, date) => found.push(asked(question, date)));
  const kept = found.length === 0 ? nothing : found;
  ofCards.set(card, kept);
  return kept;
}

function askAbout(card: Card, ask: (question: Question, date: Day) => void): void {
  const { player, signatures } = card;
  const rows = rowsOfCard(card);
  for (const line of card.unsigned) {
    const date = rows.dateAt(line);
    ask({ about: "unsigned-change", player, line, date }, date);
  }
  const holding = signatures.filter(({ standing }) => standing === "holds");
  for (const { entry, upto, firstTouched: line } of signatures) {
    // Answered by signing anew up to the same day or later.
    if (line === null || holding.some((one) => one.upto >= upto)) continue;
    ask({ about: "touched-signature", player, signature: entry, line }, upto);
  }
  for (const place of rows.noticedFrom(Math.max(0, ...holding.map((one) => one.lines)))) {
    const line = rows.lineAt(place);
    if (line.line === "game") ask({ about: "played-off", player, match: line.match, line: place }, line.date);
  }
}

const urgency: Readonly<Record<Question["about"], number>> = {
  "unknown-rules": 0,
  "forked-device": 1,
  "disputed-match": 2,
  "rival-corrections": 3,
  "touched-signature": 4,
  "unsigned-change": 5,
  "played-off": 6,
  "no-handicap": 7,
  "one-report": 8,
};

/** A question and the day it is about, where it is about one. */
interface Asked {
  readonly question: Question;
  readonly date: Day | "";
  readonly text: string;
}

const asked = (question: Question, date: Day | ""): Asked => ({ question, date, text: canonicalText(question) });

const byUrgency = (a: Asked, b: Asked): number =>
  urgency[a.question.about] - urgency[b.question.about] || byCodeUnits(a.date, b.date) || byCodeUnits(a.text, b.text);
