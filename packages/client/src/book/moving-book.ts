/**
 * A book that follows its epochs. When the next one is in force for this device (core's `authority/epochs.ts`), the book is closed in
 * the room it is in and opened in the other, with a document that begins empty and is filled from the vault: what a barred device
 * may have heaped up in the old room stays there. Whoever holds the book goes on with the same object and notices nothing but the
 * connection. Secrets that came in boxes are kept in the vault beside the entries they came in.
 *
 * Whoever opened the epoch moves at once, and fills the new room; the others go some moments later, each in its own time, or before
 * the next thing they write, so that they find the room filled. Old rooms are listened to for 30 days after they were left, by whoever is
 * there; the first one, to which the words on paper lead, always, by officers (`old-rooms.ts`).
 *
 * Rejected: changing keys within an open book (each of its parts would have to know of it, and could forget it) and taking the old
 * document along (whatever is wrong with it would come too, and a room filled to the brim would stay full).
 */
import type { Draft, PublicKey, Touched } from "@sward/core";
import { boxesOwed, decodeEntry, epochDue } from "@sward/core";
import type { EpochKeys } from "../keys/book-keys.ts";
import { deriveEpoch, deriveEpochs } from "../keys/book-keys.ts";
import type { Book } from "./book.ts";
import { openBook } from "./book.ts";
import { delegate } from "./delegate.ts";
import type { DocStore } from "./doc-store.ts";
import { createEpochWatch } from "./epoch-watch.ts";
import type { HeldSecret, Openings } from "./keyring.ts";
import { createKeyring, openingsIn } from "./keyring.ts";
import { isListenedTo } from "./listening.ts";
import { lodge, lodgingIn } from "./lodging.ts";
import { createOldRooms } from "./old-rooms.ts";
import type { BookOptions } from "./options.ts";
import { signpostsOf } from "./signposts.ts";
import type { EpochView } from "./tending.ts";
import { createTending } from "./tending.ts";

/** After somebody else's opening: at least so long, and at most four times as long. */
const BEFORE_MOVING_MS = 1_500;

const nothing: Touched = { matches: new Set(), players: new Set(), lines: 0, hashed: 0 };

export async function openMovingBook(options: BookOptions): Promise<Book> {
  const { book, device, vault, relay } = options;
  let records: Awaited<ReturnType<typeof vault.load>> | null = await vault.load();
  const lodging = lodgingIn(records);
  const keyring = await createKeyring(book, device, options.epochs, lodging);
  const passed = await deriveEpochs(book, options.epochs);
  let room = lodging !== null && keyring.has(lodging.room) ? lodging.room : passed.current.room;
  const keys = new Map<PublicKey, EpochKeys>();
  const listeners = new Set<(touched: Touched | null) => void>();
  let queue: Promise<unknown> = Promise.resolve();
  let [paused, closed, wiping, moving, unsettled] = [false, false, false, false, true];
  let leavingFor: PublicKey | null = null;
  let timer: unknown = null;
  let openings: Openings = { all: [], standing: [], comingRooms: new Set() };

  const inTurn = <T>(run: () => Promise<T>): Promise<T> => {
    const turn = queue.then(run);
    queue = turn.catch(() => undefined);
    return turn;
  };
  const secretOf = (of: PublicKey): HeldSecret => keyring.secrets().find((one) => one.room === of) as HeldSecret;
  /** A document's store is wiped, not closed, when its room is left. */
  const lent = (store: DocStore): DocStore => ({
    attach: (doc) => store.attach(doc),
    wipe: () => store.wipe(),
    close: () => (wiping ? store.wipe() : store.close()),
  });

  if (room !== (lodging?.room ?? (await firstRoom()))) {
    await options.ledgerStore.wipe();
    await options.rosterStore.wipe();
    await lodge(vault, keyring.lodging(room));
    records = null;
  }
  let inner = await openInner(false);
  const trusted = inner.caughtUp();
  const watch = createEpochWatch(device.id);
  watch.know(inner.entries(), []);
  let stop = inner.subscribe(changed);

  async function firstRoom(): Promise<PublicKey> {
    const [first] = [...options.epochs].sort((a, b) => a.epoch - b.epoch);
    return first === undefined ? room : (await deriveEpoch(book, first)).room;
  }

  async function openInner(readsFirst: boolean): Promise<Book> {
    const epochs = keyring.secrets();
    for (const one of epochs) if (!keys.has(one.room)) keys.set(one.room, await deriveEpoch(book, one));
    const opened = await openBook({
      ...options,
      epochs,
      room,
      readsFirst: readsFirst || options.readsFirst === true,
      vault: {
        ...vault,
        load() {
          const first = records;
          records = null;
          return first === null ? vault.load() : Promise.resolve(first);
        },
        close: () => Promise.resolve(),
      },
      ledgerStore: lent(options.ledgerStore),
      rosterStore: lent(options.rosterStore),
    });
    if (paused) opened.goOffline();
    return opened;
  }

  function changed(touched: Touched | null): void {
    if (touched !== null && watch.bears(inner.entries())) {
      unsettled = true;
      void inTurn(settle).catch(() => undefined);
    }
    for (const listener of listeners) listener(touched);
  }

  /** Reads the openings, and moves or makes ready to. */
  async function settle(): Promise<void> {
    if (!unsettled || closed) return;
    unsettled = false;
    openings = openingsIn({ counted: inner.counted(), state: inner.state(), entryOf });
    watch.know(
      inner.entries(),
      openings.all.map(({ author }) => author),
    );
    const learnt = await keyring.learn(openings);
    const to = keyring.roomFor(openings, room, inner.caughtUp());
    if (to === room) {
      leavingFor = null;
      if (learnt) await moveTo(room);
    } else if (relay === null || isOurs(to)) {
      await moveTo(to);
    } else {
      leavingFor = to;
      relay.deps.clearTimeout(timer);
      const wait = BEFORE_MOVING_MS * (1 + 3 * relay.deps.random());
      timer = relay.deps.setTimeout(() => void inTurn(leave).catch(() => undefined), wait);
    }
    hear();
    tending.look();
  }

  const isOurs = (of: PublicKey): boolean =>
    openings.all.some(({ author, body }) => author === device.id && body.room === of && body.from < body.number);

  const leave = async (): Promise<void> => {
    if (leavingFor !== null && !closed) await moveTo(leavingFor);
  };

  async function moveTo(to: PublicKey): Promise<void> {
    leavingFor = null;
    [moving, wiping] = [true, to !== room];
    stop();
    await inner.close();
    // What the vault will not take now is done again at the next start: then it still says where we were.
    if (wiping) await lodge(vault, keyring.lodging(to)).catch(() => undefined);
    else await vault.append({ entries: [], lodging: keyring.lodging(to) }).catch(() => undefined);
    room = to;
    wiping = false;
    // In a room that was made here and now nobody can have continued our chain.
    inner = await openInner(!trusted && !isOurs(to));
    stop = inner.subscribe(changed);
    moving = false;
    unsettled = true;
    void inTurn(settle).catch(() => undefined);
    for (const listener of listeners) listener(nothing);
  }

  const entryOf = (id: Parameters<Book["signed"]>[0]) => {
    const decoded = decodeEntry(inner.signed(id) ?? "");
    return decoded.ok ? decoded.value : undefined;
  };

  const old = createOldRooms({
    options,
    keysOf: (epoch) => {
      const all = [...keys.values()].filter((one) => one.epoch === epoch);
      return all[0] === undefined ? undefined : { ...all[0], alsoOpens: all.slice(1).map(({ seal }) => seal) };
    },
    take: (texts) => inTurn(() => takeOver(texts)),
    signposts: (number) => {
      const { devices } = inner.state();
      const ids = signpostsOf(number, {
        openings: openings.all,
        counted: inner.counted(),
        admittedBy: (one) => devices.get(one)?.admittedBy,
      });
      return [...ids].flatMap((id) => inner.signed(id) ?? []);
    },
  });

  function hear(): void {
    const role = inner.state().devices.get(device.id)?.role;
    const listening = {
      today: options.clock.today(),
      standing: openings.standing,
      officer: role === "root" || role === "handicapper",
    };
    const left = keyring.secrets().filter((one) => one.room !== room && isListenedTo(one, listening));
    old.hear(left.flatMap((one) => keys.get(one.room) ?? []));
    old.tend();
  }

  /** Entries from an old room, those that are good. */
  async function takeOver(texts: readonly string[]): Promise<boolean> {
    const held = new Set([...inner.entries()].map(({ jws }) => jws));
    const fresh = [...new Set(texts)].filter((text) => !held.has(text));
    if (fresh.length === 0) return true;
    const all = await inner.takeEntries(fresh);
    if (all.ok || all.fault.type === "not-saved") return all.ok;
    for (const text of fresh) {
      const one = await inner.takeEntries([text]);
      if (!one.ok && one.fault.type === "not-saved") return false;
    }
    return true;
  }

  function view(): EpochView {
    const state = inner.state();
    return {
      state,
      openings,
      inForce: openings.standing.find((one) => one.room === room) ?? null,
      secret: secretOf(room),
      ready: inner.halted() === null && (relay === null || isLive(inner)),
      keyOf: inner.keyOf,
      barredByUs: (devices) => watch.barredByUs(devices, inner.counted()),
    };
  }

  const tending = createTending({
    options,
    view,
    inTurn: (run) => void inTurn(run).catch(() => undefined),
    save: async (drafts) => (await inner.append(drafts)).ok,
  });

  const caughtUp = (): boolean => inner.caughtUp() && (trusted || (!unsettled && leavingFor === null && !moving));
  void inTurn(settle).catch(() => undefined);

  return {
    ...delegate(() => inner),
    roster: delegate(() => inner.roster),
    caughtUp,
    halted: () => inner.halted() ?? (caughtUp() ? null : { type: "not-caught-up" }),
    append: (drafts: readonly Draft[]) =>
      inTurn(async () => {
        await settle();
        await leave();
        return inner.append(drafts);
      }),
    takeEntries: (texts) => inTurn(() => inner.takeEntries(texts)),
    epochs: () => keyring.handedOver(room),
    lock() {
      const { inForce, state } = view();
      return {
        number: secretOf(room).epoch,
        since: inForce?.at ?? null,
        due: epochDue(openings.standing, inForce, state.devices),
        owed: inForce === null ? [] : boxesOwed(inForce, state.devices),
        moving: moving || leavingFor !== null,
      };
    },
    subscribe(listener) {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
    goOffline() {
      paused = true;
      inner.goOffline();
      old.pause();
    },
    goOnline() {
      paused = false;
      inner.goOnline();
      old.resume();
    },
    async settled() {
      await inTurn(() => inner.settled());
      await inTurn(() => inner.settled());
    },
    async close() {
      closed = true;
      tending.close();
      relay?.deps.clearTimeout(timer);
      await old.close();
      await inTurn(async () => {
        await inner.close();
        await vault.close();
      });
    },
  };
}

const isLive = (book: Book): boolean => {
  const connection = book.connection();
  return connection.type === "live" && connection.synced;
};
