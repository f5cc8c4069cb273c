/**
 * Every entry that arrived, held once: in one map by its id, to which chains and books refer. What arrived with an entry that holds
 * others lies beside it; most hold none, so there is nothing beside them.
 *
 * An entry names the one before it by the very text that one has as its id, and a report is kept as `kept-report.ts` has it.
 */
import type { EntryId, KeyId } from "../ids.ts";
import type { Entry } from "../ledger/entry.ts";
import { isKept, keepReport } from "../matches/kept-report.ts";
import { createSharing } from "../matches/sharing.ts";

/** An entry whose signature was checked; for one that holds others also these, null where one did not verify. */
export interface Arrival {
  readonly entry: Entry;
  /** Of `entry-carried`. */
  readonly carried?: Entry | null;
  /** Of `record-part`, in its order. */
  readonly parts?: readonly (Arrival | null)[];
  /** Of `record-taken`: the manifest's signature holds, and it says what the entry says. */
  readonly vouched?: boolean;
}

export interface Held {
  readonly entries: ReadonlyMap<EntryId, Entry>;
  /** The arrivals of entries that hold others. */
  readonly carriers: ReadonlyMap<EntryId, Arrival>;
  /** Returns the entry as it is held from now on. @param arrival of an entry that is not held yet */
  keep(arrival: Arrival): Entry;
  /** An entry as it will be held, for who writes it down before; of an author's entries, one after another. */
  small(entry: Entry): Entry;
}

export function createHeld(): Held {
  const entries = new Map<EntryId, Entry>();
  const carriers = new Map<EntryId, Arrival>();
  const sharing = createSharing();
  /** Of each author, the one that came last: mostly the one that the next names. */
  const last = new Map<KeyId, EntryId>();

  function small(entry: Entry): Entry {
    const { id, author, prev } = entry;
    const before = last.get(author);
    last.set(author, id);
    if (!entry.understood || entry.kind !== "match-reported" || isKept(entry)) return entry;
    const named = before === prev ? before : prev === null ? null : (entries.get(prev)?.id ?? prev);
    return keepReport(entry, named, sharing);
  }

  return {
    entries,
    carriers,
    small,
    keep(arrival) {
      const entry = small(arrival.entry);
      entries.set(entry.id, entry);
      const { carried, parts, vouched } = arrival;
      if (carried) carriers.set(entry.id, { entry, carried: small(carried) });
      else if (parts !== undefined || vouched !== undefined) carriers.set(entry.id, { ...arrival, entry });
      return entry;
    },
  };
}
