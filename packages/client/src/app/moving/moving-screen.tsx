/** A player who comes from another club: the record is chosen as a file, looked at, and taken in. */
import { useState } from "preact/hooks";
import "./moving.css";
import type { Message } from "../../messages.ts";
import type { TakenIn } from "../../record/taking.ts";
import { isHandicapper, nameOf, useDesk } from "../desk-store.ts";
import { Field } from "../parts/field.tsx";
import { Notice } from "../parts/notice.tsx";
import { Page } from "../parts/page.tsx";
import { Prevail } from "../parts/prevail.tsx";
import { Refused } from "../parts/refused.tsx";
import { places, useHref } from "../place.ts";
import { movingWords } from "../words/moving.ts";
import { FoundPart } from "./found-part.tsx";
import type { FoundRecord } from "./moving-model.ts";
import { findRecord } from "./moving-model.ts";
import { TakeForm } from "./take-form.tsx";

export function MovingScreen() {
  const desk = useDesk();
  const [found, setFound] = useState<FoundRecord | null>(null);
  const [done, setDone] = useState<TakenIn | null>(null);
  const [refused, setRefused] = useState<Message | null>(null);
  const [busy, setBusy] = useState(false);
  const read = async (file: File | undefined): Promise<void> => {
    if (file === undefined) return;
    setDone(null);
    setFound(null);
    setRefused(null);
    setBusy(true);
    const record = await findRecord(await file.text(), desk.club);
    setBusy(false);
    if (record.ok) setFound(record.value);
    else setRefused(record.fault);
  };
  return (
    <Page title={movingWords.title} lead={movingWords.lead}>
      <Field label={movingWords.file} hint={movingWords.fileHint}>
        {(control) => (
          <input
            {...control}
            type="file"
            disabled={busy}
            onChange={(event) => {
              const input = event.currentTarget;
              // The same file chosen again is a change too.
              void read(input.files?.[0]).finally(() => {
                input.value = "";
              });
            }}
          />
        )}
      </Field>
      <p role="status">{busy ? movingWords.reading : ""}</p>
      <Refused message={refused} />
      {found !== null && done === null && (
        <>
          <FoundPart record={found.record} />
          {isHandicapper.value ? <TakeForm found={found} onDone={setDone} /> : <p>{movingWords.mayNot}</p>}
        </>
      )}
      {done !== null && <Done done={done} />}
      <Prevail />
    </Page>
  );
}

function Done({ done }: { readonly done: TakenIn }) {
  const href = useHref();
  const words = movingWords.done;
  const told = done.same ? words.same(done.cutover) : words.differs(done.cutover);
  return (
    <Notice tone={done.same ? "good" : "info"} title={words.title(nameOf(done.player))} live>
      <p>
        {done.entries === null && `${words.again} `}
        {told}
      </p>
      <p>
        <a href={href(places.member(done.player))}>{words.toCard}</a>
      </p>
    </Notice>
  );
}
