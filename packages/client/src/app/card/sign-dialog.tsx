/** The handicapper's signature: what it covers is said before it is given. */
import type { Card } from "@sward/core";
import { useState } from "preact/hooks";
import type { Message } from "../../messages.ts";
import { nameOf, useDesk } from "../desk-store.ts";
import { Button } from "../parts/button.tsx";
import { Dialog } from "../parts/dialog.tsx";
import { Refused } from "../parts/refused.tsx";
import { save } from "../saved.ts";
import { cardWords } from "../words/card.ts";
import { words } from "../words.ts";
import { planWholeCard, signDraft } from "./signing.ts";

export function SignDialog({ card, onClose }: { readonly card: Card; readonly onClose: () => void }) {
  const desk = useDesk();
  const [fault, setFault] = useState<Message | null>(null);
  const name = nameOf(card.player);
  const plan = planWholeCard(card, desk.today());
  const { sign } = cardWords;

  const submit = async (event: Event): Promise<void> => {
    event.preventDefault();
    const draft = plan === null ? null : signDraft(card, plan);
    if (plan === null || draft === null) return;
    const refused = await save(desk.club, [draft], sign.done(name, plan.upto));
    setFault(refused);
    if (refused === null) onClose();
  };

  return (
    <Dialog title={sign.title(name)} onClose={onClose}>
      {plan === null ? (
        <>
          <p>{sign.nothing}</p>
          <Button onClick={onClose}>{words.close}</Button>
        </>
      ) : (
        <form onSubmit={(event) => void submit(event)}>
          <p>{sign.covers(plan.upto, plan.fresh)}</p>
          <p>{sign.says(plan.handicap, plan.index)}</p>
          {plan.stillOpen && <p>{sign.stillOpen}</p>}
          <Refused message={fault} />
          <div class="row">
            <Button look="main" type="submit">
              {sign.save}
            </Button>
            <Button onClick={onClose}>{words.cancel}</Button>
          </div>
        </form>
      )}
    </Dialog>
  );
}
