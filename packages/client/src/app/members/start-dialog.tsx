/** A starting handicap for a member who has none yet. */
import type { PlayerId } from "@sward/core";
import { useState } from "preact/hooks";
import type { Message } from "../../messages.ts";
import { nameOf, useDesk } from "../desk-store.ts";
import { rulesOnDay } from "../entry/rules-on.ts";
import { Button } from "../parts/button.tsx";
import { Dialog } from "../parts/dialog.tsx";
import { Prevail } from "../parts/prevail.tsx";
import { Refused } from "../parts/refused.tsx";
import { save } from "../saved.ts";
import { membersWords } from "../words/members.ts";
import { words } from "../words.ts";
import { noCounts } from "./assessment.ts";
import type { StartFaults, StartForm } from "./joining.ts";
import { startDraft, startFaults } from "./joining.ts";
import { StartFields } from "./start-fields.tsx";

export function StartDialog({ player, onClose }: { readonly player: PlayerId; readonly onClose: () => void }) {
  const desk = useDesk();
  const [form, setForm] = useState<StartForm>({
    counts: noCounts,
    handicap: null,
    index: "",
    from: desk.today(),
    reason: "",
  });
  const [faults, setFaults] = useState<StartFaults | null>(null);
  const [refused, setRefused] = useState<Message | null>(null);
  const name = nameOf(player);
  const { start } = membersWords;

  const submit = async (event: Event): Promise<void> => {
    event.preventDefault();
    const { handicap } = form;
    if (handicap === null) return;
    const wrong = startFaults(form);
    setFaults(wrong);
    if (Object.values(wrong).some((fault) => fault !== null)) return;
    const answer = await save(desk.club, [startDraft(player, form)], start.done(name, handicap));
    setRefused(answer);
    if (answer === null) onClose();
  };

  return (
    <Dialog title={start.title(name)} onClose={onClose}>
      <form onSubmit={(event) => void submit(event)} noValidate>
        <StartFields
          form={form}
          faults={faults}
          rules={rulesOnDay(desk.club.state(), form.from)}
          change={(part) => setForm({ ...form, ...part })}
        />
        <Refused message={refused} />
        <div class="row">
          <Button look="main" type="submit" disabled={form.handicap === null}>
            {words.save}
          </Button>
          <Button onClick={onClose}>{words.cancel}</Button>
        </div>
        <Prevail />
      </form>
    </Dialog>
  );
}
