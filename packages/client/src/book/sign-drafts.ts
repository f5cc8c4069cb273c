/** From drafts that were checked to signed entries, each naming the one before it. */
import type { Arrival, BookId, Draft, EntryId } from "@sward/core";
import { decodeEntry } from "@sward/core";
import type { Signer } from "../keys/signer.ts";
import type { Verifier } from "../keys/verifier.ts";
import { KeptEntry } from "./kept-entry.ts";
import { keysIn, openCarried } from "./stated.ts";
import type { HeldEntry } from "./vault.ts";

export interface Signing {
  readonly book: BookId;
  readonly device: Signer;
  /** Place and predecessor of the first. */
  readonly next: { readonly seq: number; readonly prev: EntryId | null };
  readonly at: string;
  /** Learns the keys that they state. */
  readonly verifier: Verifier;
}

export interface SignedDrafts {
  readonly entries: readonly HeldEntry[];
  readonly arrivals: readonly Arrival[];
}

/** Entries between two turns of the event loop, some 40 ms on a laptop: an import of thousands must not stop the screen. */
const A_BREATH = 100;
const nextTurn = (): Promise<void> => new Promise((resolve) => setTimeout(resolve, 0));

export async function signDrafts(
  drafts: readonly Draft[],
  { book, device, next, at, verifier }: Signing,
): Promise<SignedDrafts> {
  let { seq, prev } = next;
  const entries: HeldEntry[] = [];
  const arrivals: Arrival[] = [];
  for (const [place, { kind, body }] of drafts.entries()) {
    if (place % A_BREATH === A_BREATH - 1) await nextTurn();
    const payload = { v: 1, book, seq, prev, at, kind, body: body as Record<string, unknown> };
    const jws = await device.signEntry(payload);
    const decoded = decodeEntry(jws);
    if (!decoded.ok) throw new Error(`an entry of our own does not decode: ${decoded.fault.type}`);
    const entry = decoded.value;
    // As one that was read: else who saves waits until its text has been taken apart once more (`vault-record.ts`).
    entries.push(KeptEntry.ofRead(entry, jws, null));
    if (entry.understood) for (const key of keysIn(entry)) verifier.learn(key);
    arrivals.push(await openCarried(entry, verifier));
    seq += 1;
    prev = entry.id;
  }
  return { entries, arrivals };
}
