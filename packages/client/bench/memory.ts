/**
 * What a book holds in memory for each entry, as its keeper holds it: the ledger with every entry, match and card, and apart from it
 * the document whose envelopes travel. Both are needed while the book is open: the one is read, the other is synchronised.
 */
import { setFlagsFromString } from "node:v8";
import { runInNewContext } from "node:vm";
import { createLedger } from "@sward/core";
import * as Y from "yjs";
import { recallEntries } from "../src/book/recall.ts";
import type { SignedBook } from "./signed.ts";

export interface Memory {
  readonly size: number;
  /** Bytes for each entry, heap and buffers. */
  readonly ledger: number;
  readonly document: number;
  /** Characters of one entry's signed text, the mean. An open book holds these too (`book/holdings.ts`). */
  readonly text: number;
}

export function measureMemory({ bench, update }: SignedBook): Memory {
  setFlagsFromString("--expose-gc");
  const collect = runInNewContext("gc") as () => void;
  const used = (): number => {
    collect();
    collect();
    const { heapUsed, arrayBuffers } = process.memoryUsage();
    return heapUsed + arrayBuffers;
  };
  const size = bench.entries.length;
  const kept: unknown[] = [];
  const perEntry = (make: () => unknown): number => {
    const before = used();
    kept.push(make());
    return Math.round((used() - before) / size);
  };
  const ledger = perEntry(() => {
    const entries = recallEntries(bench.entries.map((one) => ({ ...one, understood: true, place: null })));
    const made = createLedger(bench.book);
    made.add([...entries.values()].map((entry) => ({ entry })));
    if (made.state().entries !== size) throw new Error("an entry is missing");
    return made;
  });
  const document = perEntry(() => {
    const doc = new Y.Doc();
    Y.applyUpdate(doc, Uint8Array.from(update));
    return doc;
  });
  const text = Math.round(bench.entries.reduce((sum, { jws }) => sum + jws.length, 0) / size);
  if (kept.length !== 2) throw new Error("two things are kept until they are measured");
  return { size, ledger, document, text };
}
