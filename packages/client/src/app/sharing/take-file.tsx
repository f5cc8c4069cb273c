/**
 * A record's file taken in: what another device of the same book has and this one has not, where there is no relay between them. The file
 * is checked whole before anything of it is kept, and the same file again changes nothing.
 */
import { useState } from "preact/hooks";
import type { Book } from "../../book/book.ts";
import type { Message } from "../../messages.ts";
import { messageOf } from "../../messages.ts";
import { verifyRecordFile } from "../../record/verify.ts";
import { Field } from "../parts/field.tsx";
import { Refused } from "../parts/refused.tsx";
import { sharingWords } from "../words/sharing.ts";

export function TakeFile({ book, name }: { readonly book: Book; readonly name: string }) {
  const [told, setTold] = useState("");
  const [refused, setRefused] = useState<Message | null>(null);
  const take = async (input: HTMLInputElement): Promise<void> => {
    const [file] = input.files ?? [];
    if (file === undefined) return;
    setRefused(null);
    setTold(sharingWords.taking);
    const answer = await takeIn(book, await file.text());
    setTold(answer.told);
    setRefused(answer.refused);
    // The same file may be chosen again.
    input.value = "";
  };
  return (
    <div class="record-export">
      <Field label={sharingWords.takeFile(name)} hint={sharingWords.takeHint}>
        {(control) => (
          <input
            {...control}
            type="file"
            accept=".jsonl,application/jsonl,text/plain"
            onChange={(event) => void take(event.currentTarget)}
          />
        )}
      </Field>
      <div role="status">{told}</div>
      <Refused message={refused} />
    </div>
  );
}

async function takeIn(book: Book, text: string): Promise<{ readonly told: string; readonly refused: Message | null }> {
  const verified = await verifyRecordFile(text);
  if (!verified.ok) return { told: "", refused: messageOf(verified.fault) };
  const { report, texts } = verified.value;
  if (report.book !== book.id) {
    const { name, player } = report;
    const fault = { type: "import-other-book", book: report.book, name, ofPlayer: player !== null } as const;
    return { told: "", refused: messageOf(fault) };
  }
  const taken = await book.takeEntries(texts);
  if (!taken.ok) return { told: "", refused: messageOf(taken.fault) };
  return { told: sharingWords.taken(taken.value.added.length, taken.value.known), refused: null };
}
