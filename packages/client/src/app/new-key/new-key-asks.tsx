/** On a handicapper's device: the devices of the club that ask for a new key, each with its code. */
import type { Role } from "@sward/core";
import { useEffect, useState } from "preact/hooks";
import type { RosterRecord } from "../../book/roster.ts";
import { admitDevice } from "../../invite/host.ts";
import type { NewKeyAsk } from "../../invite/new-key.ts";
import { epochNow, newKeyAsksIn, newKeyRoom } from "../../invite/new-key.ts";
import { shortCode } from "../../invite/short-code.ts";
import type { Message } from "../../messages.ts";
import { messageOf } from "../../messages.ts";
import { deviceName, useDesk, version } from "../desk-store.ts";
import { AdmitDialog } from "../invite/admit-dialog.tsx";
import { ShortCodeLine } from "../invite/short-code-line.tsx";
import { useRoom } from "../invite/use-meeting.ts";
import { Button } from "../parts/button.tsx";
import { newKeyWords } from "../words/new-key.ts";

interface Asking extends NewKeyAsk {
  readonly code: string;
}

const nothingSaid: readonly string[] = [];

export function NewKeyAsks() {
  const desk = useDesk();
  const { club } = desk;
  const said = newKeyWords.host;
  const epoch = epochNow(club);
  const { texts } = useRoom(() => newKeyRoom(club.id, epoch), `${epoch.epoch}`, nothingSaid, !desk.isPaused());
  const [asks, setAsks] = useState<readonly Asking[]>([]);
  const [put, setPut] = useState<readonly string[]>([]);
  const [admitting, setAdmitting] = useState<Asking | null>(null);
  useEffect(() => {
    const read = async (): Promise<void> => {
      const { id } = await newKeyRoom(club.id, epoch);
      const found = await newKeyAsksIn(texts, id, club);
      setAsks(
        await Promise.all(found.map(async (one) => ({ ...one, code: await shortCode({ from: one.oldKey }, one.ask) }))),
      );
    };
    void read();
  }, [texts, version.value]);
  const admit = async ({ ask }: Asking, role: Role, holder: RosterRecord): Promise<Message | null> => {
    const answer = await admitDevice(ask, role, holder, desk);
    return answer.ok ? null : messageOf(answer.fault);
  };
  const shown = asks.filter(({ ask }) => !put.includes(ask.id));
  return (
    <div aria-live="polite">
      {shown.length > 0 && (
        <>
          <h3>{said.title}</h3>
          <p>{said.lead}</p>
        </>
      )}
      {shown.map((one) => (
        <div key={one.ask.id} class="invite-ask">
          <h4>{said.asks(one.ask.label, deviceName(one.old))}</h4>
          <ShortCodeLine code={one.code} />
          <p>{said.afterwards}</p>
          <div class="row">
            <Button look="main" onClick={() => setAdmitting(one)}>
              {said.admit}
            </Button>
            <Button onClick={() => setPut([...put, one.ask.id])}>{said.later}</Button>
          </div>
          <p class="quiet small">{said.laterHint}</p>
        </div>
      ))}
      {admitting !== null && (
        <AdmitDialog
          label={admitting.ask.label}
          code={admitting.code}
          before={beforeOf(admitting)}
          admit={(role, holder) => admit(admitting, role, holder)}
          onClose={() => setAdmitting(null)}
        />
      )}
    </div>
  );

  function beforeOf({ old }: Asking): { readonly name: string; readonly role: Role } {
    const role = club.state().devices.get(old)?.role;
    return { name: club.roster.get(old)?.name ?? "", role: role === undefined || role === "root" ? "reader" : role };
  }
}
