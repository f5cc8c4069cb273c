/** A copy of the club's record for whoever recovers the club with its words: any device that holds the record gives one. */
import { useState } from "preact/hooks";
import type { Book } from "../../book/book.ts";
import { writeClubCopy } from "../../desk/club-copy.ts";
import { useDesk } from "../desk-store.ts";
import { offerFile } from "../files/offer-file.ts";
import { Button } from "../parts/button.tsx";
import { foundWords } from "../words/found.ts";

export function CopyButton({ book }: { readonly book: Book }) {
  const desk = useDesk();
  const [told, setTold] = useState("");
  const { name, entries } = book.state();
  const save = (): void => {
    offerFile(writeClubCopy(book), `club-copy-${desk.today()}.json`, "application/json");
    setTold(foundWords.give.done(entries));
  };
  return (
    <div class="record-export">
      <Button onClick={save}>{foundWords.give.button(name)}</Button>
      <p class="quiet small">{foundWords.give.hint}</p>
      <div role="status">{told}</div>
    </div>
  );
}
