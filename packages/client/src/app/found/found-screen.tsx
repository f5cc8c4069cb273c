/**
 * Starting a club, or a league, in three steps: what it is called, its words, two of the words again. Nothing is written before the last: a page closed
 * on the way has started nothing, and the words on the paper of somebody who began anew are never those of a club.
 */
import { ruleSets } from "@sward/core";
import { useState } from "preact/hooks";
import { useLocation } from "preact-iso";
import type { ClubToFound, FirstDevice, FoundDeps } from "../../desk/found.ts";
import { foundClub } from "../../desk/found.ts";
import { systemClock, systemRandom } from "../../desk/platform.ts";
import { wordsIn, wordsOf } from "../../keys/recovery.ts";
import type { Message } from "../../messages.ts";
import { messageOf } from "../../messages.ts";
import { showDayLong } from "../dates.ts";
import { becomeDevice } from "../devices-here.ts";
import { recordOf } from "../name-form.ts";
import { Button } from "../parts/button.tsx";
import { Field } from "../parts/field.tsx";
import { Notice } from "../parts/notice.tsx";
import { Page } from "../parts/page.tsx";
import { Refused } from "../parts/refused.tsx";
import { shortId } from "../passes.ts";
import { storageHere } from "../storage-here.ts";
import type { FoundingWords } from "../words/found.ts";
import { foundWords } from "../words/found.ts";
import { words } from "../words.ts";
import type { Faults, FoundForm } from "./found-form.ts";
import { foundFaults, tidy, twoPlaces } from "./found-form.ts";
import { WhoFields } from "./who-fields.tsx";
import "./found.css";

const nothing: FoundForm = { club: "", rules: ruleSets[0]?.id ?? "", you: "", device: "" };

export const FoundScreen = () => <Founding kind={clubs} />;

/** What is started, in words and in deed. */
export interface FoundingKind {
  readonly said: FoundingWords;
  /** Where the key is kept here unless the person says otherwise. */
  readonly keeps: boolean;
  readonly found: (
    seed: Uint8Array,
    club: ClubToFound,
    first: FirstDevice,
    rootLabel: string | null,
    deps: FoundDeps,
  ) => ReturnType<typeof foundClub>;
}

const clubs: FoundingKind = { said: foundWords, keeps: false, found: foundClub };

export function Founding({ kind }: { readonly kind: FoundingKind }) {
  const { said } = kind;
  const [form, setForm] = useState(nothing);
  const [seed] = useState(() => systemRandom(32));
  const [step, setStep] = useState<"form" | "words" | "check">("form");
  const change = (part: Partial<FoundForm>): void => setForm({ ...form, ...part });
  switch (step) {
    case "form":
      return <FormStep said={said} form={form} change={change} next={() => setStep("words")} />;
    case "words":
      return <WordsStep key="words" said={said} club={tidy(form.club)} seed={seed} next={() => setStep("check")} />;
    case "check":
      return <CheckStep key="check" kind={kind} form={form} seed={seed} back={() => setStep("words")} />;
  }
}

interface FormStepProps {
  readonly said: FoundingWords;
  readonly form: FoundForm;
  readonly change: (part: Partial<FoundForm>) => void;
  readonly next: () => void;
}

function FormStep({ said, form, change, next }: FormStepProps) {
  const [faults, setFaults] = useState<Faults<FoundForm> | null>(null);
  const submit = (event: Event): void => {
    event.preventDefault();
    const wrong = foundFaults(form, said.clubMissing);
    setFaults(wrong);
    if (wrong === null) next();
  };
  return (
    <Page title={said.title} lead={said.lead}>
      <form onSubmit={submit} noValidate>
        <Field label={said.club} hint={said.clubHint} error={faults?.club}>
          {(control) => (
            <input
              {...control}
              autoComplete="organization"
              maxLength={80}
              value={form.club}
              onInput={(event) => change({ club: event.currentTarget.value })}
            />
          )}
        </Field>
        <Field label={said.rules} hint={said.rulesHint}>
          {(control) => (
            <select {...control} value={form.rules} onChange={(event) => change({ rules: event.currentTarget.value })}>
              {ruleSets.map(({ id, title }) => (
                <option key={id} value={id}>
                  {title}
                </option>
              ))}
            </select>
          )}
        </Field>
        <WhoFields form={form} faults={faults} change={change} youHint={said.youHint} />
        <Button look="main" type="submit">
          {said.next}
        </Button>
      </form>
    </Page>
  );
}

interface WordsStepProps {
  readonly said: FoundingWords;
  readonly club: string;
  readonly seed: Uint8Array;
  readonly next: () => void;
}

function WordsStep({ said: { words: said }, club, seed, next }: WordsStepProps) {
  return (
    <Page title={said.title} lead={said.lead}>
      <div class="no-print">
        <Notice tone="warn" title={said.what}>
          <p>{said.todo}</p>
        </Notice>
      </div>
      <div class="found-paper">
        <h2>{said.paperTitle(club)}</h2>
        <p>{said.paperWhat}</p>
        <p>{said.paperDay(showDayLong(systemClock.today()))}</p>
      </div>
      <ol class="found-words" aria-label={said.list} translate={false}>
        {wordsOf(seed).map((word, at) => (
          <li key={`${at} ${word}`}>
            <span class="found-place" aria-hidden="true">
              {at + 1}
            </span>
            {word}
          </li>
        ))}
      </ol>
      <div class="row no-print">
        <Button onClick={() => print()}>{said.print}</Button>
        <Button look="main" onClick={next}>
          {said.written}
        </Button>
      </div>
    </Page>
  );
}

interface CheckStepProps {
  readonly kind: FoundingKind;
  readonly form: FoundForm;
  readonly seed: Uint8Array;
  readonly back: () => void;
}

function CheckStep({ kind, form, seed, back }: CheckStepProps) {
  const { route } = useLocation();
  const [places] = useState(() => twoPlaces(wordsOf(seed).length, systemRandom));
  const [given, setGiven] = useState<readonly [string, string]>(["", ""]);
  const [looked, setLooked] = useState(false);
  const [keep, setKeep] = useState(kind.keeps);
  const [busy, setBusy] = useState(false);
  const [refused, setRefused] = useState<Message | null>(null);
  const [lost, setLost] = useState<string | null>(null);
  const said = kind.said.check;
  const right = wordsOf(seed);
  const wrong = places.map((at, n) => wordsIn(given[n] ?? "").join(" ") !== right[at]);

  const found = async (): Promise<void> => {
    const club = { name: tidy(form.club), rules: form.rules, from: systemClock.today() };
    const holder = recordOf({ name: form.you, short: "", junior: false });
    const deps = { clock: systemClock, randomBytes: systemRandom, optionsFor: storageHere };
    const label = tidy(form.device);
    const rootLabel = keep ? kind.said.rootLabel(club.name) : null;
    const answer = await kind.found(seed, club, { label, holder }, rootLabel, deps);
    setRefused(answer.ok ? null : messageOf(answer.fault));
    if (!answer.ok) return;
    const { pass, rootPass } = answer.value;
    if (rootPass !== null) await becomeDevice(rootPass);
    const kept = await becomeDevice({ ...pass, label: `${label}, ${club.name}`.slice(0, 80) });
    route(`/d/${shortId(kept.device)}/`, true);
  };
  const submit = async (event: Event): Promise<void> => {
    event.preventDefault();
    setLooked(true);
    if (wrong.some(Boolean) || busy) return;
    setBusy(true);
    await found().catch((cause: unknown) => setLost(String(cause)));
    setBusy(false);
  };

  return (
    <Page title={said.title} lead={said.lead}>
      <form onSubmit={(event) => void submit(event)} noValidate>
        {places.map((at, n) => (
          <Field
            key={at}
            label={said.word(at + 1)}
            hint={said.hint}
            error={looked && wrong[n] ? said.wrong(at + 1) : null}
          >
            {(control) => (
              <input
                {...control}
                autoComplete="off"
                autoCapitalize="none"
                spellcheck={false}
                maxLength={20}
                value={given[n] ?? ""}
                onInput={({ currentTarget: { value } }) => setGiven(n === 0 ? [value, given[1]] : [given[0], value])}
              />
            )}
          </Field>
        ))}
        <label class="choice">
          <input type="checkbox" checked={keep} onChange={(event) => setKeep(event.currentTarget.checked)} />
          <span>{said.keep}</span>
        </label>
        <p class="quiet small">{said.keepHint}</p>
        <Refused message={refused} />
        {lost !== null && (
          <Notice tone="bad" title={kind.said.notFounded} live>
            <p>{words.failed.body}</p>
            <p class="small">{lost}</p>
          </Notice>
        )}
        <div class="row">
          <Button look="main" type="submit" disabled={busy}>
            {busy ? said.founding : said.found}
          </Button>
          <Button onClick={back}>{said.back}</Button>
        </div>
      </form>
    </Page>
  );
}
