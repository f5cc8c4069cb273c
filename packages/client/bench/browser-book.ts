/** The signed book that the page's stages are timed with: made under Node, which signs faster, and fetched. */
import type { Arrival, BookId, PublicKey } from "@sward/core";
import { decodeEntry } from "@sward/core";
import * as Y from "yjs";
import type { PlacedEnvelope } from "../src/book/ledger-doc.ts";
import { unseenEnvelopes } from "../src/book/ledger-doc.ts";
import type { WrittenEntry } from "./world.ts";

/** As it is served. */
export interface ServedBook {
  readonly book: BookId;
  readonly entries: readonly WrittenEntry[];
  readonly keys: readonly PublicKey[];
}

export interface PageBook extends ServedBook {
  readonly arrivals: readonly Arrival[];
  /** The document that holds an envelope for each entry. */
  readonly update: Uint8Array;
  /** One for each entry, in their order, with where it lies in the document. */
  readonly envelopes: readonly PlacedEnvelope[];
}

export async function fetchBook(): Promise<PageBook> {
  const served: ServedBook = await (await fetch("book.json")).json();
  const update = new Uint8Array(await (await fetch("book.update")).arrayBuffer());
  const doc = new Y.Doc();
  Y.applyUpdate(doc, update);
  const arrivals = served.entries.map(({ jws }): Arrival => {
    const decoded = decodeEntry(jws);
    if (!decoded.ok) throw new Error(decoded.fault.type);
    return { entry: decoded.value };
  });
  return { ...served, update, arrivals, envelopes: unseenEnvelopes(doc, new Map()) };
}
