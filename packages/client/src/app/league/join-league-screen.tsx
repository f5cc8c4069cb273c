/** A club comes into a league with this device: its code is shown, the answer taken, and the league joined. */

import { useEffect, useState } from "preact/hooks";
import { useLocation } from "preact-iso";
import type { Desk } from "../../desk/desk.ts";
import { joinLeague } from "../../desk/join-league.ts";
import { seedOf } from "../../desk/pass.ts";
import { systemClock, systemRandom } from "../../desk/platform.ts";
import { seedOfWords } from "../../keys/recovery.ts";
import { createSigner } from "../../keys/signer.ts";
import type { LeagueWelcome, OwnLeagueAsk } from "../../league/joining.ts";
import {
  leagueAskCode,
  messageOfParcel,
  newLeagueAsk,
  openLeagueAnswer,
  parcelOfMessage,
} from "../../league/joining.ts";
import type { Message } from "../../messages.ts";
import { messageOf } from "../../messages.ts";
import { keptPass, openDevice, relayHere, useDesk } from "../desk-store.ts";
import { becomeDevice } from "../devices-here.ts";
import { ShortCodeLine } from "../invite/short-code-line.tsx";
import { ShowParcel } from "../invite/show-parcel.tsx";
import { TakeParcel } from "../invite/take-parcel.tsx";
import { Button } from "../parts/button.tsx";
import { Notice } from "../parts/notice.tsx";
import { Page } from "../parts/page.tsx";
import { Refused } from "../parts/refused.tsx";
import { WordsField } from "../parts/words-field.tsx";
import type { KeptPass } from "../passes.ts";
import { places, useHref } from "../place.ts";
import { saved } from "../saved.ts";
import { storageHere } from "../storage-here.ts";
import { joinLeagueWords as said } from "../words/league-join.ts";
import { words } from "../words.ts";
import { dropLeagueAsk, keepLeagueAsk, loadLeagueAsk } from "./kept-ask.ts";
import "./clubs.css";

/** How long the relay may be silent before it counts as out of reach, in milliseconds. */
const PATIENCE = 20_000;

interface Asking {
  readonly own: OwnLeagueAsk;
  readonly code: string;
  readonly parcel: Uint8Array;
}

export function JoinLeagueScreen() {
  const desk = useDesk();
  const kept = keptPass.value;
  const [asking, setAsking] = useState<Asking | null>(null);
  const [welcome, setWelcome] = useState<LeagueWelcome | null>(null);
  const [lost, setLost] = useState<string | null>(null);
  const begin = async (anew: boolean): Promise<void> => {
    if (kept === null) return;
    const before = anew ? null : await loadLeagueAsk(kept.device);
    const own = before ?? (await ask(desk, kept));
    setAsking({ own, code: await leagueAskCode(own.ask), parcel: parcelOfMessage(own.ask.text) });
  };
  useEffect(() => {
    begin(false).catch((cause: unknown) => setLost(String(cause)));
  }, [kept?.device]);
  const take = async (parcel: Uint8Array): Promise<Message | null> => {
    if (asking === null) return null;
    const opened = await openLeagueAnswer(messageOfParcel(parcel), asking.own);
    if (!opened.ok) return messageOf(opened.fault);
    setWelcome(opened.value);
    return null;
  };
  return (
    <Page title={said.title} lead={said.lead(desk.club.state().name)}>
      {lost !== null && (
        <Notice tone="bad" title={said.lost} live>
          <p>{words.failed.body}</p>
          <p class="small">{lost}</p>
        </Notice>
      )}
      {welcome !== null && kept !== null ? (
        <Confirm kept={kept} desk={desk} welcome={welcome} other={() => setWelcome(null)} />
      ) : (
        asking !== null && (
          <>
            <section class="clubs-ask">
              <h2>{said.show.title}</h2>
              <p>{said.show.lead}</p>
              <p>{said.show.compare}</p>
              <ShortCodeLine code={asking.code} />
              <ShowParcel parcel={asking.parcel} fileName={`club-code-${asking.own.ask.id.slice(0, 6)}.txt`} />
              <details>
                <summary>{said.anew}</summary>
                <p>{said.anewHint}</p>
                <Button onClick={() => void begin(true)}>{said.anew}</Button>
              </details>
            </section>
            <section class="clubs-ask">
              <h2>{said.take.title}</h2>
              <p>{said.take.lead}</p>
              <TakeParcel take={take} />
            </section>
          </>
        )
      )}
    </Page>
  );
}

async function ask({ club }: Desk, { pass, device }: KeptPass): Promise<OwnLeagueAsk> {
  const root = club.keyOf(club.id as string as typeof device);
  if (root === undefined) throw new Error("the club's root key is not in its own record");
  const signer = await createSigner(seedOf(pass));
  const label = club.roster.get(device)?.device ?? pass.label;
  const own = await newLeagueAsk(signer, { club: root, name: club.state().name, label }, systemRandom);
  await keepLeagueAsk(device, own);
  return own;
}

interface ConfirmProps {
  readonly kept: KeptPass;
  readonly desk: Desk;
  readonly welcome: LeagueWelcome;
  readonly other: () => void;
}

function Confirm({ kept, desk, welcome, other }: ConfirmProps) {
  const { route } = useLocation();
  const href = useHref();
  const [text, setText] = useState("");
  const [busy, setBusy] = useState(false);
  const [refused, setRefused] = useState<Message | null>(null);
  const [lost, setLost] = useState<string | null>(null);
  const already = desk.leagues.some(({ id }) => id === welcome.league.book);

  const join = async (): Promise<Message | null> => {
    const seed = welcome.admitted ? null : seedOfWords(text);
    if (seed?.ok === false) return messageOf(seed.fault);
    const { club } = desk;
    const name = club.state().name;
    const as = { name, short: name, device: club.roster.get(kept.device)?.device ?? kept.pass.label.slice(0, 60) };
    const deps = { clock: systemClock, randomBytes: systemRandom, optionsFor: storageHere };
    const relay = { relay: relayHere(), patience: PATIENCE };
    const joined = await joinLeague(seed?.value ?? null, kept.pass, welcome, as, { ...deps, ...relay });
    if (!joined.ok) return messageOf(joined.fault);
    const pass = await becomeDevice(joined.value);
    await dropLeagueAsk(kept.device);
    saved.value = { sentence: said.done(welcome.name), undo: null };
    route(href(places.league), true);
    await openDevice(pass);
    return null;
  };
  const submit = async (event: Event): Promise<void> => {
    event.preventDefault();
    if (busy) return;
    setBusy(true);
    setLost(null);
    await join()
      .then(setRefused)
      .catch((cause: unknown) => setLost(String(cause)));
    setBusy(false);
  };
  return (
    <form class="clubs-ask" noValidate onSubmit={(event) => void submit(event)}>
      <h2>{said.confirm.title(welcome.name)}</h2>
      {already ? (
        <Notice tone="info" title={said.confirm.already} />
      ) : welcome.admitted ? (
        <p>{said.confirm.admitted}</p>
      ) : (
        <>
          <p>{said.confirm.lead}</p>
          <WordsField label={said.confirm.words} hint={said.confirm.wordsHint} text={text} onText={setText} />
        </>
      )}
      <Refused message={refused} />
      {lost !== null && (
        <Notice tone="bad" title={said.lost} live>
          <p class="small">{lost}</p>
        </Notice>
      )}
      <div role="status">{busy && <p>{said.confirm.busy}</p>}</div>
      <div class="row">
        {!already && (
          <Button look="main" type="submit" disabled={busy}>
            {said.confirm.go}
          </Button>
        )}
        <Button onClick={other}>{said.confirm.other}</Button>
      </div>
    </form>
  );
}
