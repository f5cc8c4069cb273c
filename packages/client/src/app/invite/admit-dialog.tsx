/** Admitting a device: the codes compared, what it may do, whose it is. */
import type { Role } from "@sward/core";
import { useState } from "preact/hooks";
import type { Ask } from "../../invite/ask.ts";
import type { GivenInvitation } from "../../invite/host.ts";
import { admitAsk } from "../../invite/host.ts";
import type { Signer } from "../../keys/signer.ts";
import type { Message } from "../../messages.ts";
import { messageOf } from "../../messages.ts";
import { useDesk } from "../desk-store.ts";
import { recordOf } from "../name-form.ts";
import { Button } from "../parts/button.tsx";
import { Dialog } from "../parts/dialog.tsx";
import { Field } from "../parts/field.tsx";
import { Notice } from "../parts/notice.tsx";
import { Refused } from "../parts/refused.tsx";
import { saved } from "../saved.ts";
import { inviteWords } from "../words/invite.ts";
import { sharingWords } from "../words/sharing.ts";
import { words } from "../words.ts";
import { ShortCodeLine } from "./short-code-line.tsx";

export interface AdmitDialogProps {
  readonly given: GivenInvitation;
  readonly ask: Ask;
  readonly code: string;
  readonly byHand: boolean;
  readonly signer: Signer;
  readonly keep: (given: GivenInvitation) => Promise<void>;
  readonly onClose: () => void;
}

const roles: readonly Role[] = ["recorder", "reader", "handicapper"];

export function AdmitDialog({ given, ask, code, byHand, signer, keep, onClose }: AdmitDialogProps) {
  const desk = useDesk();
  const said = inviteWords.host.dialog;
  const [same, setSame] = useState(false);
  const [role, setRole] = useState<Role>("recorder");
  const [name, setName] = useState("");
  const [looked, setLooked] = useState(false);
  const [busy, setBusy] = useState(false);
  const [refused, setRefused] = useState<Message | null>(null);
  const [lost, setLost] = useState<string | null>(null);

  const admit = async (): Promise<void> => {
    const holder = recordOf({ name, short: "", junior: false });
    const { club, leagues } = desk;
    const host = { club, leagues, signer, now: Math.floor(Date.now() / 1000) };
    const answer = await admitAsk(given, ask, { role, holder, byHand }, host);
    setRefused(answer.ok ? null : messageOf(answer.fault));
    if (!answer.ok) return;
    await keep(answer.value.given);
    // An admission cannot be taken back as a slip of the pen can: a device is barred.
    saved.value = { sentence: inviteWords.host.admitted(holder.name, ask.label), undo: null };
    onClose();
  };
  const submit = async (event: Event): Promise<void> => {
    event.preventDefault();
    setLooked(true);
    if (!same || name.trim() === "" || busy) return;
    setBusy(true);
    await admit().catch((cause: unknown) => setLost(String(cause)));
    setBusy(false);
  };

  return (
    <Dialog title={said.title(ask.label)} onClose={onClose}>
      <form onSubmit={(event) => void submit(event)} noValidate>
        <ShortCodeLine code={code} />
        <label class="choice">
          <input type="checkbox" checked={same} onChange={(event) => setSame(event.currentTarget.checked)} />
          <span>{said.same}</span>
        </label>
        <div class="field" aria-live="polite">
          {looked && !same && <div class="error">{said.notSame}</div>}
        </div>
        <Field
          label={said.holder}
          hint={said.holderHint}
          error={looked && name.trim() === "" ? said.holderMissing : null}
        >
          {(control) => (
            <input
              {...control}
              autoComplete="off"
              maxLength={80}
              value={name}
              onInput={(event) => setName(event.currentTarget.value)}
            />
          )}
        </Field>
        <fieldset>
          <legend>{said.role}</legend>
          {roles.map((one) => (
            <label key={one} class="choice invite-role">
              <input type="radio" name="role" checked={role === one} onChange={() => setRole(one)} />
              <span>
                {said.roles[one]}
                <span class="quiet small">{sharingWords.may[one]}</span>
              </span>
            </label>
          ))}
        </fieldset>
        <Refused message={refused} />
        {lost !== null && (
          <Notice tone="bad" title={words.failed.title} live>
            <p class="small">{lost}</p>
          </Notice>
        )}
        <div class="row">
          <Button look="main" type="submit" disabled={busy}>
            {said.admit}
          </Button>
          <Button onClick={onClose}>{words.cancel}</Button>
        </div>
      </form>
    </Dialog>
  );
}
