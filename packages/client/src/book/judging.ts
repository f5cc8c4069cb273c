/**
 * What a document's store holds, judged by the screen that judges what comes from a relay, and applied. Apart from the stores, since a
 * page fetches it after the first view.
 *
 * Of a stored ledger the envelopes are not copied out, as Yjs copies whatever it reads: they are views of what the store gave, which
 * nobody else has. Memory of its own for each of thirty thousand envelopes was most of what a browser took to load them. Rejected: the
 * same of a roster (a value is kept by itself too, and with a view of it go the bytes of all others, of erased names among them) and of
 * what comes from a relay (one message may be mostly what is here already).
 */
import type { RoomKind, ScreenLimits, Steps } from "@sward/core";
import { screenLimits, screenUpdate } from "@sward/core";
import { readVarUint8Array } from "lib0/decoding";
import * as Y from "yjs";

/** Our own stored state is one long update; the relay's pages are not. */
const storedLimits: ScreenLimits = { ...screenLimits, updateBytes: 1024 * 1024 * 1024 };

/** Whether these updates, applied in this order to an empty document, pass the screen; a step for each. */
export function* judgingStored(updates: readonly Uint8Array[], kind: RoomKind): Steps<boolean> {
  const next = new Map<number, number>();
  const known = { next: (client: number) => next.get(client) ?? 0, clients: 0 };
  for (const update of updates) {
    yield;
    known.clients = next.size;
    const verdict = screenUpdate(update, known, { kind, policy: "whole", limits: storedLimits });
    if (verdict.refusals.length > 0 || verdict.gap !== null) return false;
    for (const [client, clock] of verdict.next) next.set(client, clock);
  }
  return true;
}

/** Applies what passes the screen, a step for each; false, and nothing applied, where some of it does not. */
export function* fillingStored(
  doc: Y.Doc,
  updates: readonly Uint8Array[],
  kind: RoomKind,
  origin: unknown,
): Steps<boolean> {
  if (!(yield* judgingStored(updates, kind))) return false;
  for (const update of updates) {
    applyStored(doc, update, kind, origin);
    yield;
  }
  return true;
}

/** Applies what was judged. The update is the document's from now on: nothing else may be written to it. */
export function applyStored(doc: Y.Doc, update: Uint8Array, kind: RoomKind, origin: unknown): void {
  Y.applyUpdateV2(doc, update, origin, kind === "ledger" ? InPlace : Y.UpdateDecoderV1);
}

/** Reads the first form of an update, binaries as Yjs reads them in its second. */
class InPlace extends Y.UpdateDecoderV1 {
  override readBuf(): Uint8Array {
    return readVarUint8Array(this.restDecoder);
  }
}
