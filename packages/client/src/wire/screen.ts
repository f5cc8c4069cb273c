/**
 * The only way by which an update from outside gets into a document of ours, whoever brought it: the relay, another tab, or
 * what this device itself kept (a disk can be damaged, and an older version may have kept what this one refuses). Nothing
 * else in the client may call `Y.applyUpdate`.
 */
import type { RoomKind, ScreenPolicy, Verdict } from "@sward/core";
import { knownInStore, screenUpdate } from "@sward/core";
import * as Y from "yjs";

/**
 * Applies what the screen lets through, with `origin` as the transaction's; the verdict says what that was. Throws when something is
 * pending in the document afterwards: then it was spoilt on another way, hears of nothing more, and must be built anew.
 */
export function applyScreened(
  doc: Y.Doc,
  kind: RoomKind,
  update: Uint8Array,
  policy: ScreenPolicy,
  origin: unknown,
): Verdict {
  const verdict = screenUpdate(update, knownInStore(doc.store), { kind, policy });
  if (verdict.accepted !== null) Y.applyUpdate(doc, verdict.accepted, origin);
  if (doc.store.pendingStructs !== null || doc.store.pendingDs !== null) throw new Error("a document with gaps");
  return verdict;
}
