/** Erasing a name: what it does, what it does not reach, why, and the name typed before it is done. */
import type { KeyId, PlayerId } from "@sward/core";
import { useState } from "preact/hooks";
import { ErasureReason } from "../../book/roster.ts";
import { erasePerson } from "../../desk/erase.ts";
import type { Message } from "../../messages.ts";
import { messageOf } from "../../messages.ts";
import { useDesk } from "../desk-store.ts";
import { deviceIn, idsOf, nameIn } from "../names.ts";
import { Button } from "../parts/button.tsx";
import { Dialog } from "../parts/dialog.tsx";
import { Field } from "../parts/field.tsx";
import { Notice } from "../parts/notice.tsx";
import { saved } from "../saved.ts";
import { personWords } from "../words/person.ts";
import { words } from "../words.ts";
import { devicesOf } from "./about-person.ts";
import { wordsNaming } from "./typed-words.ts";

const says = personWords.dialog;

/** Spaces and letters' size do not matter: it is asked for so that nobody erases in passing. */
const plain = (text: string): string => text.trim().replace(/\s+/g, " ").toLocaleLowerCase();

interface Wrong {
  readonly reason: string | null;
  readonly typed: string | null;
}

export function EraseDialog({ player, onClose }: { readonly player: PlayerId; readonly onClose: () => void }) {
  const desk = useDesk();
  const ids = idsOf(desk, player);
  // As it was when the dialog was opened: after the erasure there is none.
  const [name] = useState(() => nameIn(desk, player));
  const [devices] = useState(() => devicesOf(desk.club, namesOf(desk.club, ids)));
  const [chosen, choose] = useState<ReadonlySet<KeyId>>(new Set(devices));
  const [typedWords] = useState(() => wordsNaming(desk.club.counted(), [...namesOf(desk.club, ids)]));
  const [reason, setReason] = useState<ErasureReason | null>(null);
  const [typed, setTyped] = useState("");
  const [wrong, setWrong] = useState<Wrong | null>(null);
  const [refused, setRefused] = useState<Message | null>(null);
  const [busy, setBusy] = useState(false);

  const submit = async (event: Event): Promise<void> => {
    event.preventDefault();
    const faults: Wrong = {
      reason: reason === null ? says.reasonMissing : null,
      typed: plain(typed) === plain(name) ? null : says.confirmMissing,
    };
    setWrong(faults);
    if (reason === null || faults.typed !== null) return;
    setBusy(true);
    const { erased, left } = await erasePerson(desk, { players: ids, devices: [...chosen] }, reason);
    setBusy(false);
    const [first] = left;
    if (erased.length === 0 && first !== undefined) return setRefused(messageOf(first.fault));
    saved.value = { sentence: left.length === 0 ? says.done : `${says.done} ${says.left(left.length)}`, undo: null };
    onClose();
  };

  return (
    <Dialog title={says.title(name)} onClose={onClose}>
      <form class="person-erase" onSubmit={(event) => void submit(event)} noValidate>
        <Notice tone="bad" title={says.never}>
          <ul>
            {says.does.map((line) => (
              <li key={line}>{line}</li>
            ))}
          </ul>
        </Notice>
        <h3>{says.cannot}</h3>
        <ul>
          {says.cannotList.map((line) => (
            <li key={line}>{line}</li>
          ))}
        </ul>
        {typedWords.length > 0 && (
          <>
            <p>{says.typed}</p>
            <ul>
              {typedWords.map((line) => (
                <li key={line}>“{line}”</li>
              ))}
            </ul>
          </>
        )}
        {ids.some((id) => desk.club.state().players.get(id)?.standing === "member") && <p>{says.member}</p>}
        {devices.length > 0 && (
          <fieldset>
            <legend>{says.devices}</legend>
            <p class="quiet small">{says.devicesHint}</p>
            {devices.map((device) => (
              <label class="choice" key={device}>
                <input
                  type="checkbox"
                  checked={chosen.has(device)}
                  onChange={({ currentTarget: { checked } }) => {
                    const next = new Set(chosen);
                    if (checked) next.add(device);
                    else next.delete(device);
                    choose(next);
                  }}
                />
                {deviceIn(desk, device)}
              </label>
            ))}
          </fieldset>
        )}
        <fieldset>
          <legend>{says.reason}</legend>
          {ErasureReason().options.map((one) => (
            <label class="choice" key={one}>
              <input type="radio" name="why" checked={reason === one} onChange={() => setReason(one)} />
              {personWords.reasons[one]}
            </label>
          ))}
          <div class="error" aria-live="polite">
            {wrong?.reason}
          </div>
        </fieldset>
        <Field label={says.confirm(name)} error={wrong?.typed}>
          {(control) => (
            <input
              {...control}
              autocomplete="off"
              value={typed}
              onInput={(event) => setTyped(event.currentTarget.value)}
            />
          )}
        </Field>
        {refused !== null && (
          <Notice tone="bad" title={refused.what} live>
            <p>
              {refused.why} {refused.todo}
            </p>
          </Notice>
        )}
        <div class="row">
          <Button look="danger" type="submit" disabled={busy}>
            {says.save}
          </Button>
          <Button onClick={onClose}>{words.cancel}</Button>
        </div>
      </form>
    </Dialog>
  );
}

const namesOf = (club: Parameters<typeof devicesOf>[0], ids: readonly PlayerId[]): ReadonlySet<string> =>
  new Set(ids.flatMap((id) => club.roster.get(id)?.name ?? []));
