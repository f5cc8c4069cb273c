/** A name corrected: it is in the roster beside the record, so nothing in the record changes. */
import type { PlayerId } from "@sward/core";
import { useState } from "preact/hooks";
import { useDesk } from "../desk-store.ts";
import type { NameForm, NameFormFaults } from "../name-form.ts";
import { nameFaults, recordOf } from "../name-form.ts";
import { rosterRecordOf } from "../names.ts";
import { Button } from "../parts/button.tsx";
import { Dialog } from "../parts/dialog.tsx";
import { NameFields } from "../parts/name-fields.tsx";
import { Notice } from "../parts/notice.tsx";
import { saved } from "../saved.ts";
import { cardWords } from "../words/card.ts";
import { words } from "../words.ts";

export function NameDialog({ player, onClose }: { readonly player: PlayerId; readonly onClose: () => void }) {
  const desk = useDesk();
  const held = rosterRecordOf(desk, player);
  const [form, setForm] = useState<NameForm>({
    name: held?.name ?? "",
    short: held?.short ?? "",
    junior: held?.junior === true,
  });
  const [faults, setFaults] = useState<NameFormFaults | null>(null);
  const [cause, setCause] = useState<string | null>(null);

  const submit = async (event: Event): Promise<void> => {
    event.preventDefault();
    const wrong = nameFaults(form);
    setFaults(wrong);
    if (wrong !== null) return;
    try {
      await desk.club.roster.write(new Map([[player, recordOf(form)]]));
      saved.value = { sentence: cardWords.name.done, undo: null };
      onClose();
    } catch (fault) {
      setCause(String(fault));
    }
  };

  return (
    <Dialog title={cardWords.name.title} onClose={onClose}>
      <form onSubmit={(event) => void submit(event)} noValidate>
        <NameFields form={form} faults={faults} change={setForm} />
        {cause !== null && (
          <Notice tone="bad" title={words.nameNotSaved} live>
            <p>{cause}</p>
          </Notice>
        )}
        <div class="row">
          <Button look="main" type="submit">
            {words.save}
          </Button>
          <Button onClick={onClose}>{words.cancel}</Button>
        </div>
      </form>
    </Dialog>
  );
}
