/**
 * Entries that hold a record of another book: each text inside is checked as an entry of its own, and the manifest as the file's first
 * line is. What does not hold comes out as null, and core lets nothing of it count.
 *
 * SPEC: MV.
 */
import type { Arrival, Entry, EntryOf } from "@sward/core";
import { decodeEntry, keyIdOf } from "@sward/core";
import type { Verifier } from "../keys/verifier.ts";
import { readManifest } from "./manifest.ts";

/** @param open what an inner entry holds in its turn */
export async function openRecordEntry(
  entry: EntryOf<"record-part"> | EntryOf<"record-taken">,
  verifier: Verifier,
  open: (entry: Entry, verifier: Verifier) => Promise<Arrival>,
): Promise<Arrival> {
  if (entry.kind === "record-taken") return { entry, vouched: await isVouchedFor(entry, verifier) };
  for (const key of entry.body.keys) verifier.offer(key);
  const parts = await Promise.all(
    entry.body.entries.map(async (text) => {
      const inner = decodeEntry(text);
      if (!inner.ok || !(await verifier.verify(text, inner.value.author))) return null;
      return open(inner.value, verifier);
    }),
  );
  return { entry, parts };
}

async function isVouchedFor({ body }: EntryOf<"record-taken">, verifier: Verifier): Promise<boolean> {
  const read = readManifest(body.manifest);
  if (!read.ok || read.value.signer !== keyIdOf(body.key)) return false;
  const { book, player, entries, digest } = read.value.manifest;
  const saysTheSame =
    book === body.from && player === body.player && entries === body.entries && digest === body.digest;
  verifier.offer(body.key);
  return saysTheSame && (await verifier.verify(body.manifest, read.value.signer));
}
