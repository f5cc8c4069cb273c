/**
 * The document in which a roster travels, with its store and its wire: one map of sealed envelopes. What they say is for the book's roster
 * to read (`roster-book.ts`). Apart from it, since names are shown from the vault's copy, and a document takes a library that would
 * be a quarter of the first view's script.
 */
import * as Y from "yjs";
import type { EpochKeys } from "../keys/book-keys.ts";
import type { BookOptions } from "./options.ts";
import { openRoomWire } from "./room-wire.ts";
import { rosterMap } from "./roster.ts";

export interface RosterDoc {
  get(key: string): Uint8Array | undefined;
  keys(): Iterable<string>;
  put(envelopes: Iterable<readonly [string, Uint8Array]>): void;
  remove(keys: readonly string[]): void;
  /** Puts in what is stored; says as a document's store does (`doc-store.ts`) in how many pieces it was, and whether it was sound. */
  attach(): Promise<{ readonly sound: boolean; readonly rows: number }>;
  /** Stores it anew, without what it has lost. */
  rewrite(): Promise<void>;
  pause(): void;
  /** Dials; it does not before it is told to. */
  resume(): void;
  hangUp(): Promise<void>;
  destroy(): void;
}

export interface RosterDocEvents {
  /** Values that somebody else wrote, or the store had; `isGone`: deleted. */
  readonly changed: (keys: readonly { readonly key: string; readonly isGone: boolean }[]) => void;
  /** Something has changed with the wire; whether all that the relay had has been read. */
  readonly met: (synced: boolean) => void;
}

export function createRosterDoc(options: BookOptions, epoch: EpochKeys, { changed, met }: RosterDocEvents): RosterDoc {
  const { rosterStore } = options;
  const doc = new Y.Doc();
  const map = rosterMap(doc);
  map.observe(({ transaction, changes }) => {
    if (!transaction.local)
      changed([...changes.keys].map(([key, { action }]) => ({ key, isGone: action === "delete" })));
  });
  const wire = openRoomWire(options, { kind: "roster", signer: epoch.rosterRoom, doc, dial: false });
  wire?.subscribe(() => {
    const state = wire.state();
    met(state.type === "live" && state.synced);
  });
  return {
    get: (key) => map.get(key),
    keys: () => map.keys(),
    put: (envelopes) =>
      doc.transact(() => {
        // Yjs checks the constructor: a Node Buffer would be refused.
        for (const [key, envelope] of envelopes) map.set(key, Uint8Array.from(envelope));
      }),
    remove: (keys) =>
      doc.transact(() => {
        for (const key of keys) map.delete(key);
      }),
    attach: () => rosterStore.attach(doc),
    async rewrite() {
      await rosterStore.wipe();
      await rosterStore.attach(doc);
    },
    pause: () => wire?.pause(),
    resume: () => wire?.resume(),
    hangUp: async () => wire?.close(),
    destroy: () => doc.destroy(),
  };
}
