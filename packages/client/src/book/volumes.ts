/**
 * A ledger in several volumes (`closing.ts` says what closes one and why), seen by the rest of the book as one transport. A device writes
 * into the last and closes it when the season is over or its client ids are many. Only the last two are loaded and dialled, for somebody
 * who was away may still write into the one before; what lies in older ones comes from the vault. They are loaded only when something asks
 * for them: an envelope in them for which no key has come yet; and, once for each relay's store that is met, one after another, to read
 * what we lack and fill in what the store lacks (`passes.ts`). Who has nothing, and reads from the first to the last, dials each as soon
 * as the one before is seen to say that it is closed, long before it has been taken in.
 *
 * Somebody who comes back finds a volume closed into which he wrote what nobody else had, and others may look there no more: so what the
 * relay lacked when he came is written into the last one too. What still slips through, the exchange of heads finds (`heads-exchange.ts`).
 *
 * Rejected: taking all entries along into each fresh document (it would be as large as before at once; every newcomer would read all of
 * it several times) and forgetting old rooms (a relay that lost its store would have nothing for newcomers but the last season).
 */
import type { Counted, EntryId } from "@sward/core";
import type { EpochKeys } from "../keys/book-keys.ts";
import type { Signer } from "../keys/signer.ts";
import type { Connection } from "../wire/connection.ts";
import { closingText, volumeOf, withClosings } from "./closing.ts";
import type { DocStore } from "./doc-store.ts";
import { createMemoryDocStore } from "./doc-store.ts";
import type { Holdings } from "./holdings.ts";
import { holdsBeyond } from "./ledger-doc.ts";
import { lostEntries } from "./lost-entries.ts";
import type { BookOptions } from "./options.ts";
import { createPasses } from "./passes.ts";
import { seal } from "./seal.ts";
import type { Transport } from "./transport.ts";
import type { HeldEntry, Place } from "./vault.ts";
import { createDue } from "./volume-due.ts";

export interface Volumes extends Transport {
  /** Something has changed with the wire of a volume. */
  changed(volume: number): void;
  /** Loads and dials what follows the volumes that were found to be closed; false when nothing does. */
  goOn(): Promise<boolean>;
  /** The same after one that says it is closed, before that is taken in. */
  ahead(closed: number): Promise<void>;
  /** Closes the last volume, where that is due. */
  beforeWriting(): Promise<void>;
  /** Puts in again what is missing in the volumes that were read to their end. */
  mend(): Promise<void>;
}

export interface VolumesDeps {
  readonly options: BookOptions;
  readonly epoch: EpochKeys;
  readonly holdings: Holdings;
  readonly ledger: { counted(): Iterable<Counted> };
  /** Volume 0, if it is attached. */
  readonly first: Transport;
  readonly open: (volume: number, room: Signer, store: DocStore) => Transport;
  readonly push: (ids: readonly EntryId[], volume: number) => Promise<void>;
  /** Takes in what lies unseen; false when it could not. */
  readonly arrive: () => Promise<boolean>;
  readonly inTurn: <T>(run: () => Promise<T>) => Promise<T>;
  readonly isPaused: () => boolean;
  /** Our own chain is here. */
  readonly caughtUp: () => boolean;
}

/** A volume that is loaded. */
export interface Loaded {
  readonly volume: number;
  readonly transport: Transport;
  /** Was read to its end once. */
  read: boolean;
}

/** More than so many that the relay lacks means that the volume is just being filled again. */
const MOST_LATE = 500;

export function createVolumes(deps: VolumesDeps): Volumes {
  const { options, epoch, holdings, first, push } = deps;
  const held = holdings.entries;
  const { closed } = holdings;
  const loaded = new Map<number, Loaded>();
  /** Client ids under which something was pushed since the book was opened. */
  const own = new Set<number>();
  const loading = new Map<number, Promise<void>>();
  let last = 0;
  const due = createDue(deps);
  if (closed().length === 0 || first.attached()) adopt(0, first);

  const at = (volume: number): Transport => (loaded.get(volume) as Loaded).transport;
  const inOrder = (): Loaded[] => [...loaded.values()].sort((a, b) => a.volume - b.volume);
  const roomOf = (volume: number): Promise<Signer> =>
    volume === 0 ? Promise.resolve(epoch.ledgerRoom) : epoch.ledgerVolume(volume);
  const storeOf = (volume: number, room: Signer): DocStore =>
    volume === 0 ? options.ledgerStore : (options.volumeStore?.(room.key) ?? createMemoryDocStore());

  function adopt(volume: number, transport: Transport): void {
    loaded.set(volume, { volume, transport, read: transport.isSynced() });
  }

  function load(volume: number): Promise<void> {
    const under = loading.get(volume);
    if (under !== undefined) return under;
    if (loaded.has(volume)) return Promise.resolve();
    const now = dial(volume).finally(() => loading.delete(volume));
    loading.set(volume, now);
    return now;
  }

  async function dial(volume: number): Promise<void> {
    const room = await roomOf(volume);
    const transport = deps.open(volume, room, storeOf(volume, room));
    if (deps.isPaused()) transport.pause();
    adopt(volume, transport);
    try {
      await transport.attach();
    } catch (cause) {
      loaded.delete(volume);
      throw cause;
    }
  }

  /** Envelopes lie in it whose key may still come. */
  const isAskedFor = (volume: number): boolean => holdings.sealed().some((place) => volumeOf(place) === volume);

  async function attach(): Promise<void> {
    last = closed().length;
    for (let volume = 0; volume <= last; volume++) {
      if (volume >= last - 1 || isAskedFor(volume)) await load(volume);
    }
  }

  async function goOn(): Promise<boolean> {
    const from = last;
    while (last < closed().length) {
      await load(last + 1);
      last += 1;
    }
    if (last !== from) await handOver();
    passes.read();
    return last !== from;
  }

  /** Not in the book's turn, which whoever reads has for as long as he reads. */
  async function ahead(closed: number): Promise<void> {
    if (loaded.has(closed) && closed >= last) await load(closed + 1);
  }

  const season = (): number | null => due.seasonAfter(closed()[last - 1]);

  async function putClosing(volume: number, next: number): Promise<Place> {
    return put(await seal(options.book, epoch, [closingText(next)], options.randomBytes), volume);
  }

  async function beforeWriting(): Promise<void> {
    await goOn();
    if (!due.isDue(at(last).inside().doc, season())) return;
    const next = Math.max(season() ?? 0, due.thisSeason());
    const place = await putClosing(last, next);
    const known = withClosings(closed(), [{ place, next }], deps.caughtUp());
    // One that the vault does not take is said all the same, and found again at the next start.
    if (known !== null && (await holdings.keep({ entries: [], closed: known }, "append"))) await goOn();
  }

  function put(envelope: Uint8Array, volume = last): Place {
    const place = at(volume).push(envelope);
    own.add(place.client);
    return place;
  }

  /** What the relay lacked in closed volumes when we came: others need not look there any more. */
  async function handOver(): Promise<void> {
    for (const { volume, transport } of inOrder()) {
      const closing = closed()[volume];
      const { doc, greeting } = transport.inside();
      if (greeting === null || closing === undefined || volume >= last || !holdsBeyond(doc, greeting)) continue;
      const had = ({ client, clock }: Place): boolean => (greeting.get(client) ?? 0) > clock;
      // One where nothing says so yet is being filled, by us or by somebody else.
      if (!had(closing.place)) continue;
      const late = entriesOf(volume).filter(({ place }) => place !== null && transport.holds(place) && !had(place));
      if (late.length <= MOST_LATE) await push(idsOf(late), last);
    }
  }

  const entriesOf = (volume: number): HeldEntry[] =>
    [...held.values()].filter((one) => one.isPlaced && one.volume === volume);

  async function putBack(): Promise<void> {
    for (const [volume, entries] of lostEntries(inOrder(), last, holdings)) await push(idsOf(entries), volume);
    for (const { volume, transport } of inOrder()) {
      const closing = closed()[volume];
      if (closing === undefined || !transport.isSynced() || transport.holds(closing.place)) continue;
      const place = await putClosing(volume, closing.next);
      const known = closed().map((one) => (one.volume === volume ? { ...one, place } : one));
      await holdings.keep({ entries: [], closed: known }, "arrive");
    }
  }

  async function mend(): Promise<void> {
    if (deps.caughtUp() && closed().some(({ whole }) => !whole)) {
      await holdings.keep({ entries: [], closed: closed().map((one) => ({ ...one, whole: true })) }, "arrive");
    }
    if (holdings.unplaced.size > 0) await beforeWriting();
    await putBack();
    await handOver();
  }

  function changed(volume: number): void {
    const one = loaded.get(volume);
    if (one?.transport.isSynced() === true) one.read = true;
    passes.look();
  }

  /** The relay's store that the last volume is at. */
  const storeHere = (): string | null => loaded.get(last)?.transport.inside().wire?.storeId() ?? null;

  const passes = createPasses({
    loaded,
    last: () => last,
    isPaused: deps.isPaused,
    isAskedFor,
    storeHere,
    holdings,
    load,
    mend,
    arrive: deps.arrive,
    inTurn: deps.inTurn,
    // As they lie: else they would be put in again at the next start, which does not look there.
    placed: (volume) =>
      entriesOf(volume).flatMap(({ id, place }) => (place !== null && own.has(place.client) ? [{ id, place }] : [])),
  });

  function isSynced(): boolean {
    if (last < closed().length || loaded.get(last)?.transport.isSynced() !== true) return false;
    if (last > 0 && loaded.get(last - 1)?.transport.isSynced() !== true) return false;
    return closed().every(({ volume, stores }) => stores.length > 0 || loaded.get(volume)?.read === true);
  }

  function connection(): Connection {
    const state = loaded.get(last)?.transport.connection() ?? { type: "offline" };
    return state.type === "live" && state.synced && !isSynced() ? { type: "live", synced: false } : state;
  }

  return {
    attach,
    attached: () => loaded.get(last)?.transport.attached() === true,
    unseen: () => inOrder().flatMap(({ transport }) => transport.unseen()),
    at: (place) => loaded.get(volumeOf(place))?.transport.at(place),
    saw: (place) => loaded.get(volumeOf(place))?.transport.saw(place),
    push: put,
    renew: () => at(last).renew(),
    holds: (place) => loaded.get(volumeOf(place))?.transport.holds(place) ?? true,
    storedUpTo(place) {
      const one = loaded.get(volumeOf(place));
      if (one !== undefined) return one.transport.storedUpTo(place);
      const store = storeHere();
      const isThere = store !== null && closed()[volumeOf(place)]?.stores.includes(store) === true;
      return isThere ? Number.POSITIVE_INFINITY : 0;
    },
    connection,
    isSynced,
    say: (bytes) => at(last).say(bytes),
    inside: () => at(last).inside(),
    pause() {
      for (const { transport } of loaded.values()) transport.pause();
    },
    resume() {
      for (const { transport } of loaded.values()) transport.resume();
      passes.look();
    },
    async close() {
      passes.stop();
      await Promise.allSettled(loading.values());
      for (const { transport } of inOrder()) await transport.close();
      // Those that were not loaded too: when the room is left, a store that is closed is wiped.
      for (let volume = 0; volume <= last; volume++) {
        if (!loaded.has(volume)) await storeOf(volume, await roomOf(volume)).close();
      }
    },
    changed,
    goOn,
    ahead,
    beforeWriting,
    mend,
  };
}

const idsOf = (entries: readonly HeldEntry[]): EntryId[] => entries.map(({ id }) => id);
