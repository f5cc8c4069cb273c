/**
 * The roster's rooms of epochs that were left. The relay still has sealed names there, and whoever was barred still has that epoch's
 * key; so a name that is erased is deleted there as well. Each room is visited for as long as that takes and then left again; it is done
 * at every meeting with the relay while there are erasures, since a device that had not moved yet may have put a name back.
 *
 * Nothing is read there and nothing written but the deletion. Rejected: emptying those rooms altogether (a device that comes late reads
 * its club's names there before it moves).
 */
import * as Y from "yjs";
import type { EpochKeys } from "../keys/book-keys.ts";
import { deriveEpochs } from "../keys/book-keys.ts";
import type { Wire } from "../wire/connection.ts";
import type { BookOptions } from "./options.ts";
import { openRoomWire } from "./room-wire.ts";
import { rosterMap } from "./roster.ts";

export interface FormerRosters {
  /** Deletes the values of these subjects wherever they are still. Returns at once. */
  clear(subjects: readonly string[]): void;
  close(): Promise<void>;
}

/** What was said goes out before the socket closes; this is for what a wire does after it has read all there is. */
const LINGER_MS = 1_000;

export function createFormerRosters(options: BookOptions, current: EpochKeys): FormerRosters {
  const visits = new Map<string, { readonly wire: Wire; readonly doc: Y.Doc }>();
  let closed = false;

  async function clear(subjects: readonly string[]): Promise<void> {
    if (subjects.length === 0 || options.epochs.length < 2 || options.relay === null) return;
    const { byNumber } = await deriveEpochs(options.book, options.epochs);
    for (const keys of byNumber.values()) {
      if (keys.room !== current.room && !visits.has(keys.room) && !closed) visit(keys, subjects);
    }
  }

  function visit(keys: EpochKeys, subjects: readonly string[]): void {
    const doc = new Y.Doc();
    const wire = openRoomWire(options, { kind: "roster", signer: keys.rosterRoom, doc, dial: true });
    if (wire === null) return;
    visits.set(keys.room, { wire, doc });
    let done = false;
    wire.subscribe(() => {
      const state = wire.state();
      if (done || (state.type !== "refused" && !(state.type === "live" && state.synced))) return;
      done = true;
      const map = rosterMap(doc);
      doc.transact(() => {
        for (const about of subjects) if (map.has(about)) map.delete(about);
      });
      options.relay?.deps.setTimeout(() => void leave(keys.room), LINGER_MS);
    });
  }

  async function leave(room: string): Promise<void> {
    const visit = visits.get(room);
    if (visit === undefined) return;
    visits.delete(room);
    await visit.wire.close();
    visit.doc.destroy();
  }

  return {
    clear: (subjects) => void clear(subjects).catch(() => undefined),
    async close() {
      closed = true;
      await Promise.all([...visits.keys()].map(leave));
    },
  };
}
