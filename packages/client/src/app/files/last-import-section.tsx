/** The last import of this device, with the way to take all of it back. */
import { useState } from "preact/hooks";
import type { Message } from "../../messages.ts";
import { showDay } from "../dates.ts";
import { useDesk } from "../desk-store.ts";
import { Button } from "../parts/button.tsx";
import { Dialog } from "../parts/dialog.tsx";
import { Refused } from "../parts/refused.tsx";
import { filesWords } from "../words/files.ts";
import { words as common } from "../words.ts";
import { forgetImport, recallImport } from "./last-import.ts";
import { takeBackImport } from "./saving.ts";

export function LastImportSection() {
  const { club } = useDesk();
  const [asking, setAsking] = useState(false);
  const [busy, setBusy] = useState(false);
  const [refused, setRefused] = useState<Message | null>(null);
  const [, drawAgain] = useState(0);
  const last = recallImport(localStorage, club.device);
  if (last === null) return null;
  const words = filesWords.undo;
  const takeBack = async (): Promise<void> => {
    setBusy(true);
    setRefused(await takeBackImport(club, localStorage, last));
    setBusy(false);
    setAsking(false);
  };
  return (
    <section aria-labelledby="files-last" class="files-last">
      <h3 id="files-last">{words.title}</h3>
      <p>{words.what(last.games, last.name, showDay(last.on))}</p>
      <Refused message={refused} />
      <div class="row">
        <Button look="danger" onClick={() => setAsking(true)}>
          {words.button}
        </Button>
        <Button
          look="quiet"
          onClick={() => {
            forgetImport(localStorage, club.device);
            drawAgain((times) => times + 1);
          }}
        >
          {words.putAway}
        </Button>
      </div>
      {asking && (
        <Dialog title={words.ask(last.games)} onClose={() => setAsking(false)}>
          <p>{words.means}</p>
          <div class="row">
            <Button look="danger" disabled={busy} onClick={() => void takeBack()}>
              {words.yes}
            </Button>
            <Button disabled={busy} onClick={() => setAsking(false)}>
              {common.cancel}
            </Button>
          </div>
          {busy && <progress aria-label={common.saving} />}
        </Dialog>
      )}
    </section>
  );
}
