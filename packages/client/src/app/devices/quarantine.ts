/**
 * What a barred, copied or forked device wrote that does not count for that reason alone. An officer may have each counted all the same,
 * by carrying it: the entry keeps its own signature, and his is added (SPEC AU20). Kinds that do not keep their meaning that way (an
 * admission, a handicap) are written anew by whoever may.
 */
import type { BookState, Draft, EntryId, KeyId, KnownEntry, PublicKey } from "@sward/core";
import { byCodeUnits, byNumber } from "@sward/core";
import { recallEntries } from "../../book/recall.ts";
import type { HeldEntry } from "../../book/vault.ts";

export interface SetAside {
  readonly entry: KnownEntry;
  readonly why: "after-bar" | "forked";
  /** Can be counted by carrying it. */
  readonly canBeTaken: boolean;
}

/** Core's `carriable`, without what says nothing by itself. */
const takes: ReadonlySet<string> = new Set(["match-reported", "event-opened", "entry-withdrawn"]);

export interface QuarantineSources {
  readonly state: Pick<BookState, "uncounted" | "devices">;
  readonly signed: (id: EntryId) => string | undefined;
  /** Entries that count, those that were carried among them. */
  readonly counted: Iterable<{ readonly entry: { readonly id: EntryId } }>;
}

/** By device, in the order written; without those that count by now because somebody carried them. */
export function setAsideIn({ state, signed, counted }: QuarantineSources): ReadonlyMap<KeyId, readonly SetAside[]> {
  const aside: HeldEntry[] = [];
  const reasons = new Map<EntryId, SetAside["why"]>();
  for (const [id, reason] of state.uncounted) {
    if (reason !== "after-bar" && reason !== "forked") continue;
    reasons.set(id, reason);
  }
  if (reasons.size === 0) return new Map();
  for (const { entry } of counted) reasons.delete(entry.id);
  for (const id of reasons.keys()) {
    const jws = signed(id);
    if (jws !== undefined) aside.push({ id, jws, understood: true, place: null });
  }
  const byDevice = new Map<KeyId, SetAside[]>();
  const entries = [...recallEntries(aside).values()].filter((entry) => entry.understood);
  entries.sort((a, b) => byCodeUnits(a.author, b.author) || byNumber(a.seq, b.seq) || byCodeUnits(a.id, b.id));
  for (const entry of entries) {
    if (!state.devices.has(entry.author)) continue;
    const list = byDevice.get(entry.author) ?? [];
    list.push({ entry, why: reasons.get(entry.id) ?? "after-bar", canBeTaken: takes.has(entry.kind) });
    byDevice.set(entry.author, list);
  }
  return byDevice;
}

/** The entry with its own signature, to be signed by whoever takes it over; null when its text or key is not here. */
export function takeOverDraft(
  { id, author, book }: KnownEntry,
  { signed, keyOf }: { signed(id: EntryId): string | undefined; keyOf(author: KeyId): PublicKey | undefined },
): Draft | null {
  const [entry, key] = [signed(id), keyOf(author)];
  return entry === undefined || key === undefined ? null : { kind: "entry-carried", body: { from: book, key, entry } };
}
