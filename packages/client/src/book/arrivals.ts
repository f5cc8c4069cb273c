/**
 * How entries come to a device that it did not write itself: through the ledger document, or in a file somebody brought. Both go
 * the same way: opened, read, signature checked, durable in the vault, then into the state.
 *
 * What the document brings is taken as far as it is good, since one bad envelope must not keep out the rest, and what has no key yet
 * waits for it. What a person hands in is taken whole or not at all, so that he knows what he has.
 */
import type { Arrival, BookId, EntryId, Ledger, Result, Touched } from "@sward/core";
import { fail, ok } from "@sward/core";
import type { EpochKeys } from "../keys/book-keys.ts";
import type { Verifier } from "../keys/verifier.ts";
import type { TakeFault } from "./faults.ts";
import type { Holdings } from "./holdings.ts";
import type { Incoming } from "./intake.ts";
import { takeIn } from "./intake.ts";
import type { PlacedEnvelope } from "./ledger-doc.ts";
import { openEnvelope } from "./seal.ts";
import type { Place } from "./vault.ts";

/** What became of entries that were handed in. */
export interface TakenEntries {
  /** Ids of those this device did not have. */
  readonly added: readonly EntryId[];
  /** How many it had already. */
  readonly known: number;
}

export interface Progress {
  readonly checked: number;
  readonly total: number;
}

export interface Arrivals {
  /** Takes in what lies in the document unseen. */
  arrive(): Promise<void>;
  /** Takes in signed texts: all of them, or none and says why. */
  take(texts: readonly string[]): Promise<Result<TakenEntries, TakeFault>>;
  /** A long check under way. */
  progress(): Progress | null;
}

export interface ArrivalsDeps {
  readonly book: BookId;
  readonly epochs: ReadonlyMap<number, EpochKeys>;
  readonly holdings: Holdings;
  readonly ledger: Ledger;
  readonly verifier: Verifier;
  readonly document: { unseen(): readonly PlacedEnvelope[]; saw(place: Place): void };
  /** These were not held before. */
  readonly came: (arrivals: readonly Arrival[]) => void;
  /** Entries count now, or, with null, a check has got further. */
  readonly tell: (touched: Touched | null) => void;
}

/** Fewer than this are checked before anybody could read how many are left. */
const LONG_CHECK = 256;

/** Envelopes opened at once: the platform does it on threads of its own. */
const SIDE_BY_SIDE = 64;

export function createArrivals(deps: ArrivalsDeps): Arrivals {
  const { book, epochs, holdings, ledger, verifier, document, came, tell } = deps;
  let progress: Progress | null = null;

  const check = (incoming: readonly Incoming[]) =>
    takeIn(
      book,
      incoming,
      verifier,
      (id) => holdings.entries.has(id),
      (checked, total) => {
        progress = total > LONG_CHECK && checked < total ? { checked, total } : null;
        if (progress !== null) tell(null);
      },
    );

  async function arrive(): Promise<void> {
    const unseen = document.unseen();
    const opened: Incoming[] = [];
    for (let at = 0; at < unseen.length; at += SIDE_BY_SIDE) {
      const slice = unseen.slice(at, at + SIDE_BY_SIDE);
      const contents = await Promise.all(
        slice.map(({ envelope }) => openEnvelope(book, (epoch) => epochs.get(epoch), envelope)),
      );
      for (const [n, { place }] of slice.entries()) {
        const texts = contents[n];
        if (Array.isArray(texts)) for (const jws of texts as readonly string[]) opened.push({ jws, place });
      }
    }
    // What the vault would not take is looked at again next time.
    if (opened.length > 0 && !(await takeWhatIsGood(opened))) return;
    for (const { place } of unseen) document.saw(place);
  }

  /** With these, what waited for a key is tried again. */
  async function takeWhatIsGood(opened: readonly Incoming[]): Promise<boolean> {
    const taken = await check([...holdings.unchecked(), ...opened]);
    const placed = taken.again.filter(({ id }) => holdings.unplaced.has(id));
    if (!(await holdings.keep({ entries: taken.held, unchecked: taken.unchecked, placed }, "arrive"))) return false;
    came(taken.arrivals);
    tell(ledger.add(taken.arrivals));
    return true;
  }

  async function take(texts: readonly string[]): Promise<Result<TakenEntries, TakeFault>> {
    const taken = await check(texts.map((jws) => ({ jws, place: null })));
    const bad = taken.refused + taken.keyless;
    if (bad > 0) return fail({ type: "entries-not-taken", refused: bad, of: texts.length });
    const added = [...new Set(taken.held.map(({ id }) => id))];
    if (!(await holdings.keep({ entries: taken.held }, "arrive"))) {
      return fail({ type: "not-saved", cause: holdings.trouble()?.cause ?? "" });
    }
    if (added.length > 0) tell(ledger.add(taken.arrivals));
    if (holdings.unchecked().length > 0) await takeWhatIsGood([]);
    return ok({ added, known: texts.length - added.length });
  }

  return { arrive, take, progress: () => progress };
}
