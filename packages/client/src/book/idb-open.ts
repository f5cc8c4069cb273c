/**
 * A database of the browser that stays open. A browser may close one under us (a phone that sleeps, a shortage of space, site data
 * cleared), and then every write to it fails for good; so it is opened anew at once, and what was being done is done once more. A
 * write that may have gone through before is safe to do again: nothing here counts twice. Nor is a browser to be waited for that closes a
 * database: of a write that it was asked to commit at that moment Chromium says neither that it is done nor that it is not.
 *
 * Opening has an end: a browser that gives no storage, that answers nothing, or an old tab that will not let go, is an error that says
 * which, and never a promise that does not settle. Rejected: one connection for each write (a few milliseconds each, thousands of
 * times in an import).
 */
import type { DBSchema, IDBPDatabase } from "idb";
import { openDB } from "idb";

/** What is wrong with a browser's storage. */
export type StorageFault =
  /** There is none: a private window, or a browser set to keep nothing. */
  | { readonly type: "storage-absent"; readonly cause: string }
  /** Another tab holds an older form of it and does not let go. */
  | { readonly type: "storage-blocked" }
  | { readonly type: "storage-silent"; readonly after: number };

export class StorageError extends Error {
  readonly fault: StorageFault;
  constructor(fault: StorageFault) {
    super(fault.type === "storage-absent" ? `${fault.type}: ${fault.cause}` : fault.type);
    this.name = "StorageError";
    this.fault = fault;
  }
}

export interface KeptDbOptions<S extends DBSchema> {
  readonly version: number;
  readonly upgrade: (fresh: IDBPDatabase<S>) => void;
  /** Somebody else needs the database in another form: it was closed and is not opened again. */
  readonly givenUp: () => void;
  /** Called when the browser has closed it and it was opened anew, before anything else is done with it. */
  readonly reopened?: (db: IDBPDatabase<S>) => Promise<void>;
  /** Milliseconds after which opening is given up; 15 seconds if not given. */
  readonly patience?: number;
}

export interface KeptDb<S extends DBSchema> {
  /** Does this with the database; once more where the browser has closed it meanwhile. */
  run<T>(work: (db: IDBPDatabase<S>) => Promise<T>): Promise<T>;
  close(): void;
}

/** A database that opens does so in milliseconds; a phone that wakes may take seconds. */
const PATIENCE_MS = 15_000;

/** A connection, and what to tell those who wait for something on it when it is closed under them. */
interface Connection<S extends DBSchema> {
  readonly db: IDBPDatabase<S>;
  readonly waiting: Set<(cause: DOMException) => void>;
}

/** @throws StorageError */
export async function openKept<S extends DBSchema>(name: string, options: KeptDbOptions<S>): Promise<KeptDb<S>> {
  let ended: "by-us" | "given-up" | null = null;
  let isOpen = true;
  let connections = 0;
  let current: Promise<Connection<S>>;

  const connect = async (): Promise<Connection<S>> => {
    connections += 1;
    const own = connections;
    const waiting: Connection<S>["waiting"] = new Set();
    const db = await openInTime<S>(name, options, {
      terminated: () => {
        if (ended === null && isOpen && own === connections) {
          isOpen = false;
          // At once, for what was lost with it is still in memory now.
          void again().catch(() => undefined);
        }
        for (const tell of waiting) tell(new DOMException("closed by the browser", "AbortError"));
      },
      blocking: () => {
        db.close();
        if (ended !== null) return;
        ended = "given-up";
        options.givenUp();
      },
    });
    isOpen = true;
    return { db, waiting };
  };

  function again(): Promise<Connection<S>> {
    const { reopened } = options;
    current = connect().then(async (connection) => {
      if (reopened !== undefined) await untilClosed(connection, reopened);
      return connection;
    });
    // The next use tries again.
    current.catch(() => {
      isOpen = false;
    });
    return current;
  }

  current = connect();
  await current;

  return {
    async run(work) {
      const used = current;
      try {
        return await untilClosed(await used, work);
      } catch (cause) {
        // Of a transaction that is cut off we hear before we hear that the database is closed.
        if (isOpen && isAborted(cause)) await new Promise((soon) => setTimeout(soon, 0));
        // Opened anew for somebody else already, before this one was told.
        const isOld = current !== used;
        if (ended !== null || (isOpen && !isOld && !isClosed(cause))) throw cause;
        if (isOpen && !isOld) {
          isOpen = false;
          return untilClosed(await again(), work);
        }
        return untilClosed(await current.catch(again), work);
      }
    },
    close() {
      if (ended === null) ended = "by-us";
      void current.then(({ db }) => db.close()).catch(() => undefined);
    },
  };
}

/** This work, or an error as soon as the connection is closed under it. Not `Promise.race`, which keeps a trace of each for ever. */
function untilClosed<S extends DBSchema, T>(
  { db, waiting }: Connection<S>,
  work: (db: IDBPDatabase<S>) => Promise<T>,
): Promise<T> {
  return new Promise((done, failed) => {
    waiting.add(failed);
    void work(db)
      .then(done, failed)
      .finally(() => waiting.delete(failed));
  });
}

/** What a use of a connection that was closed throws. */
const isClosed = (cause: unknown): boolean => cause instanceof DOMException && cause.name === "InvalidStateError";

const isAborted = (cause: unknown): boolean => cause instanceof DOMException && cause.name === "AbortError";

async function openInTime<S extends DBSchema>(
  name: string,
  { version, upgrade, patience = PATIENCE_MS }: Pick<KeptDbOptions<S>, "version" | "upgrade" | "patience">,
  { terminated, blocking }: { terminated(): void; blocking(): void },
): Promise<IDBPDatabase<S>> {
  if (typeof indexedDB === "undefined") throw new StorageError({ type: "storage-absent", cause: "no IndexedDB" });
  let blocked = false;
  let late = false;
  // A refusal is thrown at once by some browsers.
  const opening = Promise.resolve().then(() =>
    openDB<S>(name, version, {
      upgrade: (fresh) => upgrade(fresh),
      blocked: () => {
        blocked = true;
      },
      blocking,
      terminated,
    }),
  );
  let timer: ReturnType<typeof setTimeout> | undefined;
  const outOfPatience = new Promise<never>((_, failed) => {
    timer = setTimeout(() => {
      late = true;
      failed(new StorageError(blocked ? { type: "storage-blocked" } : { type: "storage-silent", after: patience }));
    }, patience);
  });
  try {
    return await Promise.race([opening, outOfPatience]);
  } catch (cause) {
    if (late) void opening.then((db) => db.close()).catch(() => undefined);
    if (cause instanceof StorageError) throw cause;
    throw isRefusal(cause) ? new StorageError({ type: "storage-absent", cause: String(cause) }) : cause;
  } finally {
    clearTimeout(timer);
  }
}

/** Firefox and Safari in a private window, and any browser told to keep nothing. */
const isRefusal = (cause: unknown): boolean =>
  cause instanceof DOMException && (cause.name === "SecurityError" || cause.name === "InvalidStateError");
