/**
 * Each stage of starting alone, in a page: as `stages.ts` does it under Node, with a browser's storage and a browser's own curves,
 * cipher and hash for floors. All in the page's thread, so that a stage and its floor are in the same one.
 */
import { createAdmission, decodeEntry, digestOf, pagesOf } from "@sward/core";
import * as Y from "yjs";
import { KeptEntry } from "../src/book/kept-entry.ts";
import { recallEntries } from "../src/book/recall.ts";
import { openEnvelope } from "../src/book/seal.ts";
import type { VaultRecord } from "../src/book/vault.ts";
import { readRecords, rewritten } from "../src/book/vault.ts";
import { openIdbVault } from "../src/book/vault-idb.ts";
import { encodeRecord } from "../src/book/vault-record.ts";
import { deriveEpoch } from "../src/keys/book-keys.ts";
import { createVerifier } from "../src/keys/verifier.ts";
import { applyScreened } from "../src/wire/screen.ts";
import { bareSignatures, ownDatabase, parsed } from "./browser-bare.ts";
import type { PageBook } from "./browser-book.ts";
import type { Figure } from "./measure.ts";
import { figure, timed } from "./measure.ts";
import { secret, sideBySide } from "./signed.ts";

/** As a relay sends history. */
const PAGE_BYTES = 256 * 1024;

const nothing = (): void => undefined;

export async function benchStages(page: PageBook, runs: number): Promise<Figure[]> {
  const { book, entries, arrivals, envelopes, update, keys: authors } = page;
  const of = (what: string, ours: readonly number[], floor: string, times: readonly number[]): Figure =>
    figure(what, ours, { size: entries.length, floor: { what: floor, times } });

  const [loading, allBare] = await vaultTimes(page, runs);
  const recalling = await timed(runs, nothing, () => {
    const held = entries.map((one) => ({ ...one, understood: true, place: null }));
    if (recallEntries(held).size !== entries.length) throw new Error("an entry was not recalled");
  });
  const json = await timed(runs, nothing, () => {
    for (const { jws } of entries) parsed(jws);
  });

  const pages = pagesOf(update, PAGE_BYTES);
  const screening = await timed(
    runs,
    () => new Y.Doc(),
    (doc) => {
      let fresh = 0;
      for (const one of pages) fresh += applyScreened(doc, "ledger", one, "salvage", null).fresh;
      if (fresh !== entries.length) throw new Error(`${fresh} of ${entries.length} passed the screen`);
    },
  );
  const yjs = await timed(runs, nothing, () => Y.applyUpdate(new Y.Doc(), update));

  const keys = await deriveEpoch(book, { epoch: 0, secret });
  const opening = await timed(runs, nothing, () =>
    sideBySide(envelopes, async ({ envelope }) => {
      if ("type" in (await openEnvelope(book, () => keys, envelope))) throw new Error("an envelope stays shut");
    }),
  );
  const additionalData = new TextEncoder().encode(`sward envelope 1 ${book} 0`);
  const gcm = await timed(runs, nothing, () =>
    sideBySide(envelopes, ({ envelope }) => {
      const iv = Uint8Array.from(envelope.subarray(5, 17));
      const text = Uint8Array.from(envelope.subarray(17));
      return crypto.subtle.decrypt({ name: "AES-GCM", iv, additionalData }, keys.seal, text);
    }),
  );

  const inputs = entries.map(({ jws }) => jws.slice(0, jws.lastIndexOf(".")));
  const hashing = await timed(runs, nothing, () => {
    for (const input of inputs) digestOf(input);
  });
  const encoder = new TextEncoder();
  const sha = await timed(runs, nothing, () =>
    sideBySide(inputs, (input) => crypto.subtle.digest("SHA-256", encoder.encode(input))),
  );
  const decoding = await timed(runs, nothing, () => {
    const known = new Map();
    for (const { jws } of entries) if (!decodeEntry(jws, known).ok) throw new Error("an entry has no form");
  });

  const verifier = createVerifier();
  for (const key of authors) verifier.learn(key);
  const verifying = await timed(runs, nothing, () =>
    sideBySide(entries, async ({ jws }, n) => {
      const author = arrivals[n]?.entry.author;
      if (author === undefined || !(await verifier.verify(jws, author))) throw new Error("a signature does not hold");
    }),
  );
  const ed25519 = await timed(runs, nothing, () => bareSignatures(page));

  const admitting = await timed(
    runs,
    () => createAdmission(book),
    (admission) => {
      const { all, fresh } = admission.take(arrivals);
      if (!all && fresh.length === 0) throw new Error("nobody was admitted");
    },
  );
  const map = await timed(runs, nothing, () => new Map(arrivals.map((arrival) => [arrival.entry.id, arrival])));
  return [
    of("load the vault", loading, "one IndexedDB getAll, JSON.parse", allBare),
    of("recall entries from their texts", recalling, "base64url and JSON.parse", json),
    of("screen and load the document", screening, "plain Yjs load of the same bytes", yjs),
    of("open envelopes", opening, "bare AES-GCM", gcm),
    of("hash ids", hashing, "bare SHA-256", sha),
    of("decode and check forms", decoding, "base64url and JSON.parse", json),
    of("verify signatures", verifying, "bare Ed25519", ed25519),
    of("admit", admitting, "one Map of the ids", map),
  ];
}

/** What a vault keeps of the book. */
export const recordsOf = ({ entries, envelopes }: Pick<PageBook, "entries" | "envelopes">): readonly VaultRecord[] =>
  rewritten({
    entries: new Map(
      entries.map(({ id, jws }, n) => [
        id,
        KeptEntry.ofText({ id, jws, understood: true, place: envelopes[n]?.place ?? null }),
      ]),
    ),
    unchecked: [],
    sealed: [],
    closed: [],
    unread: false,
    lodging: null,
  });

export const vaultEvents = { givenUp: nothing, putBack: nothing };

async function vaultTimes(page: PageBook, runs: number): Promise<readonly [readonly number[], readonly number[]]> {
  const records = recordsOf(page);
  const name = "bench-vault";
  const fill = await openIdbVault(name, vaultEvents);
  await fill.replace(records);
  await fill.close();
  const loading = await timed(
    runs,
    () => openIdbVault(name, vaultEvents),
    async (vault) => {
      if (readRecords(await vault.load()).entries.size !== page.entries.length)
        throw new Error("the vault lost an entry");
      await vault.close();
    },
  );
  indexedDB.deleteDatabase(name);
  const own = await ownDatabase(records.map(encodeRecord));
  const bare = await timed(runs, nothing, async () => (await own.all()).map((text) => JSON.parse(text as string)));
  own.drop();
  return [loading, bare];
}
