/**
 * What a device has, in a few hundred bytes: of each of 64 parts of its entries, by the first character of their ids, 60 bits of the
 * SHA-256 of the sorted ids. Two devices whose heads are equal have the same entries; if not, they know in which parts they differ.
 * Yjs cannot tell: two envelopes under one client id and clock leave two documents with equal state vectors and different entries.
 *
 * Rejected: one digest of all (to find out what differs everything would have to be sent) and combining ids by exclusive or (whoever may
 * write entries of his own can make such a sum come out as he likes).
 */
import type { EntryId, Steps } from "@sward/core";
import { byCodeUnits, digestOf } from "@sward/core";
import { base64url } from "jose";

/** Parts in the order of base64url. */
const parts = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_";
const digestLength = 10;
const none = ".".repeat(digestLength);
const shape = new RegExp(`^sward heads 1 ([A-Za-z0-9_-]{16}) ([A-Za-z0-9_.-]{${parts.length * digestLength}})$`);

/** Of each part, its digest. */
export type Heads = readonly string[];

export interface OwnHeads {
  /**
   * Works out anew what has changed; entries are never taken away. In steps: of a record of ten years, whose ids are a megabyte, it is
   * a fifth of a second of a phone's thread where a script makes the digests and all are made at once.
   */
  of(ids: Iterable<EntryId>): Steps<Heads>;
}

export function createOwnHeads(): OwnHeads {
  let counts: readonly number[] = [];
  let digests: readonly string[] = [];
  return {
    *of(ids) {
      const sorted = partsOf(ids);
      const now: string[] = [];
      for (const [n, part] of sorted.entries()) {
        if (part.length === counts[n]) {
          now.push(digests[n] ?? none);
          continue;
        }
        const text = part.sort(byCodeUnits).join("");
        const answer = yield () => text;
        now.push((answer === undefined ? digestOf(text) : base64url.encode(answer)).slice(0, digestLength));
      }
      counts = sorted.map((part) => part.length);
      digests = now;
      return now;
    },
  };
}

/** The ids of each part. */
export function partsOf(ids: Iterable<EntryId>): EntryId[][] {
  const sorted: EntryId[][] = Array.from(parts, () => []);
  for (const id of ids) sorted[parts.indexOf(id.charAt(0))]?.push(id);
  return sorted;
}

/** `speaker`: 16 characters of base64url, new each time a book is opened. */
export const headsText = (speaker: string, heads: Heads): string => `sward heads 1 ${speaker} ${heads.join("")}`;

export function readHeads(text: string): { readonly speaker: string; readonly heads: Heads } | null {
  const [, speaker, joined] = shape.exec(text) ?? [];
  if (speaker === undefined || joined === undefined) return null;
  const heads = Array.from(parts, (_, n) => joined.slice(n * digestLength, (n + 1) * digestLength));
  return { speaker, heads };
}
