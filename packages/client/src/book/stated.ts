/**
 * What an entry brings along for others: keys that it states, and entries of other books that it holds. Asked of every entry that is read
 * from the vault or written here, so it is apart from what reads arrivals.
 */
import type { Arrival, Entry, KnownEntry, PublicKey } from "@sward/core";
import { decodeEntry } from "@sward/core";
import type { Verifier } from "../keys/verifier.ts";

/** The keys an entry states. */
export function keysIn(entry: KnownEntry): readonly PublicKey[] {
  switch (entry.kind) {
    case "book-opened":
      return [entry.body.root];
    case "club-admitted":
      return [entry.body.club];
    case "device-admitted":
      return [entry.body.device];
    case "entry-carried":
      return [entry.body.key];
    default:
      return [];
  }
}

/** What an entry holds of other books, where the signatures of that hold too. */
export async function openCarried(entry: Entry, verifier: Verifier): Promise<Arrival> {
  if (entry.understood && (entry.kind === "record-part" || entry.kind === "record-taken")) {
    // Seldom, and no part of the first script.
    const { openRecordEntry } = await import("../record/opened.ts");
    return openRecordEntry(entry, verifier, openCarried);
  }
  if (!entry.understood || entry.kind !== "entry-carried") return { entry };
  const inner = decodeEntry(entry.body.entry);
  if (!inner.ok) return { entry, carried: null };
  verifier.offer(entry.body.key);
  const good = await verifier.verify(entry.body.entry, inner.value.author);
  return { entry, carried: good ? inner.value : null };
}
