/** A handicap set by decision: the index that goes with it is shown before saving. */
import type { Card } from "@sward/core";
import { handicapInForce } from "@sward/core";
import { useRef, useState } from "preact/hooks";
import type { Message } from "../../messages.ts";
import { nameOf, useDesk } from "../desk-store.ts";
import { rulesOnDay } from "../entry/rules-on.ts";
import { Button } from "../parts/button.tsx";
import { Dialog } from "../parts/dialog.tsx";
import { Field } from "../parts/field.tsx";
import { HandicapSelect } from "../parts/handicap-select.tsx";
import { KeyHints } from "../parts/key-hints.tsx";
import { Prevail } from "../parts/prevail.tsx";
import { Refused } from "../parts/refused.tsx";
import { save } from "../saved.ts";
import { cardWords } from "../words/card.ts";
import { keyWords } from "../words/keys.ts";
import { words } from "../words.ts";
import type { HandicapForm, HandicapFormFaults } from "./handicap-setting.ts";
import { effectOf, faultsOf, isDay, settingDraft } from "./handicap-setting.ts";

export function SetHandicapDialog({ card, onClose }: { readonly card: Card; readonly onClose: () => void }) {
  const desk = useDesk();
  const today = desk.today();
  const [form, setForm] = useState<HandicapForm>({
    handicap: handicapInForce(card, today).handicap,
    from: today,
    reason: "",
  });
  const [faults, setFaults] = useState<HandicapFormFaults | null>(null);
  const [refused, setRefused] = useState<Message | null>(null);
  const reason = useRef<HTMLTextAreaElement>(null);
  const { set } = cardWords;
  const name = nameOf(card.player);
  const rules = rulesOnDay(desk.club.state(), isDay(form.from) ? form.from : today);
  const effect = effectOf(card, rules, form);
  const change = (part: Partial<HandicapForm>): void => setForm({ ...form, ...part });

  const submit = async (event: Event): Promise<void> => {
    event.preventDefault();
    const wrong = faultsOf(form);
    setFaults(wrong);
    if (wrong !== null) {
      if (wrong.reason !== null) reason.current?.focus();
      return;
    }
    const answer = await save(desk.club, [settingDraft(card, form)], set.done(name, form.handicap, form.from));
    setRefused(answer);
    if (answer === null) onClose();
  };

  return (
    <Dialog title={set.title(name)} onClose={onClose}>
      <form onSubmit={(event) => void submit(event)} noValidate>
        <p class="quiet">{set.lead}</p>
        <Field label={set.handicap}>
          {(control) => (
            <HandicapSelect
              control={control}
              rules={rules}
              value={form.handicap}
              choose={(handicap) => change({ handicap })}
            />
          )}
        </Field>
        <Field label={set.from} hint={set.fromHint} error={faults?.from}>
          {(control) => (
            <input
              {...control}
              type="date"
              value={form.from}
              onInput={(event) => change({ from: event.currentTarget.value })}
            />
          )}
        </Field>
        <div aria-live="polite">
          <p>
            {effect.index !== null && set.index(effect.index)} {set.later(effect.later)} {effect.same && set.same}
          </p>
        </div>
        <Field label={set.reason} hint={set.reasonHint} error={faults?.reason}>
          {(control) => (
            <textarea
              {...control}
              ref={reason}
              rows={2}
              maxLength={200}
              value={form.reason}
              onInput={(event) => change({ reason: event.currentTarget.value })}
            />
          )}
        </Field>
        <Refused message={refused} />
        <div class="row">
          <Button look="main" type="submit">
            {words.save}
          </Button>
          <Button onClick={onClose}>{words.cancel}</Button>
          <KeyHints keys={[["Esc", keyWords.backsOut]]} />
        </div>
        <Prevail />
      </form>
    </Dialog>
  );
}
