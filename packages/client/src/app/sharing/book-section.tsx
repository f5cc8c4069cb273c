/** One record: how much of it is here and at the relay, its mark, its newest entries, and a copy in a file. */
import { useMemo, useState } from "preact/hooks";
import type { Book } from "../../book/book.ts";
import { seedOf } from "../../desk/pass.ts";
import { systemClock } from "../../desk/platform.ts";
import { createSigner } from "../../keys/signer.ts";
import type { Message } from "../../messages.ts";
import { messageOf } from "../../messages.ts";
import { writeRecordFile } from "../../record/write.ts";
import { showMoment } from "../dates.ts";
import { deviceName, keptPass, shortNameOf, useDesk, version } from "../desk-store.ts";
import { CopyButton } from "../found/copy-button.tsx";
import { Button } from "../parts/button.tsx";
import { CustodyBadge } from "../parts/custody-badge.tsx";
import { Refused } from "../parts/refused.tsx";
import { connectionTold, entryTold, sharingWords, uncountedWords } from "../words/sharing.ts";
import { digestMark } from "./digest-mark.ts";
import { newestEntries, uncountedByReason } from "./newest.ts";
import { TakeFile } from "./take-file.tsx";

const LISTED = 8;

export function BookSection({ book }: { readonly book: Book }) {
  const state = book.state();
  const name = state.name === "" ? sharingWords.unnamed : state.name;
  const mark = useMemo(() => digestMark(book.digest()), [book, version.value]);
  const newest = useMemo(() => newestEntries(book.counted(), LISTED), [book, version.value]);
  const uncounted = useMemo(() => uncountedByReason(state), [book, version.value]);
  return (
    <section class="record" aria-label={name}>
      <h3>
        {name} <span class="quiet small">{state.as === null ? "" : sharingWords.kind[state.as]}</span>
      </h3>
      <p>
        {sharingWords.entries(state.entries)}. {sharingWords.waiting(book.waiting())}{" "}
        {connectionTold(book.connection()).what}.
      </p>
      <dl class="mark">
        <dt>{sharingWords.mark}</dt>
        <dd class="mark-value">{mark}</dd>
      </dl>
      <p class="quiet small">{sharingWords.markHint}</p>
      <details>
        <summary>{sharingWords.newest}</summary>
        <ol class="newest">
          {newest.map((entry) => {
            const custody = book.custody(entry.id);
            return (
              <li key={entry.id}>
                {entryTold(entry, shortNameOf)}{" "}
                <span class="quiet small">
                  {showMoment(entry.at)}, {sharingWords.by(deviceName(entry.author))}
                </span>{" "}
                <CustodyBadge custody={custody} />
              </li>
            );
          })}
        </ol>
      </details>
      {uncounted.length > 0 && (
        <details>
          <summary>{sharingWords.uncounted}</summary>
          <p class="quiet">{sharingWords.uncountedHint}</p>
          <ul>
            {uncounted.map(([reason, many]) => (
              <li key={reason}>
                {many}: {uncountedWords[reason]}
              </li>
            ))}
          </ul>
        </details>
      )}
      <ExportButton book={book} name={name} />
      <TakeFile book={book} name={name} />
      {state.as === "club" && <CopyButton book={book} />}
    </section>
  );
}

function ExportButton({ book, name }: { readonly book: Book; readonly name: string }) {
  const desk = useDesk();
  const [refused, setRefused] = useState<Message | null>(null);
  const [told, setTold] = useState("");
  const write = async (): Promise<void> => {
    const kept = keptPass.value;
    if (kept === null) return;
    const signer = await createSigner(seedOf(kept.pass));
    const written = await writeRecordFile(book, signer, { player: null, at: systemClock.timestamp() });
    setRefused(written.ok ? null : messageOf(written.fault));
    if (!written.ok) return;
    offer(written.value.text, `${fileName(name)}-${desk.today()}.jsonl`);
    setTold(sharingWords.exported(written.value.manifest.entries));
  };
  return (
    <div class="record-export">
      <Button onClick={() => void write()}>{sharingWords.exportBook(name)}</Button>
      <p class="quiet small">{sharingWords.exportHint}</p>
      <div role="status">{told}</div>
      <Refused message={refused} />
    </div>
  );
}

/** Hands a text to the browser as a file to keep. */
function offer(text: string, name: string): void {
  const url = URL.createObjectURL(new Blob([text], { type: "application/jsonl" }));
  const link = document.createElement("a");
  link.href = url;
  link.download = name;
  link.click();
  // The browser has taken it by the next turn; a second is for slow ones.
  setTimeout(() => URL.revokeObjectURL(url), 1_000);
}

const fileName = (name: string): string =>
  name
    .normalize("NFD")
    .replace(/[^\p{L}\p{N}]+/gu, "-")
    .replace(/^-|-$/g, "")
    .toLowerCase();
