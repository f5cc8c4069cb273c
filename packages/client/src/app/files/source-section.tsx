/** Where the lines come from, and once they are here, what was read and how far it is. */
import { useRef, useState } from "preact/hooks";
import { Button } from "../parts/button.tsx";
import { Field } from "../parts/field.tsx";
import { filesWords } from "../words/files.ts";
import { tableFaultWords } from "../words/files-faults.ts";
import type { DecodingFault } from "./decoding.ts";
import { decodeFile } from "./decoding.ts";
import type { Importing } from "./importing.ts";

export function SourceSection({ importing }: { readonly importing: Importing }) {
  const pasted = useRef<HTMLTextAreaElement>(null);
  const [from, setFrom] = useState<"paste" | "file">("paste");
  const [unread, setUnread] = useState<DecodingFault | null>(null);
  const [empty, setEmpty] = useState(false);
  const fault = unread ?? importing.fault.value;
  const said = fault === null ? null : tableFaultWords(fault);

  const readPasted = (text: string): void => {
    setFrom("paste");
    setUnread(null);
    setEmpty(text.trim() === "");
    if (text.trim() !== "") void importing.take("", text);
  };
  const readFile = async (file: File | undefined): Promise<void> => {
    if (file === undefined) return;
    setFrom("file");
    setEmpty(false);
    const text = decodeFile(new Uint8Array(await file.arrayBuffer()));
    setUnread(text.ok ? null : text.fault);
    if (text.ok) await importing.take(file.name, text.value);
  };
  const { source } = filesWords;
  return (
    <form
      noValidate
      onSubmit={(event) => {
        event.preventDefault();
        readPasted(pasted.current?.value ?? "");
      }}
    >
      <p class="quiet">{source.lead}</p>
      <Field
        label={source.paste}
        hint={source.pasteHint}
        error={empty ? source.nothing : from === "paste" ? said : null}
      >
        {(control) => (
          <textarea
            {...control}
            ref={pasted}
            class="files-paste"
            rows={5}
            spellcheck={false}
            autocomplete="off"
            wrap="off"
          />
        )}
      </Field>
      <Button look="main" type="submit">
        {source.read}
      </Button>
      <div class="files-or">
        <Field label={source.file} hint={source.fileHint} error={from === "file" ? said : null}>
          {(control) => (
            <input
              {...control}
              type="file"
              accept=".csv,.tsv,.txt,text/csv,text/tab-separated-values,text/plain"
              onChange={(event) => {
                const input = event.currentTarget;
                // The same file chosen again, once it is mended, is a change too.
                void readFile(input.files?.[0]).finally(() => {
                  input.value = "";
                });
              }}
            />
          )}
        </Field>
      </div>
    </form>
  );
}

export function ReadSection({ importing }: { readonly importing: Importing }) {
  const taken = importing.taken.value;
  const progress = importing.progress.value;
  if (taken === null) return null;
  const { name, text, table } = taken;
  return (
    <div class="files-read">
      <div class="row">
        <p class="files-read-what">{filesWords.readFrom(name, table.rows.length)}</p>
        <label class="choice">
          <input
            type="checkbox"
            checked={table.heading !== null}
            onChange={(event) => void importing.take(name, text, event.currentTarget.checked ? "yes" : "no")}
          />
          {filesWords.heading}
        </label>
        <Button onClick={importing.clear}>{filesWords.again}</Button>
      </div>
      <Progress importing={importing} />
      {progress === null && importing.outcome.value === null && (
        <div class="row">
          <p role="status">{filesWords.stopped}</p>
          <Button onClick={() => void importing.rework()}>{filesWords.readOn}</Button>
        </div>
      )}
    </div>
  );
}

/** For a long file the place is kept, or the page would jump at each change of a select box. */
function Progress({ importing }: { readonly importing: Importing }) {
  const progress = importing.progress.value;
  if ((importing.taken.value?.table.rows.length ?? 0) < LONG) return null;
  return (
    <div class="files-progress">
      {progress !== null && (
        <>
          <progress
            max={progress.total}
            value={progress.done}
            aria-label={filesWords.working(progress.done, progress.total)}
          />
          <Button look="quiet" onClick={importing.stop}>
            {filesWords.stop}
          </Button>
        </>
      )}
    </div>
  );
}

/** Lines below which all is read before anybody could see how far it is. */
const LONG = 1000;
