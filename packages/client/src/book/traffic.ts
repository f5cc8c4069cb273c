/**
 * What goes between a book's vault and its ledger documents: what was written here is sealed and put in, what lies there unseen is taken
 * in, and after each meeting with the relay whatever is missing there goes in again. Called in the book's turn, one thing at a time.
 *
 * A book begins with one document and most have no more for a year. What knows of several (`volumes.ts`), and what is said to others in
 * the room, is not part of what is fetched before a page can be seen; but until it is here, nobody is believed to have read all there is.
 */
import type { EntryId, Ledger, Touched } from "@sward/core";
import { nothingDone } from "@sward/core";
import type { EpochKeys } from "../keys/book-keys.ts";
import type { Signer } from "../keys/signer.ts";
import type { Verifier } from "../keys/verifier.ts";
import type { Connection } from "../wire/connection.ts";
import type { Arrivals } from "./arrivals.ts";
import { createArrivals } from "./arrivals.ts";
import type { Closing } from "./closing.ts";
import { volumeOf } from "./closing.ts";
import { delegate } from "./delegate.ts";
import type { DocStore } from "./doc-store.ts";
import type { HeadsExchange } from "./heads-exchange.ts";
import type { Holdings } from "./holdings.ts";
import type { BookOptions } from "./options.ts";
import type { OwnChain } from "./own-chain.ts";
import { blocksOf, seal } from "./seal.ts";
import type { Transport } from "./transport.ts";
import { createTransport } from "./transport.ts";
import { createUnstored } from "./unstored.ts";
import type { Place } from "./vault.ts";
import type { Volumes } from "./volumes.ts";

export interface Traffic extends Pick<Arrivals, "retry" | "take" | "progress"> {
  /** Loads what is to be loaded and dials. */
  attach(): Promise<void>;
  /** Seals entries and puts them into the document, once it is there. */
  push(ids: readonly EntryId[]): Promise<void>;
  isStored(place: Place | null): boolean;
  /** Entries not stored at the relay yet: what they are when it is asked. */
  unstored(): ReadonlySet<EntryId>;
  /** How many. */
  waiting(): number;
  connection(): Connection;
  pause(): void;
  resume(): void;
  /** At once: nothing more is begun. */
  stop(): void;
  close(): Promise<void>;
}

export interface TrafficDeps {
  readonly options: BookOptions;
  readonly current: EpochKeys;
  readonly epochs: ReadonlyMap<number, EpochKeys>;
  readonly holdings: Holdings;
  readonly ledger: Ledger;
  readonly verifier: Verifier;
  readonly ownChain: OwnChain;
  readonly inTurn: <T>(run: () => Promise<T>) => Promise<T>;
  /** With null, something to show has changed, but no entry. */
  readonly tell: (touched: Touched | null) => void;
}

const RETRY_MS = 20_000;

export function createTraffic(deps: TrafficDeps): Traffic {
  const { options, current, epochs, holdings, ownChain, inTurn, tell } = deps;
  const held = holdings.entries;
  let retry: unknown = null;
  let closed = false;
  let paused = false;
  let volumes: Volumes | null = null;
  let exchange: HeadsExchange | null = null;

  const open = (volume: number, room: Signer, store: DocStore): Transport =>
    createTransport({
      options,
      volume,
      room,
      store,
      *seen() {
        for (const one of held.values()) if (one.isPlaced && one.volume === volume) yield one;
      },
      arrived() {
        arrivals.grew();
        void inTurn(arrive);
      },
      changed() {
        volumes?.changed(volume);
        tell(null);
      },
      synced: () => void inTurn(pushMissing),
      taken: (client) => void inTurn(() => push(holdings.under(client))),
      heard: (said) => void inTurn(async () => ((await arrive()) ? exchange?.heard(said) : undefined)),
    });
  const first = open(0, current.ledgerRoom, options.ledgerStore);
  const document = delegate<Transport>(() => volumes ?? first);
  const unstored = createUnstored({ holdings, storedUpTo: (place) => document.storedUpTo(place) });

  const arrivals = createArrivals({
    options,
    epochs,
    holdings,
    ledger: deps.ledger,
    verifier: deps.verifier,
    document,
    caughtUp: ownChain.caughtUp,
    closing: goAhead,
    came: ownChain.came,
    tell,
  });
  async function withVolumes(): Promise<Volumes> {
    if (volumes !== null) return volumes;
    const [{ createVolumes }, { createHeadsExchange }] = await Promise.all([
      import("./volumes.ts"),
      import("./heads-exchange.ts"),
    ]);
    const { ledger } = deps;
    const isPaused = () => paused;
    volumes ??= createVolumes({
      options,
      epoch: current,
      holdings,
      ledger,
      first,
      open,
      push,
      arrive,
      inTurn,
      isPaused,
      caughtUp: ownChain.caughtUp,
    });
    if (closed) return volumes;
    exchange ??= createHeadsExchange({
      options,
      epoch: current,
      keysOf: (epoch) => epochs.get(epoch),
      ids: () => held.keys(),
      inStep: () => document.isSynced() && ownChain.caughtUp() && unstored().size === 0,
      say: document.say,
      repeat: async (ids) => {
        document.renew();
        await push(ids);
      },
    });
    return volumes;
  }

  /** Where the book goes on is dialled while the rest of a volume is still read; if that fails, it is gone on to once it is taken in. */
  function goAhead({ place }: Closing): void {
    void withVolumes()
      .then((all) => (closed ? undefined : all.ahead(volumeOf(place))))
      .catch(() => undefined);
  }

  async function attach(): Promise<void> {
    // Who has nothing may be about to read years: what reads them beside is fetched before they are on their way.
    if (held.size === 0 && options.relay !== null) void options.readsBeside?.().catch(() => undefined);
    try {
      if (holdings.closed().length > 0) await withVolumes();
      await document.attach();
    } catch {
      // The record is here; it only cannot travel yet.
      later(attach);
      return;
    }
    await arrive();
    // Where there is a relay, what it lacks is known after meeting it: in a new room that may be everything, or nothing.
    if (options.relay === null) await push([...holdings.unplaced]);
    void withVolumes().catch(() => undefined);
  }

  async function push(ids: readonly EntryId[], volume?: number): Promise<void> {
    if (!document.attached() || ids.length === 0) return;
    if (volume === undefined) await volumes?.beforeWriting().catch(() => undefined);
    for (const block of blocksOf(ids, (id) => held.get(id)?.jws.length ?? 0, options.entriesPerBlock)) {
      const texts = block.flatMap((id) => held.get(id)?.jws ?? []);
      const place = document.push(await seal(options.book, current, texts, options.randomBytes), volume);
      for (const id of block) holdings.put(id, place);
    }
    tell(null);
  }

  /** Nothing else may come to make us look. */
  function later(run: () => Promise<unknown>): void {
    retry ??= options.relay?.deps.setTimeout(() => {
      retry = null;
      if (!closed) void inTurn(run);
    }, RETRY_MS);
  }

  /** What the vault would not take is looked at again before long. */
  async function arrive(): Promise<boolean> {
    try {
      while (await arrivals.arrive()) {
        if (holdings.closed().length === 0 || !(await (await withVolumes()).goOn())) return true;
      }
    } catch {
      // A volume that could not be gone on to.
    }
    later(() => (document.isSynced() ? pushMissing() : arrive()));
    return false;
  }

  /** After meeting the relay: whatever the documents have lost goes in again. */
  async function pushMissing(): Promise<void> {
    // Else a device that could not keep its own chain would begin it anew.
    if (!(await arrive())) return;
    const all = await withVolumes().catch(() => later(pushMissing));
    if (!all?.isSynced()) return;
    exchange?.met();
    const wasBehind = !ownChain.caughtUp();
    ownChain.metRelay();
    if (wasBehind) tell({ matches: new Set(), players: new Set(), cost: nothingDone() });
    await all.mend();
  }

  return {
    attach,
    push,
    retry: arrivals.retry,
    take: arrivals.take,
    progress: arrivals.progress,
    isStored: (place) => place !== null && place.clock < document.storedUpTo(place),
    unstored,
    waiting: () => unstored().size,
    connection() {
      const state = document.connection();
      // All has come, but who reads a screen of a part of it must not take that for the whole.
      return state.type === "live" && arrivals.progress() !== null ? { type: "live", synced: false } : state;
    },
    pause() {
      paused = true;
      document.pause();
    },
    resume() {
      paused = false;
      document.resume();
    },
    stop() {
      closed = true;
      exchange?.close();
      options.relay?.deps.clearTimeout(retry);
    },
    close: document.close,
  };
}
