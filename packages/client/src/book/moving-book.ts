/**
 * A book that can move: it is closed in the room of one epoch and opened in that of another, with a document that begins empty and is
 * filled from the vault; so what a barred device may have heaped up in the old room stays there. Whoever holds the book goes on with the
 * same object and notices nothing but the connection. When to move, and where, is `following.ts`, which is not part of what is
 * fetched before a page can be seen: opening a book where it was takes only what its vault says (`lodging.ts`).
 *
 * Rejected: changing keys within an open book (each of its parts would have to know of it, and could forget it) and taking the old
 * document along (whatever is wrong with it would come too, and a room filled to the brim would stay full).
 */
import type { Draft, PublicKey, Touched } from "@sward/core";
import { fail, nothingDone } from "@sward/core";
import { deriveEpochs } from "../keys/book-keys.ts";
import type { Book } from "./book.ts";
import { openBook } from "./book.ts";
import { delegate } from "./delegate.ts";
import type { DocStore } from "./doc-store.ts";
import { createMemoryDocStore } from "./doc-store.ts";
import type { Following } from "./following.ts";
import { epochsOfLodging, lodge, lodgingIn } from "./lodging.ts";
import type { BookOptions } from "./options.ts";
import type { Lodging, VaultRecord } from "./vault.ts";

/** What whoever decides on moving may do. */
export interface Moves {
  readonly options: BookOptions;
  /** The device held its own chain when it was opened. */
  readonly trusted: boolean;
  inner(): Book;
  lodging(): Lodging | null;
  /** One thing at a time: nothing is written meanwhile. */
  inTurn<T>(run: () => Promise<T>): Promise<T>;
  /** Closes the book where it is and opens it there, with these secrets. @param readsFirst nothing is written before the room was read */
  moveTo(lodging: Lodging, readsFirst: boolean): Promise<void>;
  /** All of our own chain is here: kept for the next start. */
  noteRead(): Promise<void>;
  /** Something to show has changed. */
  tell(): void;
}

const nothing: Touched = { matches: new Set(), players: new Set(), cost: nothingDone() };
const TRY_AGAIN_MS = 5_000;

export async function openMovingBook(options: BookOptions): Promise<Book> {
  const { book, vault, relay } = options;
  options.ledgerStore.prepare();
  let records: readonly VaultRecord[] | null = await vault.load();
  let lodging = lodgingIn(records);
  const listeners = new Set<(touched: Touched | null) => void>();
  let queue: Promise<unknown> = Promise.resolve();
  let [paused, closed, wiping] = [false, false, false];
  let following: Following | null = null;
  let timer: unknown = null;
  let noting: Promise<void> | null = null;

  const inTurn = <T>(run: () => Promise<T>): Promise<T> => {
    const turn = queue.then(run);
    queue = turn.catch(() => undefined);
    return turn;
  };
  const tell = (touched: Touched | null): void => {
    for (const listener of listeners) listener(touched);
  };
  /** A document's store is wiped, not closed, when its room is left. */
  const lent = (store: DocStore): DocStore => ({
    prepare: () => store.prepare(),
    attach: (doc) => store.attach(doc),
    wipe: () => store.wipe(),
    close: () => (wiping ? store.wipe() : store.close()),
  });

  /** Opened when it is needed: of most volumes only the name is known. */
  function lentVolume(room: PublicKey): DocStore {
    let made: DocStore | null = null;
    const store = (): DocStore => {
      made ??= options.volumeStore?.(room) ?? createMemoryDocStore();
      return made;
    };
    return {
      prepare: () => store().prepare(),
      attach: (doc) => store().attach(doc),
      wipe: () => store().wipe(),
      async close() {
        if (wiping) await store().wipe();
        await made?.close();
      },
    };
  }

  async function openInner(readsFirst: boolean): Promise<Book> {
    const opened = await openBook({
      ...options,
      epochs: [...options.epochs, ...epochsOfLodging(lodging)],
      ...(lodging === null ? {} : { room: lodging.room }),
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
      volumeStore: lentVolume,
      rosterStore: lent(options.rosterStore),
    });
    if (paused) opened.goOffline();
    return opened;
  }

  // A pass that was opened once more may know of later epochs than the vault does.
  if (lodging === null && options.epochs.length > 1) {
    lodging = { room: (await deriveEpochs(book, options.epochs)).current.room, epochs: [] };
    await options.ledgerStore.wipe();
    await options.rosterStore.wipe();
    await lodge(vault, lodging);
    records = null;
  }
  let inner = await openInner(false);
  const trusted = inner.caughtUp();
  const changed = (touched: Touched | null): void => {
    if (touched !== null) following?.changed();
    void noteRead();
    tell(touched);
  };
  let stop = inner.subscribe(changed);

  async function moveTo(to: Lodging, readsFirst: boolean): Promise<void> {
    wiping = to.room !== inner.lock().room;
    stop();
    await inner.close();
    lodging = to;
    // What the vault will not take now is done again at the next start: then it still says where we were.
    await (wiping ? lodge(vault, to) : vault.append({ entries: [], lodging: to })).catch(() => undefined);
    wiping = false;
    inner = await openInner(readsFirst);
    stop = inner.subscribe(changed);
    tell(nothing);
  }

  async function follow(): Promise<void> {
    try {
      const { createFollowing } = await import("./following.ts");
      if (closed) return;
      const moves = {
        options,
        trusted,
        inner: () => inner,
        lodging: () => lodging,
        inTurn,
        moveTo,
        noteRead: () => noteRead(true),
        tell: () => tell(nothing),
      };
      following = await createFollowing(moves);
      if (paused) following.pause();
    } catch {
      timer = relay?.deps.setTimeout(() => void follow(), TRY_AGAIN_MS);
    }
  }
  const started = follow();

  const caughtUp = (): boolean => inner.caughtUp() && (trusted || following?.settled() === true);

  /** One try at a time: one that fails is told of, and would be made again at once. */
  function noteRead(isKnown = following?.known() === true): Promise<void> {
    if (trusted || closed || !isKnown) return Promise.resolve();
    noting ??= inner
      .readWhole()
      .catch(() => undefined)
      .finally(() => {
        noting = null;
      });
    return noting;
  }

  return {
    ...delegate(() => inner),
    roster: delegate(() => inner.roster),
    caughtUp,
    halted: () => inner.halted() ?? (caughtUp() ? null : { type: "not-caught-up" }),
    append: (drafts: readonly Draft[]) =>
      inTurn(async () => {
        await following?.beforeWriting();
        // The inner book knows of one room only.
        return caughtUp() ? inner.append(drafts) : fail({ type: "not-caught-up" });
      }),
    takeEntries: (texts) => inTurn(() => inner.takeEntries(texts)),
    epochs: () => following?.epochs() ?? inner.epochs(),
    lock: () => following?.lock() ?? inner.lock(),
    subscribe(listener) {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
    goOffline() {
      paused = true;
      inner.goOffline();
      following?.pause();
    },
    goOnline() {
      paused = false;
      inner.goOnline();
      following?.resume();
    },
    async settled() {
      await started;
      // Taking something in may lead to a move, and the new room has more to take in.
      for (let times = 0; times < 2; times++) await inTurn(() => inner.settled());
    },
    async close() {
      closed = true;
      relay?.deps.clearTimeout(timer);
      await started;
      await following?.close();
      await inTurn(async () => {
        stop();
        await inner.close();
        await vault.close();
      });
    },
  };
}
