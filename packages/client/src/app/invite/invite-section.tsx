/** Inviting a device: the invitations this device has given, each with whoever asks by it. */
import type { KeyId } from "@sward/core";
import { useEffect, useState } from "preact/hooks";
import { seedOf } from "../../desk/pass.ts";
import type { GivenInvitation } from "../../invite/host.ts";
import type { Signer } from "../../keys/signer.ts";
import { createSigner } from "../../keys/signer.ts";
import { keptPass, useDesk } from "../desk-store.ts";
import { NewKeyAsks } from "../new-key/new-key-asks.tsx";
import { Button } from "../parts/button.tsx";
import { Notice } from "../parts/notice.tsx";
import { mayHere } from "../permission.ts";
import { inviteWords } from "../words/invite.ts";
import { words } from "../words.ts";
import { GivenCard } from "./given-card.tsx";
import { dropGiven, keepGiven, listGiven } from "./kept.ts";
import { NewInvitation } from "./new-invitation.tsx";
import "./invite.css";

export function InviteSection() {
  const desk = useDesk();
  const said = inviteWords.host;
  const kept = keptPass.value;
  return (
    <section aria-label={said.title}>
      <h2 class="sharing-head">{said.title}</h2>
      {kept === null || !mayHere(desk.club, "device-admitted") ? (
        <p>{said.mayNot}</p>
      ) : (
        <>
          <NewKeyAsks />
          <Invitations key={kept.device} device={kept.device} />
        </>
      )}
    </section>
  );
}

function Invitations({ device }: { readonly device: KeyId }) {
  const said = inviteWords.host;
  const [given, setGiven] = useState<readonly GivenInvitation[]>([]);
  const [signer, setSigner] = useState<Signer | null>(null);
  const [making, setMaking] = useState(false);
  const [lost, setLost] = useState<string | null>(null);
  const pass = keptPass.value?.pass;
  const look = (): Promise<void> => listGiven(device).then(setGiven);
  useEffect(() => {
    look().catch((cause: unknown) => setLost(String(cause)));
    if (pass !== undefined) void createSigner(seedOf(pass)).then(setSigner);
  }, [device]);
  /** Durable before it is shown: what was answered must not be forgotten. */
  const keep = async (one: GivenInvitation): Promise<void> => {
    await keepGiven(device, one);
    await look();
  };
  const drop = async ({ keys }: GivenInvitation): Promise<void> => {
    await dropGiven(device, keys.id);
    await look();
  };
  return (
    <>
      <p>{said.lead}</p>
      <Button onClick={() => setMaking(true)}>{said.new}</Button>
      {lost !== null && (
        <Notice tone="bad" title={words.failed.title} live>
          <p class="small">{lost}</p>
        </Notice>
      )}
      {making && signer !== null && <NewInvitation from={signer.key} keep={keep} onClose={() => setMaking(false)} />}
      {signer !== null &&
        given.map((one) => <GivenCard key={one.keys.id} given={one} signer={signer} keep={keep} drop={drop} />)}
      <p class="quiet small">{said.rootOnly}</p>
    </>
  );
}
