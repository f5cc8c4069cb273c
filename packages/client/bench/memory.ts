/**
 * What a book holds in memory for each entry, as an open one does: read from the records of a vault, entries, matches and cards in the
 * ledger, what is kept of every signed text beside it, and apart from both the document whose envelopes travel.
 */
import type { Ledger } from "@sward/core";
import { atOnce, createLedger } from "@sward/core";
import * as Y from "yjs";
import { neverBreathe } from "../src/book/breathing.ts";
import { openHoldings } from "../src/book/holdings.ts";
import { KeptEntry } from "../src/book/kept-entry.ts";
import { recallArrivals } from "../src/book/recall.ts";
import { rewritten } from "../src/book/vault.ts";
import { createMemoryVault } from "../src/book/vault-memory.ts";
import { createRecordReader, encodeRecord } from "../src/book/vault-record.ts";
import { createVerifier } from "../src/keys/verifier.ts";
import { collect } from "./collect.ts";
import type { SignedBook } from "./signed.ts";

export interface Memory {
  readonly size: number;
  /** Bytes for each entry, heap and buffers. */
  readonly ledger: number;
  readonly document: number;
  /** Beside the ledger: what is kept to make signed texts again, and where their envelopes lie (`book/kept-entry.ts`). */
  readonly text: number;
}

export async function measureMemory({ bench, update }: SignedBook): Promise<Memory> {
  const used = (): number => {
    collect();
    collect();
    const { heapUsed, arrayBuffers } = process.memoryUsage();
    return heapUsed + arrayBuffers;
  };
  const size = bench.entries.length;
  const kept: unknown[] = [];
  const perEntry = async (make: () => Promise<unknown>): Promise<number> => {
    const before = used();
    kept.push(await make());
    return Math.round((used() - before) / size);
  };
  const records = recordsOf(bench.entries);
  const ledger = await perEntry(async () => (await openFrom(records, bench)).ledger);
  const both = await perEntry(() => openFrom(records, bench));
  const document = await perEntry(async () => {
    const doc = new Y.Doc();
    Y.applyUpdate(doc, Uint8Array.from(update));
    return doc;
  });
  if (kept.length !== 3) throw new Error("three things are kept until they are measured");
  return { size, ledger, document, text: both - ledger };
}

const recordsOf = (entries: SignedBook["bench"]["entries"]): readonly string[] =>
  rewritten({
    entries: new Map(
      entries.map(({ id, jws }, clock) => [
        id,
        KeptEntry.ofText({ id, jws, understood: true, place: { client: 1, clock } }),
      ]),
    ),
    unchecked: [],
    sealed: [],
    unread: false,
    lodging: null,
    closed: [],
  }).map(encodeRecord);

/** As `book.ts` does it. */
async function openFrom(records: readonly string[], { book, entries }: SignedBook["bench"]) {
  const read = createRecordReader();
  const load = () => Promise.resolve(records.map((text) => atOnce(read(text))));
  const holdings = await openHoldings({ ...createMemoryVault(), load }, () => undefined);
  const ledger: Ledger = createLedger(book);
  ledger.add((await recallArrivals(holdings.entries.values(), createVerifier(), neverBreathe)).rest);
  holdings.share(ledger.entry);
  if (ledger.state().entries !== entries.length) throw new Error("an entry is missing");
  return { holdings, ledger };
}
