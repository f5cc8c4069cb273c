/** Which device this is and, where the invitation has one, the passphrase: then its key is made and it asks. */
import { useState } from "preact/hooks";
import { systemRandom } from "../../desk/platform.ts";
import { newAsk } from "../../invite/ask.ts";
import type { Invitation } from "../../invite/invitation.ts";
import { keysOf } from "../../invite/invitation.ts";
import type { Message } from "../../messages.ts";
import { messageOf } from "../../messages.ts";
import { Button } from "../parts/button.tsx";
import { Field } from "../parts/field.tsx";
import { Notice } from "../parts/notice.tsx";
import { Refused } from "../parts/refused.tsx";
import { inviteWords } from "../words/invite.ts";
import type { KeptAsk } from "./kept.ts";
import { keepAsk } from "./kept.ts";
import { PassphraseField } from "./passphrase-field.tsx";

export interface AskFormProps {
  readonly invitation: Invitation;
  readonly asked: (kept: KeptAsk) => void;
}

export function AskForm({ invitation, asked }: AskFormProps) {
  const said = inviteWords.join;
  const [device, setDevice] = useState("");
  const [passphrase, setPassphrase] = useState("");
  const [unnamed, setUnnamed] = useState(false);
  const [refused, setRefused] = useState<Message | null>(null);
  const [lost, setLost] = useState<string | null>(null);
  const [busy, setBusy] = useState(false);

  const ask = async (): Promise<void> => {
    const keys = await keysOf(invitation, passphrase);
    setRefused(keys.ok ? null : messageOf(keys.fault));
    if (!keys.ok) return;
    const own = await newAsk(keys.value.id, device, systemRandom);
    const kept: KeptAsk = { invitation, seal: keys.value.seal, own };
    await keepAsk(kept);
    asked(kept);
  };
  const submit = async (event: Event): Promise<void> => {
    event.preventDefault();
    const missing = device.trim() === "";
    setUnnamed(missing);
    if (missing || busy) return;
    setBusy(true);
    await ask().catch((cause: unknown) => setLost(String(cause)));
    setBusy(false);
  };

  return (
    <form onSubmit={(event) => void submit(event)} noValidate>
      <Field label={said.device} hint={said.deviceHint} error={unnamed ? said.deviceMissing : null}>
        {(control) => (
          <input
            {...control}
            autoComplete="off"
            maxLength={60}
            value={device}
            onInput={(event) => setDevice(event.currentTarget.value)}
          />
        )}
      </Field>
      {invitation.check !== undefined && (
        <PassphraseField
          label={said.passphrase}
          hint={said.passphraseHint}
          value={passphrase}
          changed={setPassphrase}
        />
      )}
      <Refused message={refused} />
      {lost !== null && (
        <Notice tone="bad" title={said.notKept} live>
          <p class="small">{lost}</p>
        </Notice>
      )}
      <Button look="main" type="submit" disabled={busy}>
        {busy ? said.asking : said.ask}
      </Button>
    </form>
  );
}
