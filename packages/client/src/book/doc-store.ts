/**
 * Where a Yjs document is kept between starts. It is transport, not the record: when what is stored does not pass the screen it is
 * thrown away and the document is filled again from the vault and the relay. Nothing is applied that was not screened first,
 * whoever wrote it: a store can hold what an older version, another tab or a broken disk left there.
 */
import type * as Y from "yjs";

export interface DocStore {
  /** It will be attached soon: what that takes may be done meanwhile. */
  prepare(): void;
  /**
   * Puts what is stored into the document and keeps every later update. `sound: false`: what was stored did not pass the screen
   * and was erased. `rows`: in how many pieces it was stored; one is the document as a whole, later ones may hold what it has lost since.
   */
  attach(doc: Y.Doc): Promise<{ readonly sound: boolean; readonly rows: number }>;
  /**
   * Forgets what is stored, so that no byte of it stays in the store's files as far as the platform lets us see to it, and lets go of
   * the document, which may be attached again.
   */
  wipe(): Promise<void>;
  close(): Promise<void>;
}

/** For tests, and for a browser without storage: the relay and the vault fill the document each time. */
export const createMemoryDocStore = (): DocStore => ({
  prepare: () => undefined,
  attach: () => Promise.resolve({ sound: true, rows: 0 }),
  wipe: () => Promise.resolve(),
  close: () => Promise.resolve(),
});
