/** Those who began with the record: one question for all of them, because nobody but the handicapper knows who was a beginner. */
import type { TargetedEvent } from "preact";
import { useState } from "preact/hooks";
import type { Message } from "../../messages.ts";
import { nameOf, useDesk } from "../desk-store.ts";
import { Button } from "../parts/button.tsx";
import { Refused } from "../parts/refused.tsx";
import { mayHere } from "../permission.ts";
import { places, useHref } from "../place.ts";
import { save } from "../saved.ts";
import { foundersWords } from "../words/founders.ts";
import { focusAfter, MatterBox } from "./matter.tsx";
import type { FoundersMatter } from "./newcomers.ts";
import { foundersDrafts } from "./newcomers.ts";

export function FoundersView({ matter }: { readonly matter: FoundersMatter }) {
  const desk = useDesk();
  const href = useHref();
  const [fault, setFault] = useState<Message | null>(null);
  const { founders } = matter;
  const may = mayHere(desk.club, "card-signed");
  const none = async (event: TargetedEvent<HTMLButtonElement>): Promise<void> => {
    const moveOn = focusAfter(event.currentTarget);
    const refused = await save(desk.club, foundersDrafts(matter), foundersWords.done(founders.length));
    setFault(refused);
    if (refused === null) moveOn();
  };
  return (
    <MatterBox
      title={foundersWords.title(founders.length)}
      actions={
        <Button
          disabled={!may}
          aria-describedby={may ? undefined : "may-not-sign"}
          onClick={(event) => void none(event)}
        >
          {foundersWords.none(founders.length)}
        </Button>
      }
    >
      <p>{foundersWords.lead}</p>
      <ul>
        {founders.map(({ card, games, player, start, won }) => (
          <li key={player}>
            <a href={href(places.member(player))}>{nameOf(player)}</a>:{" "}
            {foundersWords.since(start.handicap, won, games, start.index, card.index)}
          </li>
        ))}
      </ul>
      <Refused message={fault} />
    </MatterBox>
  );
}
