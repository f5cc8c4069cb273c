/** A device that has asked: the code to compare, how it stands, and the way across the room where there is no network. */
import { useEffect, useState } from "preact/hooks";
import { useLocation } from "preact-iso";
import { systemRandom } from "../../desk/platform.ts";
import { settleDevice } from "../../desk/settle.ts";
import type { Welcome } from "../../invite/answer.ts";
import { passOfWelcome, readAnswer, recordOfWelcome } from "../../invite/answer.ts";
import type { Standing } from "../../invite/guest.ts";
import { standingOf } from "../../invite/guest.ts";
import { openParcel, sealParcel } from "../../invite/parcels.ts";
import type { Message } from "../../messages.ts";
import { messageOf } from "../../messages.ts";
import { becomeDevice } from "../devices-here.ts";
import { Button } from "../parts/button.tsx";
import { Notice } from "../parts/notice.tsx";
import { Page } from "../parts/page.tsx";
import { Refused } from "../parts/refused.tsx";
import { shortId } from "../passes.ts";
import { storageHere } from "../storage-here.ts";
import { inviteWords } from "../words/invite.ts";
import type { KeptAsk } from "./kept.ts";
import { dropAsk } from "./kept.ts";
import { ShortCodeLine, useShortCode } from "./short-code-line.tsx";
import { ShowParcel } from "./show-parcel.tsx";
import { TakeParcel } from "./take-parcel.tsx";
import { useMeeting } from "./use-meeting.ts";

export interface WaitingForAnswerProps {
  readonly kept: KeptAsk;
  /** Begins anew, with another invitation. */
  readonly begin: () => void;
}

export function WaitingForAnswer({ kept, begin }: WaitingForAnswerProps) {
  const { invitation, own } = kept;
  const said = inviteWords.join;
  const { route } = useLocation();
  const [standing, setStanding] = useState<Standing>({ type: "waiting" });
  const [lost, setLost] = useState<string | null>(null);
  const [refused, setRefused] = useState<Message | null>(null);
  const code = useShortCode(invitation, own.ask);
  const { texts, connection, allStored } = useMeeting(invitation, kept.seal, [own.ask.text], true);

  const enter = async (welcome: Welcome): Promise<void> => {
    const pass = passOfWelcome(welcome, own, invitation.club);
    const record = recordOfWelcome(welcome);
    const settled = record === null ? null : await settleDevice(pass, record, storageHere);
    if (settled !== null && !settled.ok) return setRefused(messageOf(settled.fault));
    const { device } = await becomeDevice(pass);
    await dropAsk();
    route(`/d/${shortId(device)}/`, true);
  };
  const become = (next: Standing): void => {
    // Admitted is admitted, whichever way it came to be known first.
    if (standing.type === "welcome") return;
    setStanding(next);
    if (next.type === "welcome") enter(next.welcome).catch((cause: unknown) => setLost(String(cause)));
  };
  useEffect(() => void standingOf(texts, invitation, own).then(become), [texts]);

  const take = async (parcel: Uint8Array): Promise<Message | null> => {
    const opened = await openParcel({ id: own.ask.invitation, seal: kept.seal }, parcel);
    if (!opened.ok) return messageOf(opened.fault);
    const answer = await readAnswer(opened.value, invitation, own.ask.invitation);
    if (!answer.ok) return messageOf({ type: "parcel-unexpected", wanted: "answer" });
    const next = await standingOf([opened.value], invitation, own);
    if (next.type === "over" && next.why === "used") return messageOf({ type: "answer-for-another" });
    become(next);
    return null;
  };

  if (lost !== null || refused !== null) {
    return (
      <Page title={said.title}>
        <Refused message={refused} />
        {lost !== null && (
          <Notice tone="bad" title={said.notKept} live>
            <p class="small">{lost}</p>
          </Notice>
        )}
      </Page>
    );
  }
  switch (standing.type) {
    case "welcome":
      return <p role="status">{said.welcomed}</p>;
    case "refused":
      return (
        <Page title={said.refused.title}>
          <p>{said.refused.body}</p>
          <Button onClick={begin}>{said.other}</Button>
        </Page>
      );
    case "over":
      return (
        <Page title={said.title}>
          <Refused message={messageOf({ type: "invitation-over", why: standing.why })} />
          <Button onClick={begin}>{said.other}</Button>
        </Page>
      );
    case "waiting":
      return (
        <Page title={said.waiting.title} lead={said.waiting.body}>
          <ShortCodeLine code={code} />
          <p role="status">{connection.type === "live" && allStored ? said.waiting.sent : said.waiting.noRelay}</p>
          <p>{said.waiting.keepOpen}</p>
          <AcrossTheRoom kept={kept} take={take} />
          <Button look="quiet" onClick={begin}>
            {said.giveUp}
          </Button>
        </Page>
      );
  }
}

interface AcrossTheRoomProps {
  readonly kept: KeptAsk;
  readonly take: (parcel: Uint8Array) => Promise<Message | null>;
}

function AcrossTheRoom({ kept: { own, seal }, take }: AcrossTheRoomProps) {
  const said = inviteWords.join;
  const [parcel, setParcel] = useState<Uint8Array | null>(null);
  useEffect(
    () => void sealParcel({ id: own.ask.invitation, seal }, own.ask.text, systemRandom).then(setParcel),
    [own.ask.id],
  );
  return (
    <details class="invite-join">
      <summary>{said.byHand}</summary>
      <h2>{said.show}</h2>
      {parcel !== null && <ShowParcel parcel={parcel} fileName="sward-ask.txt" />}
      <h2>{said.take}</h2>
      <TakeParcel take={take} />
    </details>
  );
}
