/**
 * Older volumes, one at a time: loaded, read to the end at the relay that is met, filled with what its store lacks, noted as being there,
 * and let go of. A volume that is loaded and has become old is let go of in the same way. It is read once more after its successor was
 * found closed: so what anybody wrote before he could know of that has been taken in, and what he writes later he hands over himself
 * (`volumes.ts`).
 *
 * The newest comes first, when the last two are stored: so whoever finds a store being filled again, and goes from one volume to the next,
 * finds each one filled by the time that the one before says where the book goes on. Else a device that had lost its own chain would
 * take an empty room for the end of it.
 */
import type { EntryId } from "@sward/core";
import * as Y from "yjs";
import type { Holdings } from "./holdings.ts";
import type { Place } from "./vault.ts";
import type { Loaded } from "./volumes.ts";

export interface Passes {
  /** Something has changed. */
  look(): void;
  /** What had arrived has been taken in. */
  read(): void;
  stop(): void;
}

export interface PassesDeps {
  readonly loaded: Map<number, Loaded>;
  readonly last: () => number;
  readonly isPaused: () => boolean;
  /** Must stay loaded. */
  readonly isAskedFor: (volume: number) => boolean;
  readonly storeHere: () => string | null;
  readonly holdings: Holdings;
  readonly load: (volume: number) => Promise<void>;
  readonly mend: () => Promise<void>;
  readonly arrive: () => Promise<boolean>;
  readonly inTurn: <T>(run: () => Promise<T>) => Promise<T>;
  /** Where entries lie that the vault may not know of. */
  readonly placed: (volume: number) => readonly { readonly id: EntryId; readonly place: Place }[];
}

/** So many stores are remembered: a club has one relay, perhaps two. */
const STORES = 4;

export function createPasses(deps: PassesDeps): Passes {
  const { loaded, last, holdings, storeHere, isAskedFor, inTurn } = deps;
  /** The volume whose turn it is; `begun` when it was dialled for this. */
  let pass: { readonly volume: number; begun: boolean } | null = null;
  let [busy, missed, stopped] = [false, false, false];
  /** Those gone through at this store since the book was opened. */
  const through = new Set<string>();

  const nameOf = (volume: number): string => `${volume} ${storeHere()}`;

  function nextVolume(): number | null {
    const store = storeHere();
    if (store === null || last() < 2) return null;
    const volumes = Array.from({ length: last() - 1 }, (_, n) => last() - 2 - n);
    const old = volumes.find((volume) => loaded.has(volume) && !isAskedFor(volume));
    if (old !== undefined) return old;
    if (![last(), last() - 1].every(isStored)) return null;
    const due = (volume: number) => holdings.closed()[volume]?.stores.includes(store) !== true;
    return volumes.find((volume) => due(volume) && !through.has(nameOf(volume))) ?? null;
  }

  /** Read to the end, and all of it is at the relay. */
  function isStored(volume: number): boolean {
    const one = loaded.get(volume);
    const { doc, wire } = one?.transport.inside() ?? {};
    if (one === undefined || doc === undefined || !one.transport.isSynced()) return false;
    const stored = wire?.stored() ?? new Map<number, number>();
    for (const client of doc.store.clients.keys()) {
      if ((stored.get(client) ?? 0) < Y.getState(doc.store, client)) return false;
    }
    return one.transport.unseen().length === 0;
  }

  function look(): void {
    missed = busy;
    if (stopped || busy || deps.isPaused()) return;
    if (pass === null) {
      const volume = nextVolume();
      if (volume === null) return;
      pass = { volume, begun: false };
    }
    if (!pass.begun || isStored(pass.volume)) {
      busy = true;
      void inTurn(step).then(ended, ended);
    }
  }

  function ended(): void {
    busy = false;
    // What failed is tried again when something changes.
    if (pass === null || missed) look();
  }

  async function step(): Promise<void> {
    if (pass === null || stopped || deps.isPaused()) return;
    if (pass.begun) return finish(pass.volume);
    const { volume } = pass;
    const one = loaded.get(volume);
    if (one === undefined) await deps.load(volume);
    else {
      one.transport.pause();
      one.transport.resume();
    }
    pass = { volume, begun: true };
  }

  async function finish(volume: number): Promise<void> {
    if (!(await deps.arrive())) return;
    await deps.mend();
    const one = loaded.get(volume);
    const store = one?.transport.inside().wire?.storeId() ?? null;
    if (one === undefined || store === null || !isStored(volume)) return;
    const closed = holdings
      .closed()
      .map((each) =>
        each.volume === volume
          ? { ...each, stores: [...each.stores.filter((id) => id !== store), store].slice(-STORES) }
          : each,
      );
    if (!(await holdings.keep({ entries: [], placed: deps.placed(volume), closed }, "arrive"))) return;
    if (!isStored(volume)) return;
    through.add(nameOf(volume));
    pass = null;
    if (isAskedFor(volume)) return;
    loaded.delete(volume);
    await one.transport.close();
  }

  return {
    look,
    read() {
      if (!busy) look();
    },
    stop() {
      stopped = true;
    },
  };
}
