/** Takes what another device shows: a file, pasted text, or its codes before the camera where the browser gives one. */
import { useState } from "preact/hooks";
import { parcelOfText } from "../../invite/parcels.ts";
import type { Message } from "../../messages.ts";
import { messageOf } from "../../messages.ts";
import { lazyPart } from "../lazy.tsx";
import { Button } from "../parts/button.tsx";
import { Field } from "../parts/field.tsx";
import { Refused } from "../parts/refused.tsx";
import { inviteWords } from "../words/invite.ts";

export interface TakeParcelProps {
  /** Null when it was taken; else why not. */
  readonly take: (parcel: Uint8Array) => Promise<Message | null>;
}

const Scanner = lazyPart(() => import("./scanner.tsx"), "Scanner");

export function TakeParcel({ take }: TakeParcelProps) {
  const said = inviteWords.take;
  const [text, setText] = useState("");
  const [refused, setRefused] = useState<Message | null>(null);
  const [scanning, setScanning] = useState(false);
  const mayScan = navigator.mediaDevices?.getUserMedia !== undefined;
  const takeParcel = async (parcel: Uint8Array): Promise<void> => {
    setScanning(false);
    const answer = await take(parcel);
    setRefused(answer);
    if (answer === null) setText("");
  };
  const takeText = async (given: string): Promise<void> => {
    const parcel = parcelOfText(given);
    if (parcel.ok) await takeParcel(parcel.value);
    else setRefused(messageOf(parcel.fault));
  };
  return (
    <div>
      <Field label={said.file}>
        {(control) => (
          <input
            {...control}
            type="file"
            accept="text/plain,.txt"
            onChange={({ currentTarget }) => {
              const file = currentTarget.files?.[0];
              if (file !== undefined) void file.text().then(takeText);
            }}
          />
        )}
      </Field>
      <Field label={said.paste}>
        {(control) => (
          <textarea
            {...control}
            rows={3}
            spellcheck={false}
            value={text}
            onInput={(event) => setText(event.currentTarget.value)}
          />
        )}
      </Field>
      <div class="row">
        <Button onClick={() => void takeText(text)}>{said.read}</Button>
        {mayScan && <Button onClick={() => setScanning(!scanning)}>{scanning ? said.stop : said.scan}</Button>}
      </div>
      {!mayScan && <p class="quiet small">{said.noCamera}</p>}
      {scanning && <Scanner found={(parcel) => void takeParcel(parcel)} />}
      <Refused message={refused} />
    </div>
  );
}
