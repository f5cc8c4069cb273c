/**
 * Entries are never edited: a correction is a new entry that `replaces` an earlier one, and `entry-withdrawn` takes one back.
 * An entry stands when it is not withdrawn and nothing that replaces it, directly or through other replacements, still stands
 * unwithdrawn; so withdrawing a correction brings back what it corrected. One may correct one's own entry; an officer may
 * correct anyone's in his book (in a league, anyone's of his club).
 *
 * Two corrections of one entry made apart from each other are rivals: both are shown to the handicapper and, until one is
 * withdrawn or replaced, the one with the lower entry id counts. The id is chosen because it is the only order no clock and no
 * arrival can move; the latest by the author's clock was rejected since a wrong clock would win.
 *
 * SPEC: AU.
 */
import type { EntryId } from "../ids.ts";
import type { KnownEntry } from "../ledger/entry.ts";
import { byCodeUnits } from "../order.ts";
import type { Standing } from "./authority.ts";

export type Correctable = KnownEntry & { readonly body: { readonly replaces?: EntryId | undefined } };

export interface Corrections {
  /** Notes a counting entry. Returns the entries whose standing may have changed. */
  add(entry: KnownEntry): readonly EntryId[];
  /** Entry ids that replace nothing known, or are the last word on what they replace. */
  stands(id: EntryId): boolean;
  /** The other unwithdrawn last words on what `id` corrects, sorted; empty when it has no rival. */
  rivals(id: EntryId): readonly EntryId[];
  /** The first entry of the line of corrections that `id` belongs to. */
  originOf(id: EntryId): EntryId;
  /** Corrections and withdrawals whose author may not make them. */
  refused(id: EntryId): boolean;
}

/** May the author of `by` correct or withdraw `target`? */
export type CorrectionRights = (by: KnownEntry, target: KnownEntry) => boolean;

/** The right to correct, from the standings of both authors. */
export function mayCorrect(by: Standing | undefined, of: Standing | undefined, sameAuthor: boolean): boolean {
  if (sameAuthor) return true;
  if (by === undefined) return false;
  if (by.office === "root") return true;
  if (by.office !== "handicapper" && by.office !== "club") return false;
  return by.club === null || by.club === of?.club;
}

export function createCorrections(rights: CorrectionRights): Corrections {
  const entries = new Map<EntryId, KnownEntry>();
  const replacements = new Map<EntryId, EntryId[]>();
  const withdrawals = new Map<EntryId, EntryId[]>();

  const replacedBy = (entry: KnownEntry): EntryId | undefined => (entry as Correctable).body.replaces;

  function refused(id: EntryId): boolean {
    const entry = entries.get(id);
    if (entry === undefined) return false;
    const target = entries.get((entry.kind === "entry-withdrawn" ? entry.body.withdraws : replacedBy(entry)) ?? id);
    if (target === undefined || target.id === id) return false;
    const alike = entry.kind === "entry-withdrawn" || entry.kind === target.kind;
    return !alike || !rights(entry, target);
  }

  const withdrawn = (id: EntryId): boolean => (withdrawals.get(id) ?? []).some((by) => entries.has(by) && !refused(by));

  const children = (id: EntryId): EntryId[] =>
    (replacements.get(id) ?? []).filter((child) => entries.has(child) && !refused(child));

  /** Unwithdrawn last words at or below an entry. */
  function lastWords(id: EntryId): EntryId[] {
    const below = children(id).flatMap(lastWords);
    return below.length > 0 ? below : entries.has(id) && !withdrawn(id) ? [id] : [];
  }

  function originOf(id: EntryId): EntryId {
    let at = id;
    for (;;) {
      const entry = entries.get(at);
      const before = entry === undefined || refused(at) ? undefined : replacedBy(entry);
      if (before === undefined || !entries.has(before)) return at;
      at = before;
    }
  }

  function rivals(id: EntryId): readonly EntryId[] {
    if (!replacements.has(id) && replacedBy(entries.get(id) ?? ({ body: {} } as KnownEntry)) === undefined) return [];
    return lastWords(originOf(id))
      .filter((other) => other !== id)
      .sort(byCodeUnits);
  }

  return {
    add(entry) {
      entries.set(entry.id, entry);
      const touched = new Set<EntryId>([entry.id, originOf(entry.id)]);
      if (entry.kind === "entry-withdrawn") {
        push(withdrawals, entry.body.withdraws, entry.id);
        for (const id of lineOf(entry.body.withdraws)) touched.add(id);
      }
      const target = replacedBy(entry);
      if (target !== undefined) push(replacements, target, entry.id);
      for (const id of lineOf(entry.id)) touched.add(id);
      return [...touched];
    },
    stands(id) {
      if (refused(id) || withdrawn(id) || children(id).flatMap(lastWords).length > 0) return false;
      const others = rivals(id);
      return others.length === 0 || id < (others[0] ?? id);
    },
    rivals,
    originOf,
    refused,
  };

  /** Every entry of the line of corrections around one. */
  function lineOf(id: EntryId): EntryId[] {
    if (!entries.has(id)) return [id];
    const found: EntryId[] = [];
    const open = [originOf(id)];
    for (let at = open.pop(); at !== undefined; at = open.pop()) {
      found.push(at);
      open.push(...(replacements.get(at) ?? []));
    }
    return found;
  }
}

function push(map: Map<EntryId, EntryId[]>, key: EntryId, value: EntryId): void {
  const list = map.get(key);
  if (list === undefined) map.set(key, [value]);
  else list.push(value);
}
