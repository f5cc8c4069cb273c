/**
 * What a handicapper has to look at, found in the state and nowhere else: settling a question is making an entry, after which it
 * is no longer found. So there is no list of tasks to keep in step, and every device asks the same. Rejected: notices stored as
 * records (two devices would dismiss them differently).
 *
 * SPEC: RP.
 */
import type { EntryId, PlayerId } from "../ids.ts";
import { byCodeUnits } from "../order.ts";
import type { Card, Device, Match, Player, Question } from "../state.ts";

export interface Rivalry {
  readonly of: EntryId;
  readonly counts: EntryId;
  readonly others: readonly EntryId[];
}

export interface QuestionSources {
  readonly cards: ReadonlyMap<PlayerId, Card>;
  readonly players: ReadonlyMap<PlayerId, Player>;
  readonly devices: ReadonlyMap<string, Device>;
  readonly held: Iterable<Match>;
  /** Matches of a fixture that only one side has reported. */
  readonly oneSided: Iterable<Match>;
  readonly rivalries: readonly Rivalry[];
  readonly unknownRules: readonly string[];
}

export function findQuestions(from: QuestionSources): Question[] {
  const found: Question[] = [];
  for (const match of from.held) found.push({ about: "disputed-match", match: match.key });
  for (const { of, counts, others } of from.rivalries) found.push({ about: "rival-corrections", of, counts, others });
  for (const card of from.cards.values()) cardQuestions(card, found);
  for (const { player, standing } of from.players.values()) {
    if (standing === "member" && !from.cards.has(player)) found.push({ about: "no-handicap", player });
  }
  for (const { device, forkedAt } of from.devices.values()) {
    if (forkedAt !== null) found.push({ about: "forked-device", device, seq: forkedAt });
  }
  for (const match of from.oneSided) found.push({ about: "one-report", match: match.key });
  for (const rules of from.unknownRules) found.push({ about: "unknown-rules", rules });
  return found.sort(byUrgency);
}

function cardQuestions(card: Card, found: Question[]): void {
  const { player } = card;
  for (const line of card.unsigned) {
    const date = card.lines[line]?.date ?? "";
    found.push({ about: "unsigned-change", player, line, date });
  }
  // A touched signature is answered by signing anew up to the same day or later.
  const holding = Math.max(0, ...card.signatures.map((one) => (one.standing === "holds" ? one.lines : 0)));
  for (const signature of card.signatures) {
    const line = signature.firstTouched;
    if (line !== null && line >= holding) {
      found.push({ about: "touched-signature", player, signature: signature.entry, line });
    }
  }
  for (const [position, line] of card.lines.entries()) {
    if (line.line === "game" && line.notice !== null && position >= holding) {
      found.push({ about: "played-off", player, match: line.match, line: position });
    }
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

const byUrgency = (a: Question, b: Question): number =>
  urgency[a.about] - urgency[b.about] || byCodeUnits(JSON.stringify(a), JSON.stringify(b));
