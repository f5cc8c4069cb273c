/**
 * Up to which day a card is signed. A signature covers days, not lines, so it should end where what was looked at ends: with the
 * day, or the event, after which a change takes effect. Signing up to today as a matter of course was rejected, since the next
 * game of the same afternoon would then touch the signature.
 */
import type { Card, CardLine, Day, Draft } from "@sward/core";
import { cardToSign, linesOf, standsAt } from "@sward/core";

export interface SignPlan {
  readonly upto: Day;
  /** Lines it covers that no standing signature does yet. */
  readonly fresh: number;
  readonly handicap: number;
  readonly index: number;
  /** The day, or the event, is not over: a later result of it would have to be looked at again. */
  readonly stillOpen: boolean;
}

/** For the whole card as it is; null when there is no line to sign by today. */
export function planWholeCard(card: Card, today: Day): SignPlan | null {
  const lines = linesOf(card);
  return lines.count === 0 ? null : planFor(card, windowEnd(lines.lineAt(lines.count - 1)), today);
}

/** For what is asked about the card: unsigned changes, touched signatures, lines off another handicap. */
export function planQuestions(card: Card, asked: readonly number[], today: Day): SignPlan | null {
  const lines = linesOf(card);
  const days = asked.flatMap((place) => (place < lines.count ? [windowEnd(lines.lineAt(place))] : []));
  for (const { standing, upto } of card.signatures) if (standing === "touched") days.push(upto);
  return days.length === 0 ? null : planFor(card, days.sort().at(-1) ?? "", today);
}

/** What signing writes. */
export function signDraft(card: Card, { upto }: Pick<SignPlan, "upto">): Draft | null {
  const signed = cardToSign(card, upto);
  return signed === null ? null : { kind: "card-signed", body: { player: card.player, ...signed } };
}

/** How many of a card's first lines a standing signature covers. */
export const holdingLines = ({ signatures }: Pick<Card, "signatures">): number =>
  Math.max(0, ...signatures.map(({ standing, lines }) => (standing === "holds" ? lines : 0)));

function planFor(card: Card, day: Day, today: Day): SignPlan | null {
  const upto = day < today ? day : today;
  const stands = standsAt(card, upto);
  if (stands === null) return null;
  const { handicap, index, lines } = stands;
  return { upto, fresh: Math.max(0, lines - holdingLines(card)), handicap, index, stillOpen: day >= today };
}

/** The last day on which a result could still belong to what the line closes. */
const windowEnd = (line: CardLine): Day => (line.line === "game" ? (line.moved?.after ?? line.date) : line.date);
