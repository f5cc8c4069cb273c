/** The front of a card: who, the handicap in force today, the index, and how far the next change is. */
import type { Card, Player, RuleSet } from "@sward/core";
import { handicapInForce } from "@sward/core";
import { Badge } from "../parts/badge.tsx";
import { Numeral } from "../parts/numeral.tsx";
import { cardWords } from "../words/card.ts";
import { number } from "../words.ts";
import { nextTriggers } from "./next-triggers.ts";

export interface CardFrontProps {
  readonly card: Card;
  readonly player: Player;
  readonly today: string;
  readonly rules: { readonly set: RuleSet; readonly from: string } | null;
}

export function CardFront({ card, player, today, rules }: CardFrontProps) {
  const { handicap, waiting } = handicapInForce(card, today);
  const next = rules === null ? null : nextTriggers(rules.set, handicap, card.index);
  return (
    <div class="card-front">
      <Numeral value={handicap} large label={cardWords.inForce} />
      <div class="card-index">
        <span class="card-index-value">{number(card.index)}</span>
        <span class="numeral-label">{cardWords.index}</span>
      </div>
      <div>
        {waiting !== null && <Badge tone="info">{cardWords.waiting(waiting.to, waiting.after)}</Badge>}
        {player.standing === "left" && <p>{cardWords.left}</p>}
        {next !== null && (
          <ul class="card-next" aria-label={cardWords.next}>
            <li>
              <span aria-hidden="true">↓ </span>
              {next.lower === null
                ? cardWords.noLower
                : cardWords.down(next.lower.away, next.lower.handicap, next.lower.trigger)}
            </li>
            <li>
              <span aria-hidden="true">↑ </span>
              {next.higher === null
                ? cardWords.noHigher
                : cardWords.up(next.higher.away, next.higher.handicap, next.higher.trigger)}
            </li>
          </ul>
        )}
        {rules !== null && <p class="quiet small">{cardWords.rules(rules.set.title, rules.from)}</p>}
      </div>
    </div>
  );
}
