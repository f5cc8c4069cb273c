/** Barring a device: what it means, which of its entries is the last that counts, and the club's words where they are needed. */
import type { Device } from "@sward/core";
import { useMemo, useState } from "preact/hooks";
import type { Book } from "../../book/book.ts";
import { actAsRoot } from "../../desk/act-as-root.ts";
import { systemClock, systemRandom } from "../../desk/platform.ts";
import { seedOfWords } from "../../keys/recovery.ts";
import type { Message } from "../../messages.ts";
import { messageOf } from "../../messages.ts";
import { showMoment } from "../dates.ts";
import { relayHere, shortNameOf } from "../desk-store.ts";
import { Button } from "../parts/button.tsx";
import { Dialog } from "../parts/dialog.tsx";
import { Notice } from "../parts/notice.tsx";
import { Refused } from "../parts/refused.tsx";
import { WordsField } from "../parts/words-field.tsx";
import { saved } from "../saved.ts";
import { barringWords } from "../words/barring.ts";
import { entryTold } from "../words/sharing.ts";
import { words } from "../words.ts";
import type { Cut } from "./bar-plan.ts";
import { chainOf, cutsOf } from "./bar-plan.ts";

export interface BarDialogProps {
  readonly book: Book;
  readonly device: Device;
  readonly name: string;
  /** Only the club's own key may. */
  readonly byWords: boolean;
  readonly onClose: () => void;
}

const LISTED = 12;
/** How long the relay may be silent before it counts as out of reach, in milliseconds. */
const PATIENCE = 20_000;

export function BarDialog({ book, device, name, byWords, onClose }: BarDialogProps) {
  const cuts = useMemo(
    () => cutsOf(chainOf(book.entries(), book.state(), device.device), LISTED),
    [book, device.device],
  );
  const [cut, setCut] = useState(0);
  const [text, setText] = useState("");
  const [busy, setBusy] = useState(false);
  const [refused, setRefused] = useState<Message | null>(null);
  const [lost, setLost] = useState<string | null>(null);

  const run = async (): Promise<void> => {
    const answer = await bar(book, device, cuts[cut]?.last ?? null, byWords ? text : null);
    setRefused(answer);
    if (answer !== null) return;
    setText("");
    // A bar cannot be taken back: the key that is changed was known to whoever has the device.
    saved.value = { sentence: barringWords.done(name), undo: null };
    onClose();
  };
  const submit = async (event: Event): Promise<void> => {
    event.preventDefault();
    if (busy) return;
    setBusy(true);
    setLost(null);
    await run().catch((cause: unknown) => setLost(String(cause)));
    setBusy(false);
  };

  return (
    <Dialog title={barringWords.title(name)} onClose={onClose}>
      <form onSubmit={(event) => void submit(event)} noValidate>
        <p>{barringWords.lead}</p>
        <p class="quiet">{barringWords.keeps}</p>
        <fieldset class="devices-cuts">
          <legend>{barringWords.last}</legend>
          <p class="quiet small">{barringWords.lastHint}</p>
          {cuts.map((one, place) => (
            <label key={one.last?.id ?? "none"} class="choice">
              <input type="radio" name="cut" checked={cut === place} onChange={() => setCut(place)} />
              <span>
                {cutTold(one)}
                <span class="quiet small device-may">{cutHint(one)}</span>
              </span>
            </label>
          ))}
        </fieldset>
        {byWords && (
          <WordsField
            label={barringWords.words}
            hint={`${barringWords.wordsLead} ${barringWords.wordsHint}`}
            text={text}
            onText={setText}
          />
        )}
        <p class="quiet small">{barringWords.noUndo}</p>
        <Refused message={refused} />
        {lost !== null && (
          <Notice tone="bad" title={words.failed.title} live>
            <p class="small">{lost}</p>
          </Notice>
        )}
        <div aria-live="polite">{busy && byWords && <p>{barringWords.busy}</p>}</div>
        <div class="row">
          <Button look="danger" type="submit" disabled={busy}>
            {barringWords.go}
          </Button>
          <Button onClick={onClose}>{words.cancel}</Button>
        </div>
      </form>
    </Dialog>
  );
}

/** @param text the club's words, where they are needed @returns why not, or null */
async function bar(book: Book, { device }: Device, last: Cut["last"], text: string | null): Promise<Message | null> {
  const draft = { kind: "device-barred", body: { device, last } } as const;
  if (text === null) {
    const answer = await book.append([draft]);
    return answer.ok ? null : messageOf(answer.fault);
  }
  const seed = seedOfWords(text);
  if (!seed.ok) return messageOf(seed.fault);
  const deps = { relay: relayHere(), clock: systemClock, randomBytes: systemRandom, patience: PATIENCE };
  const answer = await actAsRoot(seed.value, book, () => [draft], deps);
  return answer.ok ? null : messageOf(answer.fault);
}

function cutTold({ last, entry }: Cut): string {
  if (last === null) return barringWords.nothing;
  return entry === null ? barringWords.notRead : entryTold(entry, shortNameOf);
}

const cutHint = ({ entry, last, after }: Cut): string =>
  [
    entry === null ? "" : showMoment(entry.at),
    last !== null && after === 0 ? barringWords.everything : after > 0 ? barringWords.after(after) : "",
  ]
    .filter((part) => part !== "")
    .join(", ");
