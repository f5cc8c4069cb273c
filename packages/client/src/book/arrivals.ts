/**
 * How entries come to a device that it did not write itself: through the ledger document, or in a file somebody brought. Both go
 * the same way: opened, read, signature checked, durable in the vault, then into the state.
 *
 * What the document brings is taken as far as it is good, since one bad envelope must not keep out the rest. What has no key yet waits
 * for it: an entry whose author nobody has named, and an envelope sealed for an epoch whose key has not come; both are remembered,
 * since what came after them is not looked at again. What a person hands in is taken whole or not at all, so that he knows what he has.
 */
import type { Arrival, EntryId, Ledger, Result, Touched } from "@sward/core";
import { fail, ok } from "@sward/core";
import type { EpochKeys } from "../keys/book-keys.ts";
import type { Verifier } from "../keys/verifier.ts";
import { arrivingSource } from "./arriving-source.ts";
import { inSteps, neverBreathe } from "./breathing.ts";
import type { Closing } from "./closing.ts";
import { withClosings } from "./closing.ts";
import type { TakeFault } from "./faults.ts";
import type { Holdings } from "./holdings.ts";
import type { File, Filing, Source } from "./intake.ts";
import { fromList, SLICE, takeIn } from "./intake.ts";
import type { PlacedEnvelope } from "./ledger-doc.ts";
import type { BookOptions } from "./options.ts";
import { epochOf } from "./seal.ts";
import type { Place, VaultRecord } from "./vault.ts";

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
  /** Takes in what lies in the document unseen; false when the vault would not take it, and then it is looked at again next time. */
  arrive(): Promise<boolean>;
  /** Tries again what waits for a key: one may have been stated here. */
  retry(): Promise<boolean>;
  /** Takes in signed texts: all of them, or none and says why. */
  take(texts: readonly string[]): Promise<Result<TakenEntries, TakeFault>>;
  /** The document has more than it had. */
  grew(): void;
  /** A long check under way. */
  progress(): Progress | null;
}

export interface ArrivalsDeps {
  readonly options: Pick<BookOptions, "book" | "breathe" | "readsBeside">;
  readonly epochs: ReadonlyMap<number, EpochKeys>;
  readonly holdings: Holdings;
  readonly ledger: Ledger;
  readonly verifier: Verifier;
  readonly document: {
    unseen(): readonly PlacedEnvelope[];
    at(place: Place): Uint8Array | undefined;
    saw(place: Place): void;
  };
  /** Our own chain is here. */
  readonly caughtUp: () => boolean;
  /** A volume says that it is closed; the vault does not know of it yet. */
  readonly closing: (closing: Closing) => void;
  /** These were not held before. */
  readonly came: (arrivals: readonly Arrival[]) => void;
  /** Entries count now, or, with null, a check has got further. */
  readonly tell: (touched: Touched | null) => void;
}

/** Envelopes that are remembered for want of a key: somebody hostile may make as many as he likes. */
const MOST_SEALED = 4_096;

/** So few slices before all that is known of has been read, it is looked whether the document has more by now. */
const FEW_LEFT = 64;

const nameOf = ({ client, clock, volume }: Place): string => `${client} ${clock} ${volume}`;

/** Entries that the state takes before a screen may have its turn: adding thousands at once takes it longer than a tap may wait. */
const A_TURN = 256;

/** A check of this many slices or fewer is over before anybody could read how much is left. */
const LONG_CHECK = 4;

/** Slices from one telling of a long check to the next: each draws a screen anew, which is more work than to check a slice. */
const TOLD_EVERY = 32;

export function createArrivals(deps: ArrivalsDeps): Arrivals {
  const { book, breathe = neverBreathe, readsBeside } = deps.options;
  const { epochs, holdings, ledger, verifier, document, came, tell } = deps;
  let progress: Progress | null = null;
  let added: Touched | null = null;
  let hasMore = false;
  /** A volume of a record that was read whole here, and from nothing, says where it goes on. */
  let goesOn = false;

  const check = (source: Source, file?: File) =>
    takeIn(
      book,
      source,
      verifier,
      (id) => holdings.entries.get(id)?.jws,
      ledger.small,
      (checked, slices) => {
        progress = slices > LONG_CHECK && checked < slices ? { checked: checked * SLICE, total: slices * SLICE } : null;
        if (progress !== null && checked % TOLD_EVERY === 1) tell(null);
      },
      breathe,
      file,
    );

  /** Should the reading be cut short, the next start must not take what is there for all there is. */
  const soFar = (held: VaultRecord["entries"]): VaultRecord => ({
    entries: held,
    ...(held.length > 0 && !deps.caughtUp() && { unread: true }),
  });

  /** Durable first, then in the state: a screen's turn in between finds a whole state of fewer entries. */
  async function file({ arrivals, held }: Filing, more: Partial<VaultRecord> = {}): Promise<boolean> {
    if (!(await holdings.keep({ ...more, ...soFar(held) }, "arrive"))) return false;
    for (let from = 0, to = A_TURN; from < arrivals.length; ) {
      const some = arrivals.slice(from, to);
      came(some);
      added = ledger.gather(some);
      // Something among these had the whole book made again, and more of its kind may follow: once more is enough.
      const wasAll = added.matches.size > 2 * A_TURN;
      [from, to] = [to, wasAll ? arrivals.length : to + A_TURN];
      if (from < arrivals.length) await breathe();
    }
    return true;
  }

  /**
   * Of all that was filed at once: what a screen makes of thousands takes it longer than to add some hundreds. Cards are made once.
   * @param otherNews there is something to show though nothing was filed
   */
  async function tellOfAdded(otherNews: boolean): Promise<void> {
    const last = added;
    added = null;
    if (last !== null) await inSteps(ledger.making(), breathe);
    if (last !== null || otherNews) tell(last);
  }

  async function arrive(): Promise<boolean> {
    hasMore = false;
    const unseen = [...document.unseen()];
    if (unseen.length === 0 && openable().length === 0) return true;
    const upTo = new Map<number, number>();
    const isNew = ({ place: { client, clock, volume = 0 } }: PlacedEnvelope): boolean => {
      const of = volume * 2 ** 32 + client;
      if (clock <= (upTo.get(of) ?? -1)) return false;
      upTo.set(of, clock);
      return true;
    };
    unseen.forEach(isNew);
    // Whoever has a record may be writing, and must not wait for as long as others do.
    const isFirst = goesOn || holdings.entries.size === 0;
    /** What came while the rest was read: else who reads beside has nothing to do while the last of it is filed. */
    const more = (): readonly PlacedEnvelope[] => {
      const found = isFirst && hasMore ? document.unseen().filter(isNew) : [];
      hasMore = false;
      for (const one of found) unseen.push(one);
      return found;
    };
    const known = holdings.closed().length;
    if (!(await takeWhatIsGood(unseen, more))) return false;
    goesOn = isFirst && holdings.closed().length > known;
    for (const { place } of unseen) document.saw(place);
    return true;
  }

  const retry = async (): Promise<boolean> =>
    holdings.unchecked().length + openable().length === 0 || (await takeWhatIsGood([], () => []));

  /** Envelopes whose key had not come when they did, and has now. */
  const openable = (): PlacedEnvelope[] =>
    holdings.sealed().flatMap((place) => {
      const envelope = document.at(place);
      return envelope !== undefined && epochs.has(epochOf(envelope)) ? [{ place, envelope }] : [];
    });

  /** With these, and what comes to them meanwhile, what waited for a key is tried again. */
  async function takeWhatIsGood(
    unseen: readonly PlacedEnvelope[],
    more: () => readonly PlacedEnvelope[],
  ): Promise<boolean> {
    const opened = openable();
    const placed = [...opened, ...unseen];
    const still = new Set(holdings.sealed().map(nameOf));
    for (const { place } of opened) still.delete(nameOf(place));
    const waiting = fromList(holdings.unchecked());
    const closings: Closing[] = [];
    const arriving = await arrivingSource(placed, {
      book,
      epochs,
      readsBeside,
      held: holdings.entries.keys(),
      keys: verifier.keys,
      closing(one) {
        closings.push(one);
        deps.closing(one);
      },
    });
    const source: Source = {
      get slices() {
        return waiting.slices + arriving.slices;
      },
      slice(at) {
        if (at + FEW_LEFT > source.slices) arriving.add?.(more());
        return at < waiting.slices ? waiting.slice(at) : arriving.slice(at - waiting.slices);
      },
    };
    const taken = await check(source, file);
    const shut = unseen.filter(({ place, envelope }) => !epochs.has(epochOf(envelope)) && !still.has(nameOf(place)));
    progress = null;
    if (taken === "not-filed") {
      await tellOfAdded(true);
      return false;
    }
    const again = taken.again.filter(({ id }) => holdings.unplaced.has(id));
    const sealed = [
      ...holdings.sealed().filter((place) => still.has(nameOf(place))),
      ...shut.map(({ place }) => place),
    ].slice(0, MOST_SEALED);
    const differs = opened.length + shut.length > 0;
    const closed = withClosings(holdings.closed(), closings, deps.caughtUp());
    const rest = {
      unchecked: taken.unchecked,
      placed: again,
      ...(differs ? { sealed } : {}),
      ...(closed === null ? {} : { closed }),
    };
    const isFiled = await file(taken, rest);
    // What was met again has a place now, and may be at the relay, though nothing of the record is new; and a bar may be shown still.
    await tellOfAdded(again.length > 0 || source.slices > LONG_CHECK);
    return isFiled;
  }

  async function take(texts: readonly string[]): Promise<Result<TakenEntries, TakeFault>> {
    const taken = await check(fromList(texts.map((jws) => ({ jws, place: null }))));
    if (taken === "not-filed") throw new Error("nothing is filed before all of it is known");
    const bad = taken.refused + taken.keyless;
    if (bad > 0) return fail({ type: "entries-not-taken", refused: bad, of: texts.length });
    const added = [...new Set(taken.held.map(({ id }) => id))];
    if (!(await holdings.keep(soFar(taken.held), "arrive"))) {
      return fail({ type: "not-saved", cause: holdings.trouble()?.cause ?? "" });
    }
    if (added.length > 0) tell(ledger.add(taken.arrivals));
    await retry();
    return ok({ added, known: texts.length - added.length });
  }

  return {
    arrive,
    retry,
    take,
    grew() {
      hasMore = true;
    },
    progress: () => progress,
  };
}
