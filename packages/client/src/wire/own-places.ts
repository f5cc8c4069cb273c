/**
 * A client id of Yjs belongs to whoever wrote under it first, and nothing in Yjs or at a relay holds anybody to that: who has the
 * room's secret may write under an id he has seen, and where his envelope is first, the real one is nowhere but here, taken by all for
 * known already. Nobody but its author can tell; he can, at once. What lies under an id that this document made up since it was opened
 * was written here and sent by this wire. So when the relay says it stores more of it than was sent, or brings other bytes for a place
 * of it, somebody else writes under it: then it is given up, and what was written under it is handed over again under a new one.
 *
 * Rejected: the author's key in every struct, checked by all (an envelope is handed on by devices that did not write what is in it; and
 * a relay, which must refuse the second of two, would learn who writes).
 */
import type { StateVector } from "@sward/core";
import { contentOf, readUpdate } from "@sward/core";
import * as Y from "yjs";
import { envelopeAt } from "../book/ledger-doc.ts";

export interface OwnPlaces {
  /** Something was written here, under the document's client id of now. */
  wrote(): void;
  /** All that is in the document has been put on the socket. */
  sent(): void;
  /** What the relay says it stores. True: an id was found to be taken. */
  stored(there: StateVector): boolean;
  /** An update from the relay, before it is applied. True: an id was found to be taken. */
  arriving(update: Uint8Array): boolean;
  /** Ids of ours under which somebody else writes. */
  taken(): ReadonlySet<number>;
}

export function createOwnPlaces(doc: Y.Doc): OwnPlaces {
  /** Of each id of ours, up to which clock it was sent. */
  const own = new Map<number, number>();
  const taken = new Set<number>();

  function take(client: number): boolean {
    own.delete(client);
    taken.add(client);
    return true;
  }

  const isOther = (client: number, clock: number, body: Uint8Array): boolean => {
    const mine = envelopeAt(doc, { client, clock });
    return mine === undefined || mine.length !== body.length || mine.some((byte, at) => byte !== body[at]);
  };

  return {
    wrote() {
      if (!taken.has(doc.clientID) && !own.has(doc.clientID)) own.set(doc.clientID, 0);
    },
    sent() {
      for (const client of own.keys()) own.set(client, Y.getState(doc.store, client));
    },
    stored(there) {
      let found = false;
      for (const [client, sentUpTo] of own) if ((there.get(client) ?? 0) > sentUpTo) found = take(client);
      return found;
    },
    arriving(update) {
      if (own.size === 0) return false;
      const read = readUpdate(update);
      let found = false;
      for (const { client, structs } of "type" in read ? [] : read.blocks) {
        if (own.has(client) && structs.some((one) => isOther(client, one.clock, contentOf(update, one))))
          found = take(client);
      }
      return found;
    },
    taken: () => taken,
  };
}
