/** A result slip: chosen as a file or read from codes, looked at, and taken in. */
import { useState } from "preact/hooks";
import type { Message } from "../../messages.ts";
import { messageOf } from "../../messages.ts";
import type { Slip, TakenSlip } from "../../record/slip.ts";
import { readSlip, slipOfParcel } from "../../record/slip.ts";
import { nameOf, useDesk } from "../desk-store.ts";
import { lazyPart } from "../lazy.tsx";
import { Button } from "../parts/button.tsx";
import { Field } from "../parts/field.tsx";
import { Notice } from "../parts/notice.tsx";
import { Refused } from "../parts/refused.tsx";
import { mayHere } from "../permission.ts";
import { places, useHref } from "../place.ts";
import { slipWords } from "../words/slips.ts";
import { TakeSlip } from "./take-slip.tsx";

const Scanner = lazyPart(() => import("../invite/scanner.tsx"), "Scanner");

export function SlipIn() {
  const { club } = useDesk();
  const [slip, setSlip] = useState<Slip | null>(null);
  const [done, setDone] = useState<TakenSlip | null>(null);
  const [refused, setRefused] = useState<Message | null>(null);
  const [scanning, setScanning] = useState(false);
  const words = slipWords.in;
  const read = async (text: string): Promise<void> => {
    setScanning(false);
    setDone(null);
    const found = await readSlip(text);
    setSlip(found.ok ? found.value : null);
    setRefused(found.ok ? null : messageOf(found.fault));
  };
  return (
    <section aria-labelledby="slip-in">
      <h2 id="slip-in">{words.title}</h2>
      <p class="quiet">{words.lead}</p>
      {mayHere(club, "entry-carried") ? (
        <>
          <Field label={words.file} hint={words.fileHint}>
            {(control) => (
              <input
                {...control}
                type="file"
                onChange={({ currentTarget: input }) => {
                  const file = input.files?.[0];
                  // The same file chosen again is a change too.
                  if (file !== undefined)
                    void file
                      .text()
                      .then(read)
                      .finally(() => {
                        input.value = "";
                      });
                }}
              />
            )}
          </Field>
          {navigator.mediaDevices?.getUserMedia !== undefined && (
            <Button onClick={() => setScanning(!scanning)}>{scanning ? words.stop : words.scan}</Button>
          )}
          {scanning && <Scanner found={(parcel) => void read(slipOfParcel(parcel))} />}
          <Refused message={refused} />
          {slip !== null && done === null && <TakeSlip key={slip.lines.length} slip={slip} onDone={setDone} />}
          {done !== null && <Done done={done} />}
        </>
      ) : (
        <p>{words.mayNot}</p>
      )}
    </section>
  );
}

function Done({ done: { added, known, players } }: { readonly done: TakenSlip }) {
  const href = useHref();
  const words = slipWords.in;
  return (
    <Notice tone="good" title={words.done(added, known)} live>
      {players.map((player) => (
        <p key={player}>
          <a href={href(places.member(player))}>{words.toCard(nameOf(player))}</a>
        </p>
      ))}
    </Notice>
  );
}
