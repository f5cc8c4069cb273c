/**
 * A club recovered by its words: they are read, the record is taken from the relay or from a copy, this browser becomes a handicapper's
 * device.
 */
import { ruleSets } from "@sward/core";
import { useState } from "preact/hooks";
import { useLocation } from "preact-iso";
import { readClubCopy } from "../../desk/club-copy.ts";
import type { FirstDevice } from "../../desk/found.ts";
import { withOffice } from "../../desk/league-office.ts";
import type { Pass } from "../../desk/pass.ts";
import { systemClock, systemRandom } from "../../desk/platform.ts";
import type { RecoveredClub } from "../../desk/recover.ts";
import { recoverClub } from "../../desk/recover.ts";
import { recoverFromCopy } from "../../desk/recover-from-copy.ts";
import { seedOfWords } from "../../keys/recovery.ts";
import type { Message } from "../../messages.ts";
import { messageOf } from "../../messages.ts";
import { relayHere } from "../desk-store.ts";
import { becomeDevice } from "../devices-here.ts";
import { recordOf } from "../name-form.ts";
import { Button } from "../parts/button.tsx";
import { Field } from "../parts/field.tsx";
import { Notice } from "../parts/notice.tsx";
import { Page } from "../parts/page.tsx";
import { Refused } from "../parts/refused.tsx";
import { WordsField } from "../parts/words-field.tsx";
import { shortId } from "../passes.ts";
import { storageHere } from "../storage-here.ts";
import { foundWords } from "../words/found.ts";
import { officeName } from "../words/found-league.ts";
import { words } from "../words.ts";
import type { Faults, WhoForm } from "./found-form.ts";
import { tidy, whoFaults } from "./found-form.ts";
import { WhoFields } from "./who-fields.tsx";

/** How long the relay may be silent before it counts as out of reach, in milliseconds. */
const PATIENCE = 20_000;

type From = "relay" | "copy";

const deps = { clock: systemClock, randomBytes: systemRandom, optionsFor: storageHere };

const atRelay = (seed: Uint8Array, first: FirstDevice) =>
  recoverClub(seed, first, { ...deps, relay: relayHere(), patience: PATIENCE });

async function inCopy(seed: Uint8Array, first: FirstDevice, file: File) {
  const copy = readClubCopy(await file.text());
  return copy.ok ? recoverFromCopy(seed, first, copy.value, deps) : copy;
}

interface Found {
  readonly club: string;
  readonly entries: number;
  readonly href: string;
}

export function RecoverScreen() {
  const { route } = useLocation();
  const said = foundWords.recover;
  const [text, setText] = useState("");
  const [form, setForm] = useState<WhoForm>({ you: "", device: "" });
  const [faults, setFaults] = useState<Faults<WhoForm> | null>(null);
  const [refused, setRefused] = useState<Message | null>(null);
  const [lost, setLost] = useState<string | null>(null);
  const [busy, setBusy] = useState(false);
  const [found, setFound] = useState<Found | null>(null);
  const [from, setFrom] = useState<From>("relay");
  const [file, setFile] = useState<File | null>(null);
  const [looked, setLooked] = useState(false);

  /** A league's officers are no club: their desk has an office in a club's place. */
  const deskOf = async ({ as, name, pass }: RecoveredClub, first: FirstDevice): Promise<Pass | null> => {
    if (as === "club") return pass;
    const office = { name: officeName(name), rules: ruleSets[0]?.id ?? "", from: systemClock.today() };
    const moved = await withOffice(pass, office, first, deps);
    setRefused(moved.ok ? null : messageOf(moved.fault));
    return moved.ok ? moved.value : null;
  };
  const recover = async (seed: Uint8Array): Promise<void> => {
    const label = tidy(form.device);
    const first = { label, holder: recordOf({ name: form.you, short: "", junior: false }) };
    const answer = file === null || from === "relay" ? await atRelay(seed, first) : await inCopy(seed, first, file);
    setRefused(answer.ok ? null : messageOf(answer.fault));
    if (!answer.ok) return;
    const { name, entries } = answer.value;
    const pass = await deskOf(answer.value, first);
    if (pass === null) return;
    const kept = await becomeDevice({ ...pass, label: `${label}, ${name}`.slice(0, 80) });
    setText("");
    setFound({ club: name, entries, href: `/d/${shortId(kept.device)}/` });
  };
  const submit = async (event: Event): Promise<void> => {
    event.preventDefault();
    const wrong = whoFaults(form);
    const seed = seedOfWords(text);
    setFaults(wrong);
    setRefused(seed.ok ? null : messageOf(seed.fault));
    setLooked(true);
    if (wrong !== null || !seed.ok || busy || (from === "copy" && file === null)) return;
    setBusy(true);
    setLost(null);
    await recover(seed.value).catch((cause: unknown) => setLost(String(cause)));
    setBusy(false);
  };

  if (found !== null) {
    return (
      <Page title={said.title}>
        <Notice tone="good" title={said.done(found.club, found.entries)} live>
          <p>{said.bar}</p>
        </Notice>
        <Button look="main" onClick={() => route(found.href, true)}>
          {said.open}
        </Button>
      </Page>
    );
  }
  return (
    <Page title={said.title} lead={said.lead}>
      <p>{said.need}</p>
      <form onSubmit={(event) => void submit(event)} noValidate>
        <WordsField label={said.words} hint={said.wordsHint} text={text} onText={setText} />
        <fieldset>
          <legend>{said.from}</legend>
          {(["relay", "copy"] as const).map((one) => (
            <label key={one} class="choice found-from">
              <input type="radio" name="from" checked={from === one} onChange={() => setFrom(one)} />
              <span>
                {said[one]}
                <span class="quiet small">{said[`${one}Hint`]}</span>
              </span>
            </label>
          ))}
        </fieldset>
        {from === "copy" && (
          <Field label={said.file} error={looked && file === null ? said.fileMissing : null}>
            {(control) => (
              <input {...control} type="file" onChange={(event) => setFile(event.currentTarget.files?.[0] ?? null)} />
            )}
          </Field>
        )}
        <WhoFields form={form} faults={faults} change={(part) => setForm({ ...form, ...part })} />
        <Refused message={refused} />
        {lost !== null && (
          <Notice tone="bad" title={words.failed.title} live>
            <p>{words.failed.body}</p>
            <p class="small">{lost}</p>
          </Notice>
        )}
        <div aria-live="polite">{busy && <p>{said.busy}</p>}</div>
        <Button look="main" type="submit" disabled={busy}>
          {said.go}
        </Button>
      </form>
    </Page>
  );
}
