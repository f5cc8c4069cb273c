/** A roster: a small Yjs document, which forgets what was erased or gave place to a newer value. */
import { knownInStore, pagesOf } from "@sward/core";
import * as Y from "yjs";
import type { Contents } from "./contents.ts";
import { createDigester, linksOfDocument } from "./digest.ts";

export interface RosterContents extends Contents {
  /** All it says, as one update; equal contents, equal bytes. */
  state(): Uint8Array;
}

/** `pageBytes`: of one page of history. */
export function createRosterContents(pageBytes: number): RosterContents {
  const doc = new Y.Doc();
  const digest = createDigester(
    () => Y.encodeStateVector(doc),
    (from) => linksOfDocument(doc, from),
    "roster",
  );
  return {
    known: knownInStore(doc.store),
    apply: (accepted) => Y.applyUpdate(doc, accepted),
    vector: () => Y.encodeStateVector(doc),
    since: (vector) => pagesOf(Y.encodeStateAsUpdate(doc, vector), pageBytes),
    digest,
    state: () => Y.encodeStateAsUpdate(doc),
    close: () => doc.destroy(),
  };
}
