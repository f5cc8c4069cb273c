/**
 * What must lie in the room of an epoch that was left, so that whoever still looks there finds the way on: the entries that opened the
 * next epoch, and what makes them count, which is their authors' chains up to there and the admissions of those authors, back to the
 * root. All of it was written in that room or before it, so it tells whoever kept the old secret nothing new. An entry that only gave
 * further boxes goes alone, for its author wrote it in the new room: a box is looked at whether its entry counts here or not.
 *
 * Rejected: everything written since (the barred device would read on) and a note outside the ledger (nobody could check it).
 */
import type { Counted, EntryId, EntryOf, KeyId, KnownEntry } from "@sward/core";
import { byNumber, keyIdOf } from "@sward/core";

export interface SignpostSources {
  readonly openings: readonly EntryOf<"epoch-opened">[];
  readonly counted: Iterable<Counted>;
  /** Who admitted a device; undefined for one that is not admitted. */
  readonly admittedBy: (device: KeyId) => KeyId | undefined;
}

/** Ids of the entries that belong in the rooms of epoch `number`. */
export function signpostsOf(number: number, { openings, counted, admittedBy }: SignpostSources): ReadonlySet<EntryId> {
  const next = openings.filter(({ body }) => body.number === number + 1);
  const ids = new Set(next.map(({ id }) => id));
  if (ids.size === 0) return ids;
  const chains = new Map<KeyId, KnownEntry[]>();
  for (const { entry } of counted) chains.set(entry.author, [...(chains.get(entry.author) ?? []), entry]);
  for (const chain of chains.values()) chain.sort((a, b) => byNumber(a.seq, b.seq));
  const reached = new Map<KeyId, number>();

  function reach(author: KeyId, seq: number): void {
    const before = reached.get(author) ?? -1;
    if (seq <= before) return;
    reached.set(author, seq);
    for (const entry of chains.get(author) ?? []) if (entry.seq <= seq) ids.add(entry.id);
    const by = before === -1 ? admittedBy(author) : undefined;
    if (by === undefined || by === author) return;
    const admission = chains.get(by)?.find((entry) => admits(entry) === author);
    if (admission !== undefined) reach(by, admission.seq);
  }
  for (const { author, seq, body } of next) if (body.from <= number) reach(author, seq);
  return ids;
}

function admits(entry: KnownEntry): KeyId | null {
  if (entry.kind === "device-admitted") return keyIdOf(entry.body.device);
  return entry.kind === "club-admitted" ? keyIdOf(entry.body.club) : null;
}
