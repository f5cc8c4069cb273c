/** What a line of a card says on paper, where there is no screen to ask: opponents, partner, why nothing moved, who signed. */
import type { Card, GameLine, PlayerId } from "@sward/core";
import { cardWords, whyWords } from "../words/card.ts";

/** Such as "Hal Brindle & Lou Pettifer with Ada Wren (doubles do not move the index here)". */
export function opponentsOnPaper(line: GameLine, nameOf: (player: PlayerId) => string): string {
  const opponents = line.opponents.map(({ player }) => nameOf(player)).join(" & ");
  const partner = line.partner === null ? "" : ` ${cardWords.lines.partner(nameOf(line.partner.player))}`;
  return `${opponents}${partner}${remark(line)}`;
}

/** What a reader of the paper could not see otherwise: why nothing moved, and a handicap that was another one. */
function remark(line: GameLine): string {
  const parts: string[] = [];
  if (line.points === 0) parts.push(whyWords(line));
  if (line.notice !== null) parts.push(cardWords.notice(line.notice.off, line.notice.record));
  return parts.length === 0 ? "" : ` (${parts.join("; ")})`;
}

/** The first signature that still holds and covers the line; null when none does. */
export function signatureOf(
  { signatures }: Pick<Card, "signatures">,
  place: number,
): Card["signatures"][number] | null {
  return signatures.find(({ standing, lines }) => standing === "holds" && lines > place) ?? null;
}
