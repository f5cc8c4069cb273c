/**
 * The club's record as it would be with something more in it: core's own ledger over the entries held and what is about to be written,
 * so a screen cannot promise what the record will not show. Nothing is signed and nothing is kept. Takes about as long as opening
 * the book does, so it is asked for when somebody has made up his mind, and not while he types.
 *
 * Rejected: moving games from one card to another by hand (whether two reports are one match, and what then becomes of both, is not
 * so simple that it should be written twice).
 */
import type { Arrival, BookState, Draft, Entry, EntryId } from "@sward/core";
import { createLedger, decodeEntry, digestOf } from "@sward/core";
import { recallEntries } from "../../book/recall.ts";
import type { VisitedBook } from "./visited-desk.ts";

export function wouldBe(book: Pick<VisitedBook, "id" | "device" | "state" | "entries">, drafts: readonly Draft[]) {
  const { uncounted } = book.state();
  const ledger = createLedger(book.id);
  ledger.add([...recallEntries(book.entries()).values()].map((entry) => arrivalOf(entry, uncounted)));
  for (const { kind, body } of drafts) {
    const { seq, prev } = ledger.next(book.device);
    // The id only has to be one of its own.
    const id = digestOf(`would-be:${seq}:${prev}`) as EntryId;
    const head = { id, author: book.device, book: book.id, seq, prev, at: "", understood: true as const };
    ledger.add([{ entry: { ...head, kind, body } as Entry }]);
  }
  return ledger.state();
}

/** What a copy carries was checked when it came; only one that did not hold is said not to. */
function arrivalOf(entry: Entry, uncounted: BookState["uncounted"]): Arrival {
  if (!entry.understood || entry.kind !== "entry-carried") return { entry };
  const inner = decodeEntry(entry.body.entry);
  return { entry, carried: inner.ok && uncounted.get(entry.id) !== "carried-copy-invalid" ? inner.value : null };
}
