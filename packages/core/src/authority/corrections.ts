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
 * A correction may arrive before what it corrects, or correct something that does not count: it then stands by itself. Whether
 * it may be made is decided once both count, so nothing here is remembered but which entry names which other; the entries
 * themselves are their keeper's.
 *
 * SPEC: AU.
 */
import type { EntryId } from "../ids.ts";
import type { KnownEntry } from "../ledger/entry.ts";
import { byCodeUnits } from "../order.ts";
import type { Standing } from "./authority.ts";

export interface Corrections {
  /** Notes a counting entry. Returns the entries whose standing may have changed. @param target what it replaces: `replacedBy` */
  add(entry: KnownEntry, target: EntryId | undefined): Iterable<EntryId>;
  /** Not refused, not withdrawn, and the last word on what it corrects. @param id of an entry that was noted */
  stands(id: EntryId): boolean;
  /** It corrects nothing, and nothing corrects or takes it back: it stands. Most entries are such. */
  isAlone(id: EntryId): boolean;
  /** A correction or withdrawal whose author may not make it. */
  refused(id: EntryId): boolean;
  /** Every refused one. */
  refusals(): Iterable<EntryId>;
  /** Entries with more than one unwithdrawn last word; these are sorted, and the first counts. */
  rivalries(): Iterable<{ readonly of: EntryId; readonly words: readonly EntryId[] }>;
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

/** @param find a counting entry by its id */
export function createCorrections(
  find: (id: EntryId) => KnownEntry | undefined,
  rights: CorrectionRights,
): Corrections {
  /** What an entry corrects, and what it takes back. */
  const corrects = new Map<EntryId, EntryId>();
  const takesBack = new Map<EntryId, EntryId>();
  const replacements = new Map<EntryId, EntryId[]>();
  const withdrawals = new Map<EntryId, EntryId[]>();

  function refused(id: EntryId): boolean {
    const corrected = corrects.get(id) ?? takesBack.get(id);
    if (corrected === undefined) return false;
    const [entry, target] = [find(id), find(corrected)];
    if (entry === undefined || target === undefined) return false;
    const alike = entry.kind === "entry-withdrawn" || entry.kind === target.kind;
    return !alike || !rights(entry, target);
  }

  /** Most entries neither correct nor are corrected: no line to look along. */
  const isAlone = (id: EntryId): boolean =>
    corrects.size + replacements.size + withdrawals.size === 0 ||
    !(corrects.has(id) || replacements.has(id) || withdrawals.has(id));

  const withdrawn = (id: EntryId): boolean => (withdrawals.get(id) ?? []).some((by) => !refused(by));

  /** The first entry of the line of corrections that `id` belongs to. */
  function originOf(id: EntryId): EntryId {
    let at = id;
    for (;;) {
      const before = refused(at) ? undefined : corrects.get(at);
      if (before === undefined || find(before) === undefined) return at;
      at = before;
    }
  }

  /** An entry and all that corrects it, directly or not, each after what it corrects. */
  function lineFrom(origin: EntryId, withRefused: boolean): EntryId[] {
    const line = [origin];
    for (const id of line) {
      for (const child of replacements.get(id) ?? []) if (withRefused || !refused(child)) line.push(child);
    }
    return line;
  }

  /** Unwithdrawn entries of a line that nothing unwithdrawn corrects, sorted. */
  function lastWords(origin: EntryId): EntryId[] {
    const corrected = new Set<EntryId>();
    const words: EntryId[] = [];
    for (const id of lineFrom(origin, false).reverse()) {
      const isCorrected = corrected.has(id);
      const standsAlone = find(id) !== undefined && !isCorrected && !withdrawn(id);
      if (standsAlone) words.push(id);
      const before = corrects.get(id);
      if (before !== undefined && (isCorrected || standsAlone)) corrected.add(before);
    }
    return words.sort(byCodeUnits);
  }

  return {
    add(entry, target) {
      const { id } = entry;
      if (target !== undefined) {
        corrects.set(id, target);
        push(replacements, target, id);
      }
      const takenBack = withdrawnBy(entry);
      if (takenBack !== undefined) {
        takesBack.set(id, takenBack);
        push(withdrawals, takenBack, id);
      }
      if (isAlone(id) && takenBack === undefined) return [id];
      const touched = new Set(lineFrom(originOf(id), true));
      // A refused correction is no part of the line, yet may have been until its target came.
      if (target !== undefined) for (const id of lineFrom(originOf(target), true)) touched.add(id);
      if (takenBack !== undefined) for (const id of lineFrom(originOf(takenBack), true)) touched.add(id);
      return touched;
    },
    stands(id) {
      if (refused(id)) return false;
      return isAlone(id) || lastWords(originOf(id))[0] === id;
    },
    isAlone,
    refused,
    *refusals() {
      for (const corrected of [replacements, withdrawals]) {
        for (const corrections of corrected.values()) yield* corrections.filter(refused);
      }
    },
    *rivalries() {
      const origins = new Set([...replacements.keys()].filter((id) => find(id) !== undefined).map(originOf));
      for (const of of origins) {
        const words = lastWords(of);
        if (words.length > 1) yield { of, words };
      }
    },
  };
}

/** What an entry says that it replaces. */
export const replacedBy = (entry: KnownEntry): EntryId | undefined =>
  "replaces" in entry.body ? entry.body.replaces : undefined;

const withdrawnBy = (entry: KnownEntry): EntryId | undefined =>
  entry.kind === "entry-withdrawn" ? entry.body.withdraws : undefined;

function push(map: Map<EntryId, EntryId[]>, key: EntryId, value: EntryId): void {
  const list = map.get(key);
  if (list === undefined) map.set(key, [value]);
  else list.push(value);
}
