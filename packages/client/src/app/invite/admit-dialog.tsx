/** Admitting a device: the codes compared, what it may do, whose it is. */
import type { Role } from "@sward/core";
import { useState } from "preact/hooks";
import type { RosterRecord } from "../../book/roster.ts";
import type { Message } from "../../messages.ts";
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
  /** What the device calls itself. */
  readonly label: string;
  readonly code: string;
  /** What is suggested: a device that has been here before. */
  readonly before?: { readonly name: string; readonly role: Role };
  /** Null when it is admitted; else why not. */
  readonly admit: (role: Role, holder: RosterRecord) => Promise<Message | null>;
  readonly onClose: () => void;
}

const roles: readonly Role[] = ["recorder", "reader", "handicapper"];

export function AdmitDialog({ label, code, before, admit, onClose }: AdmitDialogProps) {
  const said = inviteWords.host.dialog;
  const [same, setSame] = useState(false);
  const [role, setRole] = useState<Role>(before?.role ?? "recorder");
  const [name, setName] = useState(before?.name ?? "");
  const [looked, setLooked] = useState(false);
  const [busy, setBusy] = useState(false);
  const [refused, setRefused] = useState<Message | null>(null);
  const [lost, setLost] = useState<string | null>(null);

  const run = async (): Promise<void> => {
    const holder = recordOf({ name, short: "", junior: false });
    const answer = await admit(role, holder);
    setRefused(answer);
    if (answer !== null) return;
    // An admission cannot be taken back as a slip of the pen can: a device is barred.
    saved.value = { sentence: inviteWords.host.admitted(holder.name, label), undo: null };
    onClose();
  };
  const submit = async (event: Event): Promise<void> => {
    event.preventDefault();
    setLooked(true);
    if (!same || name.trim() === "" || busy) return;
    setBusy(true);
    await run().catch((cause: unknown) => setLost(String(cause)));
    setBusy(false);
  };

  return (
    <Dialog title={said.title(label)} onClose={onClose}>
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
