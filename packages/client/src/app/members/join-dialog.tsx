/** Somebody new: a member with a starting handicap, or a visitor. */

import type { PlayerId } from "@sward/core";
import { useState } from "preact/hooks";
import { randomId } from "../../desk/platform.ts";
import type { Message } from "../../messages.ts";
import { useDesk } from "../desk-store.ts";
import { rulesOnDay } from "../entry/rules-on.ts";
import { recordOf } from "../name-form.ts";
import { Button } from "../parts/button.tsx";
import { Dialog } from "../parts/dialog.tsx";
import { Field } from "../parts/field.tsx";
import { KeyHints } from "../parts/key-hints.tsx";
import { NameFields } from "../parts/name-fields.tsx";
import { Notice } from "../parts/notice.tsx";
import { Prevail } from "../parts/prevail.tsx";
import { Refused } from "../parts/refused.tsx";
import { save } from "../saved.ts";
import { keyWords } from "../words/keys.ts";
import { membersWords } from "../words/members.ts";
import { words } from "../words.ts";
import { noCounts } from "./assessment.ts";
import type { JoinFaults, JoinForm } from "./joining.ts";
import { joinDrafts, joinFaults } from "./joining.ts";
import { StartFields } from "./start-fields.tsx";

export interface JoinDialogProps {
  readonly mayMember: boolean;
  /** Full names that are taken, folded to lower case. */
  readonly names: ReadonlySet<string>;
  readonly onClose: () => void;
}

export function JoinDialog({ mayMember, names, onClose }: JoinDialogProps) {
  const desk = useDesk();
  const [form, setForm] = useState<JoinForm>({
    name: "",
    short: "",
    junior: false,
    standing: mayMember ? "member" : "visitor",
    home: "",
    counts: noCounts,
    handicap: null,
    index: "",
    from: desk.today(),
    reason: "",
  });
  const [faults, setFaults] = useState<JoinFaults | null>(null);
  const [refused, setRefused] = useState<Message | null>(null);
  const [nameFault, setNameFault] = useState<string | null>(null);
  const { add } = membersWords;
  const rules = rulesOnDay(desk.club.state(), form.from);
  const change = (part: Partial<JoinForm>): void => setForm({ ...form, ...part });
  const sameName = names.has(form.name.trim().toLowerCase());

  const submit = async (event: Event): Promise<void> => {
    event.preventDefault();
    const wrong = joinFaults(form);
    setFaults(wrong);
    if (wrong !== null) return;
    const player = randomId() as PlayerId;
    const { name } = recordOf(form);
    const handicap = form.standing === "member" ? form.handicap : null;
    const answer = await save(desk.club, joinDrafts(player, form), add.done(name, handicap));
    setRefused(answer);
    if (answer !== null) return;
    try {
      await desk.club.roster.write(new Map([[player, recordOf(form)]]));
      onClose();
    } catch (cause) {
      setNameFault(String(cause));
    }
  };

  return (
    <Dialog title={add.title} onClose={onClose}>
      <form onSubmit={(event) => void submit(event)} noValidate>
        <NameFields form={form} faults={faults} change={change} />
        <div aria-live="polite">{sameName && <Notice tone="warn" title={add.sameName(form.name.trim())} />}</div>
        <fieldset>
          <legend>{add.who}</legend>
          {(["member", "visitor"] as const).map((standing) => (
            <label key={standing} class="choice">
              <input
                type="radio"
                name="standing"
                checked={form.standing === standing}
                disabled={standing === "member" && !mayMember}
                onChange={() => change({ standing })}
              />
              <span>{add[standing]}</span>
            </label>
          ))}
          {!mayMember && <p class="quiet small">{add.mayNotMember}</p>}
        </fieldset>
        {form.standing === "visitor" ? (
          <Field label={add.home} hint={add.homeHint}>
            {(control) => (
              <input
                {...control}
                maxLength={80}
                value={form.home}
                onInput={(event) => change({ home: event.currentTarget.value })}
              />
            )}
          </Field>
        ) : (
          <StartFields form={form} faults={faults} rules={rules} change={change} />
        )}
        <Refused message={refused} />
        {nameFault !== null && (
          <Notice tone="bad" title={words.nameNotSaved} live>
            <p>{nameFault}</p>
          </Notice>
        )}
        <div class="row">
          <Button look="main" type="submit">
            {words.save}
          </Button>
          <Button onClick={onClose}>{words.cancel}</Button>
          <KeyHints
            keys={[
              ["Enter", keyWords.saves],
              ["Esc", keyWords.backsOut],
            ]}
          />
        </div>
        <Prevail />
      </form>
    </Dialog>
  );
}
