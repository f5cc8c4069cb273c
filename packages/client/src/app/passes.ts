/**
 * The passes this browser has: which devices it is. A pass comes in the fragment of an address, is kept here, and is taken out of
 * the address at once, so that it is neither in the history nor in a copied link. Rejected: localStorage, which a browser may read
 * out to extensions as plain text in one line and which has no room of its own per device.
 *
 * The file edge: what is read back is checked again, for another version may have written it.
 */
import type { KeyId } from "@sward/core";
import type { IDBPDatabase } from "idb";
import { openDB } from "idb";
import { decodePass, Pass, seedOf } from "../desk/pass.ts";
import { createSigner } from "../keys/signer.ts";

export interface KeptPass {
  readonly device: KeyId;
  readonly pass: Pass;
}

/** In an address a device goes by the first characters of its key id. */
export const shortId = (device: KeyId): string => device.slice(0, 10);

const STORE = "passes";

function openPasses(): Promise<IDBPDatabase> {
  return openDB("sward", 1, {
    upgrade(db) {
      db.createObjectStore(STORE);
    },
  });
}

/** Every pass of this browser that this version can read, by label. */
export async function listPasses(): Promise<readonly KeptPass[]> {
  const db = await openPasses();
  try {
    const [keys, values] = await Promise.all([db.getAllKeys(STORE), db.getAll(STORE)]);
    const kept = values.flatMap((value, place): KeptPass[] => {
      const pass = Pass().safeParse(value);
      return pass.success ? [{ device: String(keys[place]) as KeyId, pass: pass.data }] : [];
    });
    return kept.sort((a, b) => (a.pass.label < b.pass.label ? -1 : 1));
  } finally {
    db.close();
  }
}

/** Keeps a pass; an older one of the same device adds what only it had. */
export async function keepPass(pass: Pass): Promise<KeptPass> {
  const { id } = await createSigner(seedOf(pass));
  const db = await openPasses();
  try {
    const transaction = db.transaction(STORE, "readwrite");
    const held = Pass().safeParse(await transaction.store.get(id));
    const merged = held.success ? mergePasses(held.data, pass) : pass;
    await transaction.store.put(merged, id);
    await transaction.done;
    return { device: id, pass: merged };
  } finally {
    db.close();
  }
}

/** Forgets a pass; the device's record stays in its own databases. */
export async function dropPass(device: KeyId): Promise<void> {
  const db = await openPasses();
  try {
    await db.delete(STORE, device);
  } finally {
    db.close();
  }
}

/** The pass in an address's fragment (`#pass=…`): null when there is none, "broken" when it does not read. */
export function passIn(fragment: string): Pass | "broken" | null {
  const text = /^#pass=(.*)$/.exec(fragment)?.[1];
  if (text === undefined) return null;
  const decoded = decodePass(text);
  return decoded.ok ? decoded.value : "broken";
}

type BookPass = Pass["club"];

/** The newer pass, with epochs and leagues only the older one had: an old link opened again must not lock anything out. */
export function mergePasses(older: Pass, newer: Pass): Pass {
  const leagues = newer.leagues.map((book) => mergeBooks(findBook(older.leagues, book), book));
  const dropped = older.leagues.filter((book) => findBook(newer.leagues, book) === undefined);
  const sameClub = older.club.book === newer.club.book;
  return {
    ...newer,
    club: mergeBooks(sameClub ? older.club : undefined, newer.club),
    leagues: [...leagues, ...dropped],
  };
}

const findBook = (books: readonly BookPass[], { book }: BookPass): BookPass | undefined =>
  books.find((other) => other.book === book);

function mergeBooks(older: BookPass | undefined, newer: BookPass): BookPass {
  const known = new Set(newer.epochs.map(({ secret }) => secret));
  const kept = (older?.epochs ?? []).filter(({ secret }) => !known.has(secret));
  return { book: newer.book, epochs: [...kept, ...newer.epochs].sort((a, b) => a.epoch - b.epoch) };
}
