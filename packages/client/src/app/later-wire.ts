/**
 * A wire whose script comes after the first view. What a screen shows first is read from this device's own storage, with a signal or
 * without; the relay is met a moment later in any case, so its tenth of the script need not stand in the way.
 *
 * Until the script is here the wire says "connecting" (or "offline", when it was paused), which is the truth. If it cannot be fetched
 * it says so, and tries again.
 */
import type { Connection, OpenWire, Wire, WireFault, WireOptions } from "../wire/connection.ts";

/** How long until a script that could not be fetched is tried again, in milliseconds. */
const TRY_AGAIN = 5_000;

/** `openLater(async () => (await import("../wire/wire.ts")).openWire)` */
export const openLater =
  (load: () => Promise<OpenWire>): OpenWire =>
  (options) =>
    laterWire(load, options);

function laterWire(load: () => Promise<OpenWire>, options: WireOptions): Wire {
  const { setTimeout, clearTimeout } = options.deps;
  const changes = new Set<() => void>();
  const storings = new Set<Parameters<Wire["onStored"]>[0]>();
  const sayings = new Set<Parameters<Wire["onSaid"]>[0]>();
  let wire: Wire | null = null;
  let dial = options.dial !== false;
  let connection: Connection = dial ? connecting() : { type: "offline" };
  let timer: unknown = null;

  const become = (next: Connection): void => {
    connection = next;
    for (const listener of changes) listener();
  };

  const fetchIt = async (): Promise<void> => {
    let open: OpenWire;
    try {
      open = await load();
    } catch (cause) {
      if (connection.type === "closed") return;
      if (dial) become(connecting(TRY_AGAIN, { type: "defect", cause: String(cause) }));
      timer = setTimeout(() => void fetchIt(), TRY_AGAIN);
      return;
    }
    if (connection.type === "closed") return;
    wire = open({ ...options, dial });
    wire.subscribe(() => {
      for (const listener of changes) listener();
    });
    wire.onStored((stored) => {
      for (const listener of storings) listener(stored);
    });
    wire.onSaid((bytes) => {
      for (const listener of sayings) listener(bytes);
    });
    for (const listener of changes) listener();
  };
  void fetchIt();

  return {
    state: () => wire?.state() ?? connection,
    stored: () => wire?.stored() ?? new Map(),
    storeId: () => wire?.storeId() ?? null,
    refusals: () => wire?.refusals() ?? [],
    taken: () => wire?.taken() ?? new Set(),
    subscribe(listener) {
      changes.add(listener);
      return () => changes.delete(listener);
    },
    onStored(listener) {
      storings.add(listener);
      return () => storings.delete(listener);
    },
    say: (bytes) => wire?.say(bytes),
    onSaid(listener) {
      sayings.add(listener);
      return () => sayings.delete(listener);
    },
    pause() {
      dial = false;
      if (wire !== null) wire.pause();
      else if (connection.type !== "closed") become({ type: "offline" });
    },
    resume() {
      dial = true;
      if (wire !== null) wire.resume();
      else if (connection.type === "offline") become(connecting());
    },
    async close() {
      clearTimeout(timer);
      connection = { type: "closed" };
      await wire?.close();
    },
  };
}

const connecting = (next: number | null = null, fault: WireFault | null = null): Connection => ({
  type: "connecting",
  attempt: 0,
  next,
  fault,
});
