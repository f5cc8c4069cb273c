/** What was stored, into a document, after screening it again: a damaged disk is no better than a stranger. And out of it. */
import type { RoomKind, ScreenLimits } from "@sward/core";
import { knownInStore, screenUpdate } from "@sward/core";
import * as Y from "yjs";

/** What was stored was within the limits of its day. */
export const noLimits: ScreenLimits = {
  updateBytes: Number.MAX_SAFE_INTEGER,
  envelopeBytes: Number.MAX_SAFE_INTEGER,
  clients: 2 ** 32,
};

/** Returns the bytes of the updates. Throws at one that the screen would not let in; the document is of no use then. */
export function fillDocument(doc: Y.Doc, kind: RoomKind, updates: readonly Uint8Array[]): number {
  const known = knownInStore(doc.store);
  let bytes = 0;
  doc.transact(() => {
    for (const update of updates) {
      const { accepted, refusals, gap } = screenUpdate(update, known, { kind, policy: "whole", limits: noLimits });
      if (refusals.length > 0 || gap !== null)
        throw new Error(`stored update refused: ${JSON.stringify(refusals[0] ?? gap)}`);
      if (accepted !== null) Y.applyUpdate(doc, accepted);
      bytes += update.length;
    }
  });
  return bytes;
}

/** What a document says that was filled with all of these, each of which was screened. */
export function mergedState(updates: readonly Uint8Array[]): Uint8Array {
  const doc = new Y.Doc();
  for (const update of updates) Y.applyUpdate(doc, update);
  const state = Y.encodeStateAsUpdate(doc);
  doc.destroy();
  return state;
}
