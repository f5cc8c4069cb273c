/**
 * Reading a vault again: entries that were checked before are put together from their text with no hashing and no check of form.
 * What this device did not understand when it kept it is read anew, since this version may. By the platform's own decoders: core's
 * pure ones take three times as long, which at 30,000 entries is seen.
 */
import type { Arrival, Entry, EntryId, KeyId, Payload } from "@sward/core";
import { decodeEntry } from "@sward/core";
import { base64url } from "jose";
import type { Verifier } from "../keys/verifier.ts";
import { keysIn, openCarried } from "./intake.ts";
import type { HeldEntry } from "./vault.ts";

/** For the ledger; the verifier learns the keys that they state. */
export async function recallArrivals(held: Iterable<HeldEntry>, verifier: Verifier): Promise<Arrival[]> {
  const recalled: Arrival[] = [];
  for (const entry of recallEntries(held).values()) {
    if (entry.understood) for (const key of keysIn(entry)) verifier.learn(key);
    recalled.push(entry.kind === "entry-carried" ? await openCarried(entry, verifier) : { entry });
  }
  return recalled;
}

/** Entries by id, in the order given; a text that is damaged is left out, and comes again from the document. */
export function recallEntries(held: Iterable<Pick<HeldEntry, "id" | "jws" | "understood">>): Map<EntryId, Entry> {
  const authors = new Map<string, KeyId>();
  const decoder = new TextDecoder();
  const json = (part: string): unknown => JSON.parse(decoder.decode(base64url.decode(part)));
  const entries = new Map<EntryId, Entry>();
  for (const { id, jws, understood } of held) {
    if (!understood) {
      const decoded = decodeEntry(jws);
      if (decoded.ok) entries.set(id, decoded.value);
      continue;
    }
    try {
      const [header = "", payload = ""] = jws.split(".");
      const author = authors.get(header) ?? (json(header) as { kid: KeyId }).kid;
      authors.set(header, author);
      const { book, seq, prev, at, kind, body } = json(payload) as Payload;
      entries.set(id, { id, author, book, seq, prev, at, understood: true, kind, body } as unknown as Entry);
    } catch {
      // Damaged in the vault.
    }
  }
  return entries;
}
