/**
 * Reading a vault again: entries that were checked before are taken as they lie there, or put together from their text, with no hashing
 * and no check of form. What this device did not understand when it kept it is read anew, since this version may. By the platform's own decoders: core's
 * pure ones take three times as long, which at 30,000 entries is seen.
 */
import type { Arrival, Entry, EntryId, KeyId, Kind, Payload } from "@sward/core";
import { decodeEntry } from "@sward/core";
import { base64url } from "jose";
import type { Verifier } from "../keys/verifier.ts";
import type { Breathe } from "./breathing.ts";
import { KeptEntry } from "./kept-entry.ts";
import { keysIn, openCarried } from "./stated.ts";
import type { HeldEntry } from "./vault.ts";

/** What these hold has signatures of its own. */
const holdsOthers: ReadonlySet<string> = new Set<Kind>(["entry-carried", "record-part", "record-taken"]);

/** Those of the first so many entries, and the rest. */
export interface Recalled {
  readonly first: Arrival[];
  readonly rest: Arrival[];
}

/** For the ledger; the verifier learns the keys that they state. */
export async function recallArrivals(
  held: Iterable<HeldEntry>,
  verifier: Verifier,
  breathe: Breathe,
  many = 0,
): Promise<Recalled> {
  const recall = createRecall();
  const [first, rest]: [Arrival[], Arrival[]] = [[], []];
  let seen = 0;
  for (const one of held) {
    const recalled = seen++ < many ? first : rest;
    if (isGame(one)) {
      recalled.push(one);
      continue;
    }
    const entry = recall(one);
    if (entry === null) continue;
    if (entry.understood) for (const key of keysIn(entry)) verifier.learn(key);
    recalled.push(holdsOthers.has(entry.kind) ? await openCarried(entry, verifier) : { entry });
    const breath = breathe();
    if (breath !== null) await breath;
  }
  return { first, rest };
}

/** Nearly all there are: they state nothing and hold nothing, and stand for themselves, for whatever is made of each costs as much. */
const isGame = (held: HeldEntry): held is KeptEntry & Arrival =>
  held instanceof KeptEntry && held.entry?.kind === "match-reported";

/** Entries by id, in the order given; a text that is damaged is left out, and comes again from the document. */
export function recallEntries(held: Iterable<HeldEntry>): Map<EntryId, Entry> {
  const recall = createRecall();
  const entries = new Map<EntryId, Entry>();
  for (const one of held) {
    const entry = recall(one);
    if (entry !== null) entries.set(one.id, entry);
  }
  return entries;
}

/** One after another; null for a text that is damaged. */
export function createRecall(): (held: HeldEntry) => Entry | null {
  const authors = new Map<string, KeyId>();
  const decoder = new TextDecoder();
  const json = (part: string): unknown => JSON.parse(decoder.decode(base64url.decode(part)));
  return (held) => {
    if (held instanceof KeptEntry && held.entry !== null) return held.entry;
    const { id, jws, understood } = held;
    if (!understood) {
      const decoded = decodeEntry(jws);
      return decoded.ok ? decoded.value : null;
    }
    try {
      const [header = "", payload = ""] = jws.split(".");
      const author = authors.get(header) ?? (json(header) as { kid: KeyId }).kid;
      authors.set(header, author);
      const { book, seq, prev, at, kind, body } = json(payload) as Payload;
      return { id, author, book, seq, prev, at, understood: true, kind, body } as unknown as Entry;
    } catch {
      return null;
    }
  };
}
