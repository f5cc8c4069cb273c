/** A code that was taken: compared, named, and admitted, with the league's words where its own key is not at hand. */
import type { Draft } from "@sward/core";
import { useState } from "preact/hooks";
import type { Book } from "../../book/book.ts";
import { actAsRoot } from "../../desk/act-as-root.ts";
import { systemClock, systemRandom } from "../../desk/platform.ts";
import { seedOfWords } from "../../keys/recovery.ts";
import type { LeagueAsk } from "../../league/joining.ts";
import type { Message } from "../../messages.ts";
import { messageOf } from "../../messages.ts";
import { relayHere } from "../desk-store.ts";
import { passes } from "../devices-here.ts";
import { ShortCodeLine } from "../invite/short-code-line.tsx";
import { Button, ButtonLink } from "../parts/button.tsx";
import { Field } from "../parts/field.tsx";
import { Notice } from "../parts/notice.tsx";
import { Refused } from "../parts/refused.tsx";
import { WordsField } from "../parts/words-field.tsx";
import { saved } from "../saved.ts";
import { clubsWords } from "../words/league-join.ts";
import type { Taken } from "./clubs-view.ts";

const said = clubsWords.take;

/** How long the relay may be silent before it counts as out of reach, in milliseconds. */
const PATIENCE = 20_000;

interface AdmitAskProps {
  readonly league: Book;
  readonly ask: LeagueAsk;
  readonly code: string;
  readonly taken: Exclude<Taken, { readonly type: "may-not" }>;
  readonly admitted: () => void;
  readonly cancel: () => void;
}

export function AdmitAsk({ league, ask, code, taken, admitted, cancel }: AdmitAskProps) {
  const [same, setSame] = useState(false);
  const [name, setName] = useState(ask.name);
  const [text, setText] = useState("");
  const [looked, setLooked] = useState(false);
  const [busy, setBusy] = useState(false);
  const [refused, setRefused] = useState<Message | null>(null);
  const asksName = taken.type === "admit-club";
  const byWords = taken.type === "admit-club" && taken.byWords;
  const rootHere = byWords && passes.value?.some(({ device }) => device === (league.id as string)) === true;

  const run = async (): Promise<Message | null> => {
    if (taken.type === "admit-club") {
      const draft: Draft = { kind: "club-admitted", body: { club: ask.club, name: name.trim() } };
      const answer = byWords ? await asRoot(league, draft, text) : await appended(league, draft);
      if (answer === null) saved.value = { sentence: said.admitted(name.trim()), undo: null };
      return answer;
    }
    if (taken.type === "admit-device") {
      const answer = await appended(league, {
        kind: "device-admitted",
        body: { device: ask.key, role: taken.role },
      });
      if (answer !== null) return answer;
      const record = { name: ask.name, short: ask.name, device: ask.label };
      await league.roster.write(new Map([[ask.device, record]]));
      saved.value = { sentence: said.deviceAdmitted(ask.label), undo: null };
    }
    return null;
  };
  const submit = async (event: Event): Promise<void> => {
    event.preventDefault();
    setLooked(true);
    if (!same || (asksName && name.trim() === "") || busy) return;
    setBusy(true);
    const answer = await run().finally(() => setBusy(false));
    setRefused(answer);
    if (answer === null) admitted();
  };
  return (
    <form class="clubs-ask" noValidate onSubmit={(event) => void submit(event)}>
      <h3>{said.asks(ask.name, ask.label)}</h3>
      {taken.type === "club-here" && <Notice tone="info" title={said.here} />}
      {taken.type === "device-here" && <Notice tone="info" title={said.deviceHere} />}
      <p>{said.compare}</p>
      <ShortCodeLine code={code} />
      <label class="choice">
        <input type="checkbox" checked={same} onChange={(event) => setSame(event.currentTarget.checked)} />
        <span>{said.same}</span>
      </label>
      <div class="field" aria-live="polite">
        {looked && !same && <div class="error">{said.notSame}</div>}
      </div>
      {asksName && (
        <Field label={said.name} error={looked && name.trim() === "" ? said.nameMissing : null}>
          {(control) => (
            <input
              {...control}
              maxLength={80}
              autoComplete="off"
              value={name}
              onInput={(event) => setName(event.currentTarget.value)}
            />
          )}
        </Field>
      )}
      {rootHere && (
        <Notice tone="info" title={said.rootHere}>
          <p>
            <ButtonLink href="/">{said.toFront}</ButtonLink>
          </p>
        </Notice>
      )}
      {byWords && <WordsField label={said.words} hint={said.wordsHint} text={text} onText={setText} />}
      <Refused message={refused} />
      <div role="status">{busy && <p>{said.busy}</p>}</div>
      <div class="row">
        <Button look="main" type="submit" disabled={busy}>
          {asksName ? said.admitClub : taken.type === "admit-device" ? said.admitDevice : said.handOver}
        </Button>
        <Button onClick={cancel}>{said.cancel}</Button>
      </div>
    </form>
  );
}

async function appended(league: Book, draft: Draft): Promise<Message | null> {
  const answer = await league.append([draft]);
  return answer.ok ? null : messageOf(answer.fault);
}

async function asRoot(league: Book, draft: Draft, text: string): Promise<Message | null> {
  const seed = seedOfWords(text);
  if (!seed.ok) return messageOf(seed.fault);
  const deps = { relay: relayHere(), clock: systemClock, randomBytes: systemRandom, patience: PATIENCE };
  const answer = await actAsRoot(seed.value, league, () => [draft], deps);
  return answer.ok ? null : messageOf(answer.fault);
}
