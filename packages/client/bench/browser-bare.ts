/** Floors of the page: what a browser needs for the bare operation on the same bytes. */
import { keyIdOf } from "@sward/core";
import { base64url } from "jose";
import type { PageBook } from "./browser-book.ts";
import { sideBySide } from "./signed.ts";

/** Milliseconds. */
export async function benchBare(book: PageBook): Promise<number> {
  const from = performance.now();
  await bareSignatures(book);
  return performance.now() - from;
}

/** Every signature by its own author's key. */
export async function bareSignatures({ entries, arrivals, keys }: PageBook): Promise<void> {
  const imported = new Map(
    await Promise.all(
      keys.map(async (x) => {
        const jwk = { kty: "OKP", crv: "Ed25519", x };
        return [x, await crypto.subtle.importKey("jwk", jwk, "Ed25519", false, ["verify"])] as const;
      }),
    ),
  );
  const byAuthor = new Map(keys.map((x) => [keyIdOf(x), imported.get(x)]));
  const encoder = new TextEncoder();
  let good = 0;
  await sideBySide(entries, async ({ jws }, n) => {
    const key = byAuthor.get(arrivals[n]?.entry.author ?? ("" as never));
    const dot = jws.lastIndexOf(".");
    const signature = Uint8Array.from(base64url.decode(jws.slice(dot + 1)));
    if (key !== undefined && (await crypto.subtle.verify("Ed25519", key, signature, encoder.encode(jws.slice(0, dot)))))
      good += 1;
  });
  if (good !== entries.length) throw new Error(`${good} of ${entries.length} signatures hold`);
}

/** One getAll of as many records as there are, from a database of its own. Returns the way to time it. */
export async function ownDatabase(records: readonly unknown[]): Promise<{ all(): Promise<unknown[]>; drop(): void }> {
  const name = "bench-floor";
  const db = await opened(name, (fresh) => void fresh.createObjectStore("records", { autoIncrement: true }));
  await new Promise<void>((done, failed) => {
    const tx = db.transaction("records", "readwrite");
    for (const record of records) tx.objectStore("records").put(record);
    tx.oncomplete = () => done();
    tx.onerror = () => failed(tx.error);
  });
  return {
    all: () => got(db, "records"),
    drop() {
      db.close();
      indexedDB.deleteDatabase(name);
    },
  };
}

/** What is in a store of a database that is there, opened for it. */
export async function allIn(name: string, store: string): Promise<unknown[]> {
  const db = await opened(name, () => undefined);
  const all = await got(db, store);
  db.close();
  return all;
}

const opened = (name: string, upgrade: (fresh: IDBDatabase) => void): Promise<IDBDatabase> =>
  new Promise((done, failed) => {
    const request = indexedDB.open(name);
    request.onupgradeneeded = () => upgrade(request.result);
    request.onsuccess = () => done(request.result);
    request.onerror = () => failed(request.error);
  });

const got = (db: IDBDatabase, store: string): Promise<unknown[]> =>
  new Promise((done, failed) => {
    const request = db.transaction(store).objectStore(store).getAll();
    request.onsuccess = () => done(request.result);
    request.onerror = () => failed(request.error);
  });

export const parsed = (jws: string): unknown =>
  JSON.parse(new TextDecoder().decode(base64url.decode(jws.split(".")[1] ?? "")));
