/** A card without a game for a year: the member has left, or the card is kept for another year. */
import type { Draft } from "@sward/core";
import type { TargetedEvent } from "preact";
import { useState } from "preact/hooks";
import type { Message } from "../../messages.ts";
import { planWholeCard, signDraft } from "../card/signing.ts";
import { nameOf, useDesk } from "../desk-store.ts";
import { Button, ButtonLink } from "../parts/button.tsx";
import { Refused } from "../parts/refused.tsx";
import { mayHere } from "../permission.ts";
import { places, useHref } from "../place.ts";
import { save } from "../saved.ts";
import { attentionWords } from "../words/attention.ts";
import { reminderWords } from "../words/attention-seldom.ts";
import type { IdleMatter } from "./idle.ts";
import { focusAfter, MatterBox } from "./matter.tsx";

export function IdleView({ matter }: { readonly matter: IdleMatter }) {
  const desk = useDesk();
  const href = useHref();
  const [fault, setFault] = useState<Message | null>(null);
  const { card, played, player, since } = matter;
  const name = nameOf(player);
  const today = desk.today();
  const plan = planWholeCard(card, today);
  const { idle } = reminderWords;
  const may = mayHere(desk.club, "card-signed");

  const settle = async (button: HTMLButtonElement, draft: Draft | null, done: string): Promise<void> => {
    if (draft === null) return;
    const moveOn = focusAfter(button);
    const refused = await save(desk.club, [draft], done);
    setFault(refused);
    if (refused === null) moveOn();
  };
  const keep = (event: TargetedEvent<HTMLButtonElement>): void =>
    void settle(event.currentTarget, plan === null ? null : signDraft(card, plan), idle.kept(name));
  const leave = (event: TargetedEvent<HTMLButtonElement>): void =>
    void settle(event.currentTarget, { kind: "player-left", body: { player, on: today } }, idle.leftDone(name));

  return (
    <MatterBox
      title={idle.title(name, since, played)}
      actions={
        <>
          <Button disabled={!may || plan === null} aria-describedby={may ? undefined : "may-not-sign"} onClick={keep}>
            {idle.keep}
            <span class="unseen">: {name}</span>
          </Button>
          <Button
            disabled={!mayHere(desk.club, "player-left")}
            aria-describedby={may ? undefined : "may-not-sign"}
            onClick={leave}
          >
            {idle.left}
            <span class="unseen">: {name}</span>
          </Button>
          <ButtonLink href={href(places.member(player))}>
            {attentionWords.card}
            <span class="unseen">: {name}</span>
          </ButtonLink>
        </>
      }
    >
      <p>{idle.body(card.handicap, card.index)}</p>
      <Refused message={fault} />
    </MatterBox>
  );
}
