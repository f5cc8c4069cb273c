/** A newcomer's starting handicap to look at again: confirmed by a signature, or set anew. */
import type { TargetedEvent } from "preact";
import { useState } from "preact/hooks";
import type { Message } from "../../messages.ts";
import { signDraft } from "../card/signing.ts";
import { nameOf, useDesk } from "../desk-store.ts";
import { lazyPart } from "../lazy.tsx";
import { Button, ButtonLink } from "../parts/button.tsx";
import { Refused } from "../parts/refused.tsx";
import { mayHere } from "../permission.ts";
import { places, useHref } from "../place.ts";
import { save } from "../saved.ts";
import { attentionWords } from "../words/attention.ts";
import { reminderWords } from "../words/attention-seldom.ts";
import { focusAfter, MatterBox } from "./matter.tsx";
import type { NewcomerMatter } from "./newcomers.ts";
import { REVIEW_BY } from "./newcomers.ts";

const SetHandicapDialog = lazyPart(() => import("../card/set-handicap-dialog.tsx"), "SetHandicapDialog");

export function NewcomerView({ matter }: { readonly matter: NewcomerMatter }) {
  const desk = useDesk();
  const href = useHref();
  const [fault, setFault] = useState<Message | null>(null);
  const [setting, setSetting] = useState(false);
  const { card, games, plan, player, start, won } = matter;
  const name = nameOf(player);
  const may = mayHere(desk.club, "card-signed");
  const { newcomer } = reminderWords;

  const confirm = async (event: TargetedEvent<HTMLButtonElement>): Promise<void> => {
    const draft = plan === null ? null : signDraft(card, plan);
    if (draft === null) return;
    const moveOn = focusAfter(event.currentTarget);
    const refused = await save(desk.club, [draft], newcomer.done(name, card.handicap));
    setFault(refused);
    if (refused === null) moveOn();
  };

  return (
    <MatterBox
      title={newcomer.title(name, start.handicap, games)}
      actions={
        <>
          <Button
            look="main"
            disabled={!may || plan === null}
            aria-describedby={may ? undefined : "may-not-sign"}
            onClick={(event) => void confirm(event)}
          >
            {newcomer.confirm(card.handicap)}
            <span class="unseen">: {name}</span>
          </Button>
          <Button disabled={!may} onClick={() => setSetting(true)}>
            {newcomer.set}
            <span class="unseen">: {name}</span>
          </Button>
          <ButtonLink href={href(places.member(player))}>
            {attentionWords.card}
            <span class="unseen">: {name}</span>
          </ButtonLink>
        </>
      }
    >
      <p>{newcomer.began(start.date, start.why)}</p>
      <p>{newcomer.since(won, games, start.index, card.index, card.handicap)}</p>
      {games >= REVIEW_BY && <p>{newcomer.late(REVIEW_BY)}</p>}
      <Refused message={fault} />
      {setting && <SetHandicapDialog card={card} onClose={() => setSetting(false)} />}
    </MatterBox>
  );
}
