/** Makes an invitation: how long it is good for, and a passphrase for a link that others may read. */
import type { PublicKey } from "@sward/core";
import { useState } from "preact/hooks";
import { systemRandom } from "../../desk/platform.ts";
import type { GivenInvitation } from "../../invite/host.ts";
import { newInvitation } from "../../invite/invitation.ts";
import { useDesk } from "../desk-store.ts";
import { Button } from "../parts/button.tsx";
import { Dialog } from "../parts/dialog.tsx";
import { Field } from "../parts/field.tsx";
import { Notice } from "../parts/notice.tsx";
import { inviteWords } from "../words/invite.ts";
import { words } from "../words.ts";
import type { Life } from "./life.ts";
import { lives } from "./life.ts";
import { PassphraseField } from "./passphrase-field.tsx";

export interface NewInvitationProps {
  readonly from: PublicKey;
  readonly keep: (given: GivenInvitation) => Promise<void>;
  readonly onClose: () => void;
}

export function NewInvitation({ from, keep, onClose }: NewInvitationProps) {
  const said = inviteWords.host;
  const club = useDesk().club.state().name;
  const [life, setLife] = useState<Life>("day");
  const [passphrase, setPassphrase] = useState("");
  const [busy, setBusy] = useState(false);
  const [lost, setLost] = useState<string | null>(null);
  const make = async (): Promise<void> => {
    const until = Math.floor(Date.now() / 1000) + lives[life];
    const terms = { relay: location.origin, club, from, until };
    const { invitation, keys } = await newInvitation(terms, passphrase, systemRandom);
    const sealing = { id: keys.id, seal: keys.seal };
    await keep({ invitation, keys: sealing, state: "open", answers: [], answered: [], byHand: null });
    onClose();
  };
  const submit = (event: Event): void => {
    event.preventDefault();
    if (busy) return;
    setBusy(true);
    make().catch((cause: unknown) => {
      setLost(String(cause));
      setBusy(false);
    });
  };
  return (
    <Dialog title={said.new} onClose={onClose}>
      <form onSubmit={submit} noValidate>
        <Field label={said.life}>
          {(control) => (
            <select {...control} value={life} onChange={(event) => setLife(event.currentTarget.value as Life)}>
              {(Object.keys(lives) as Life[]).map((one) => (
                <option key={one} value={one}>
                  {said.lives[one]}
                </option>
              ))}
            </select>
          )}
        </Field>
        <PassphraseField
          label={said.passphrase}
          hint={said.passphraseHint}
          value={passphrase}
          changed={setPassphrase}
        />
        {lost !== null && (
          <Notice tone="bad" title={words.failed.title} live>
            <p class="small">{lost}</p>
          </Notice>
        )}
        <div class="row">
          <Button look="main" type="submit" disabled={busy}>
            {busy ? said.making : said.make}
          </Button>
          <Button onClick={onClose}>{words.cancel}</Button>
        </div>
      </form>
    </Dialog>
  );
}
