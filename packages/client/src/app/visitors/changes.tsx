/** What a link, or undoing one, changes: matches that become one or several again, and cards before and after. */
import type { BookState, Match, PlayerId } from "@sward/core";
import { gamesWords, playersWords } from "../attention/accounts.ts";
import { showDay } from "../dates.ts";
import { nameOf, useDesk } from "../desk-store.ts";
import type { NamedDesk } from "../names.ts";
import { nameIn, rosterRecordOf } from "../names.ts";
import { visitorWords } from "../words/visitors.ts";
import type { CardSays, LinkPreview } from "./link-preview.ts";
import { factsOf } from "./link-preview.ts";

export interface ChangesProps {
  readonly preview: LinkPreview;
  /** The record as it would be. */
  readonly after: BookState;
}

export function Changes({ preview: { becomeOne, becomeSeveral, cards, matches }, after }: ChangesProps) {
  const desk = useDesk();
  const { preview: said } = visitorWords;
  return (
    <>
      <p>{said.games(matches)}</p>
      {becomeSeveral.length > 0 ? (
        <Matches said={said.becomeSeveral(becomeSeveral.length)} matches={becomeSeveral} />
      ) : becomeOne.length > 0 ? (
        <Matches said={said.becomeOne(becomeOne.length)} matches={becomeOne} />
      ) : (
        <p>{said.noneOne}</p>
      )}
      {cards.length === 0 ? (
        <p>{said.noCards}</p>
      ) : (
        <table class="visitor-changes">
          <caption>{said.cards}</caption>
          <thead>
            <tr>
              <th scope="col">{said.player}</th>
              <th scope="col">{said.before}</th>
              <th scope="col">{said.after}</th>
            </tr>
          </thead>
          <tbody>
            {cards.map((card) => (
              <tr key={card.player}>
                <th scope="row">{cardName(card.player, after, desk)}</th>
                <td>{saysWords(card.before)}</td>
                <td>{saysWords(card.after)}</td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
      <p class="quiet small">{said.once}</p>
    </>
  );
}

/** Under its new id a person has no name here yet. */
const cardName = (player: PlayerId, { players }: BookState, desk: NamedDesk): string => {
  const ids = [player, ...(players.get(player)?.alsoKnownAs ?? [])];
  return nameIn(desk, ids.find((id) => rosterRecordOf(desk, id) !== undefined) ?? player);
};

function saysWords(says: CardSays | null): string {
  const { preview: said } = visitorWords;
  return says === null ? said.noCard : said.says(says.handicap, says.index, says.games);
}

function Matches({ said, matches }: { readonly said: string; readonly matches: readonly Match[] }) {
  return (
    <>
      <p>{said}</p>
      <ul>
        {matches.map((match) => {
          const facts = factsOf(match);
          if (facts === null) return null;
          const held = match.status === "held" ? ` (${visitorWords.preview.held})` : "";
          return (
            <li key={match.key}>
              {`${showDay(facts.date)}: ${playersWords(facts, nameOf)}, ${gamesWords(facts.games)}${held}`}
            </li>
          );
        })}
      </ul>
    </>
  );
}
