/** One invitation: its link and code, who asks by it, and handing things over where there is no network. */
import { useEffect, useState } from "preact/hooks";
import { systemRandom } from "../../desk/platform.ts";
import type { Ask } from "../../invite/ask.ts";
import { readAsk } from "../../invite/ask.ts";
import type { GivenInvitation } from "../../invite/host.ts";
import { asksIn, refuseAsk, withdraw } from "../../invite/host.ts";
import { linkOf } from "../../invite/invitation.ts";
import { openParcel, sealParcel } from "../../invite/parcels.ts";
import type { Signer } from "../../keys/signer.ts";
import type { Message } from "../../messages.ts";
import { messageOf } from "../../messages.ts";
import { showMoment } from "../dates.ts";
import { useDesk } from "../desk-store.ts";
import { Badge } from "../parts/badge.tsx";
import { Button } from "../parts/button.tsx";
import type { Tone } from "../parts/tone.ts";
import { saved } from "../saved.ts";
import { inviteWords } from "../words/invite.ts";
import type { Shown } from "./life.ts";
import { isMet, shownState } from "./life.ts";
import { LinkField } from "./link-field.tsx";
import { PendingAsks } from "./pending-asks.tsx";
import { ShowParcel } from "./show-parcel.tsx";
import { TakeParcel } from "./take-parcel.tsx";
import { useMeeting } from "./use-meeting.ts";

export interface GivenCardProps {
  readonly given: GivenInvitation;
  readonly signer: Signer;
  readonly keep: (given: GivenInvitation) => Promise<void>;
  readonly drop: (given: GivenInvitation) => Promise<void>;
}

const tones: Readonly<Record<Shown, Tone>> = { open: "info", used: "good", withdrawn: "plain", expired: "plain" };

const nowSeconds = (): number => Math.floor(Date.now() / 1000);

export function GivenCard({ given, signer, keep, drop }: GivenCardProps) {
  const said = inviteWords.host;
  const paused = useDesk().isPaused();
  const { invitation, keys } = given;
  const until = showMoment(new Date(invitation.until * 1000).toISOString());
  const state = shownState(given, nowSeconds());
  const met = isMet(given, nowSeconds()) && !paused;
  const { texts, connection, allStored } = useMeeting(invitation, keys.seal, given.answers, met);
  /** Asks that came by hand. */
  const [handed, setHanded] = useState<readonly string[]>([]);
  const [asks, setAsks] = useState<readonly Ask[]>([]);
  useEffect(() => void asksIn([...new Set([...texts, ...handed])], given).then(setAsks), [texts, handed, given]);

  const take = async (parcel: Uint8Array): Promise<Message | null> => {
    const opened = await openParcel(keys, parcel);
    if (!opened.ok) return messageOf(opened.fault);
    const ask = await readAsk(opened.value, keys.id);
    if (!ask.ok) return messageOf({ type: "parcel-unexpected", wanted: "ask" });
    setHanded([...handed, opened.value]);
    return null;
  };
  const refuse = async (ask: Ask): Promise<void> => {
    await keep(await refuseAsk(given, ask, signer));
    saved.value = { sentence: said.refused(ask.label), undo: null };
  };

  return (
    <article class="invite-given" aria-label={said.made(until)}>
      <h3>
        {said.made(until)} <Badge tone={tones[state]}>{said.state[state]}</Badge>{" "}
        {invitation.check !== undefined && <Badge>{said.locked}</Badge>}
      </h3>
      {state === "open" && (
        <>
          <LinkField link={linkOf(invitation)} />
          <PendingAsks given={given} asks={asks} handed={handed} signer={signer} keep={keep} refuse={refuse} />
          {asks.length === 0 && (
            <p class="quiet">
              {said.none} {paused ? said.paused : said.keepOpen}
            </p>
          )}
        </>
      )}
      {state === "used" && (
        <p role="status">{connection.type === "live" && allStored ? said.saidToRelay : said.notYetSaid}</p>
      )}
      {(state === "open" || state === "used") && (
        <details>
          <summary>{said.byHand}</summary>
          {state === "open" ? (
            <>
              <h4>{said.takeAsk}</h4>
              <TakeParcel take={take} />
            </>
          ) : (
            <HandAnswer given={given} />
          )}
        </details>
      )}
      <div class="row">
        {state === "open" ? (
          <Button onClick={() => void withdraw(given, signer).then(keep)}>{said.withdraw}</Button>
        ) : (
          <Button look="quiet" onClick={() => void drop(given)}>
            {said.remove}
          </Button>
        )}
      </div>
    </article>
  );
}

function HandAnswer({ given }: { readonly given: GivenInvitation }) {
  const said = inviteWords.host;
  const [parcels, setParcels] = useState<readonly Uint8Array[]>([]);
  const { keys, answers, byHand } = given;
  useEffect(() => {
    const texts = [answers.at(-1) ?? "", ...(byHand === null ? [] : [byHand])];
    void Promise.all(texts.map((text) => sealParcel(keys, text, systemRandom))).then(setParcels);
  }, [given]);
  const [answer, large = answer] = parcels;
  if (answer === undefined || large === undefined) return null;
  return (
    <>
      <h4>{said.handAnswer}</h4>
      <p class="quiet small">{said.fileHint}</p>
      <ShowParcel parcel={answer} inFile={large} fileName="sward-answer.txt" />
    </>
  );
}
