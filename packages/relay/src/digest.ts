/**
 * What a room holds, in 32 bytes, so that two who should hold the same can find out that they do not: a relay and a device, two relays
 * of one store, two stores filled by the same devices. Equal state vectors prove nothing: two envelopes under one client id and clock
 * leave two documents with equal vectors, empty differences and different contents for ever. The relay needs no key for it and
 * decides nothing by it (PROTOCOL.md, RL17).
 *
 * A chain for each client in the order of its clocks, so that of a ledger only what came since the last question is hashed. Rejected:
 * the exclusive or of all hashes (whoever may write can make it come out as he likes) and the hash of the encoded document (a Yjs of
 * another make may order it differently).
 */
import { createHash } from "node:crypto";
import { setImmediate as pause } from "node:timers/promises";
import type { RoomKind } from "@sward/core";
import * as encoding from "lib0/encoding";
import * as Y from "yjs";

export interface RoomDigest {
  /** The encoded state vector of what it is the digest of. */
  readonly vector: Uint8Array;
  readonly digest: Uint8Array;
}

/** One envelope in its place. `key` is empty in a ledger. */
export interface Link {
  readonly clock: number;
  readonly key: string;
  readonly envelope: Uint8Array;
}

/** So much is hashed before others get their turn. */
const sliceBytes = 2 * 1024 * 1024;
const start = new Uint8Array(32);

/**
 * Of one room's contents, as often as it is asked; who asks while it is being worked out gets the same answer. `vectorNow`: the encoded
 * state vector. `linksFrom`: of each client the envelopes from this clock of his on, in their order.
 */
export function createDigester(
  vectorNow: () => Uint8Array,
  linksFrom: (from: (client: number) => number) => ReadonlyMap<number, readonly Link[]>,
  kind: RoomKind,
): () => Promise<RoomDigest> {
  /** Of each client of a ledger, how far its chain was worked out. A roster's may be changed by an erasure anywhere. */
  const known = new Map<number, { readonly next: number; readonly chain: Uint8Array }>();
  let running: Promise<RoomDigest> | null = null;

  const work = async (): Promise<RoomDigest> => {
    const vector = vectorNow();
    const clients = [...Y.decodeStateVector(vector)].sort(([a], [b]) => a - b);
    const links = linksFrom((client) => known.get(client)?.next ?? 0);
    const grown = clients.map(([client, next]) => {
      return { client, next, chain: known.get(client)?.chain ?? start, links: links.get(client) ?? [] };
    });
    const whole = createHash("sha256");
    let left = sliceBytes;
    for (const { client, next, chain: before, links } of grown) {
      let chain = before;
      for (const link of links) {
        chain = linked(chain, link);
        left -= link.envelope.length;
        if (left > 0) continue;
        await pause();
        left = sliceBytes;
      }
      if (kind === "ledger") known.set(client, { next, chain });
      whole.update(uints(client, next)).update(chain);
    }
    return { vector, digest: new Uint8Array(whole.digest()) };
  };

  return () => {
    running ??= work().finally(() => {
      running = null;
    });
    return running;
  };
}

/** The envelopes that a document holds now, as `createDigester` asks for them. */
export function linksOfDocument(doc: Y.Doc, from: (client: number) => number): ReadonlyMap<number, Link[]> {
  return new Map([...doc.store.clients.keys()].map((client) => [client, linksOf(doc, client, from(client))]));
}

function linksOf(doc: Y.Doc, client: number, from: number): Link[] {
  const structs = doc.store.clients.get(client) ?? [];
  const links: Link[] = [];
  for (let place = structs.length - 1; place >= 0; place -= 1) {
    const struct = structs[place] as Y.Item | Y.GC;
    if (struct.id.clock < from) break;
    if (!(struct instanceof Y.Item) || !(struct.content instanceof Y.ContentBinary)) continue;
    links.push({ clock: struct.id.clock, key: struct.parentSub ?? "", envelope: struct.content.content });
  }
  return links.reverse();
}

function linked(chain: Uint8Array, { clock, key, envelope }: Link): Uint8Array {
  const encoder = encoding.createEncoder();
  encoding.writeVarUint(encoder, clock);
  encoding.writeVarString(encoder, key);
  encoding.writeVarUint8Array(encoder, envelope);
  return createHash("sha256").update(chain).update(encoding.toUint8Array(encoder)).digest();
}

function uints(...values: readonly number[]): Uint8Array {
  const encoder = encoding.createEncoder();
  for (const value of values) encoding.writeVarUint(encoder, value);
  return encoding.toUint8Array(encoder);
}
