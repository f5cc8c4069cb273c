/**
 * Each stage of starting alone, on the same signed entries: read from the vault, document screened and loaded, envelopes opened, ids
 * hashed, forms checked, signatures checked, entries admitted; beside what the platform needs for the bare operation on the same bytes.
 */
import { createHash } from "node:crypto";
import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Arrival } from "@sward/core";
import { createAdmission, decodeEntry, digestOf, pagesOf } from "@sward/core";
import { ClassicLevel } from "classic-level";
import * as Y from "yjs";
import { KeptEntry } from "../src/book/kept-entry.ts";
import { recallEntries } from "../src/book/recall.ts";
import { openEnvelope } from "../src/book/seal.ts";
import { readRecords, rewritten } from "../src/book/vault.ts";
import { openLevelVault } from "../src/book/vault-level.ts";
import { encodeRecord } from "../src/book/vault-record.ts";
import { deriveEpoch } from "../src/keys/book-keys.ts";
import { createVerifier } from "../src/keys/verifier.ts";
import { applyScreened } from "../src/wire/screen.ts";
import type { Figure } from "./measure.ts";
import { figure, timed } from "./measure.ts";
import type { SignedBook } from "./signed.ts";
import { bareVerify, secret, sideBySide } from "./signed.ts";

/** As a relay sends history. */
const PAGE_BYTES = 256 * 1024;

const nothing = (): void => undefined;

export async function benchStages(signed: SignedBook, runs: number): Promise<Figure[]> {
  const { bench, update, envelopes, signers } = signed;
  const { entries, arrivals, book } = bench;
  const sized = { size: entries.length };
  const of = (what: string, ours: readonly number[], floor: string, times: readonly number[], aim?: string): Figure =>
    figure(what, ours, { ...sized, floor: { what: floor, times }, ...(aim === undefined ? {} : { aim }) });

  const fromVault = await vaultTimes(signed, runs);
  const yjs = await timed(runs, nothing, () => Y.applyUpdate(new Y.Doc(), update));
  const pages = pagesOf(update, PAGE_BYTES);
  const screening = await timed(
    runs,
    () => new Y.Doc(),
    (doc) => {
      let fresh = 0;
      for (const page of pages) fresh += applyScreened(doc, "ledger", page, "salvage", null).fresh;
      if (fresh !== entries.length) throw new Error(`${fresh} of ${entries.length} passed the screen`);
    },
  );

  const keys = await deriveEpoch(book, { epoch: 0, secret });
  const opening = await timed(runs, nothing, () =>
    sideBySide(envelopes, async (envelope) => {
      if ("type" in (await openEnvelope(book, () => keys, envelope))) throw new Error("an envelope stays shut");
    }),
  );
  const additionalData = new TextEncoder().encode(`sward envelope 1 ${book} 0`);
  const bareGcm = await timed(runs, nothing, () =>
    sideBySide(envelopes, (envelope) => {
      const text = Uint8Array.from(envelope.subarray(17));
      const iv = Uint8Array.from(envelope.subarray(5, 17));
      return crypto.subtle.decrypt({ name: "AES-GCM", iv, additionalData }, keys.seal, text);
    }),
  );

  const inputs = entries.map(({ jws }) => jws.slice(0, jws.lastIndexOf(".")));
  const hashing = await timed(runs, nothing, () => {
    for (const input of inputs) digestOf(input);
  });
  const bareSha = await timed(runs, nothing, () => {
    for (const input of inputs) createHash("sha256").update(input).digest("base64url");
  });
  const decoding = await timed(runs, nothing, () => {
    const authors = new Map();
    for (const { jws } of entries) if (!decodeEntry(jws, authors).ok) throw new Error("an entry has no form");
  });
  const bareJson = await timed(runs, nothing, () => {
    for (const { jws } of entries) JSON.parse(Buffer.from(jws.split(".")[1] ?? "", "base64url").toString());
  });

  const verifier = createVerifier();
  for (const { key } of signers) verifier.learn(key as never);
  const verifying = await timed(runs, nothing, () =>
    sideBySide(entries, async ({ jws }, n) => {
      const { author } = (arrivals[n] as Arrival).entry;
      if (!(await verifier.verify(jws, author))) throw new Error("a signature does not hold");
    }),
  );
  const ed25519 = await timed(runs, nothing, () => bareVerify(bench, signers));

  const admitting = await timed(
    runs,
    () => createAdmission(book),
    (admission) => {
      const { all, fresh } = admission.take(arrivals);
      if (!all && fresh.length === 0) throw new Error("nobody was admitted");
    },
  );
  const bareMap = await timed(runs, nothing, () => new Map(arrivals.map((arrival) => [arrival.entry.id, arrival])));
  return [
    ...fromVault(of),
    of("screen and load the document", screening, "plain Yjs load of the same bytes", yjs),
    of("open envelopes", opening, "bare AES-GCM", bareGcm),
    of("hash ids", hashing, "bare SHA-256", bareSha),
    of("decode and check forms", decoding, "base64url and JSON.parse", bareJson),
    of("verify signatures", verifying, "bare Ed25519", ed25519, "2 x"),
    of("admit", admitting, "one Map of the ids", bareMap),
  ];
}

type Of = (what: string, ours: readonly number[], floor: string, times: readonly number[]) => Figure;

/** Vault records read from the disk, and put together to entries with no hashing. */
async function vaultTimes({ bench }: SignedBook, runs: number): Promise<(of: Of) => Figure[]> {
  const folder = await mkdtemp(join(tmpdir(), "sward-bench-"));
  try {
    const held = bench.entries.map(({ id, jws }, clock) => ({
      id,
      jws,
      understood: true,
      place: { client: 1, clock },
    }));
    const records = rewritten({
      entries: new Map(held.map((one) => [one.id, KeptEntry.ofText(one)])),
      unchecked: [],
      sealed: [],
      closed: [],
      unread: false,
      lodging: null,
    });
    const vault = await openLevelVault(join(folder, "vault"));
    await vault.replace(records);
    const loading = await timed(runs, nothing, async () => {
      if (readRecords(await vault.load()).entries.size !== held.length) throw new Error("the vault lost an entry");
    });
    await vault.close();
    const db = new ClassicLevel<string, string>(join(folder, "floor"));
    await db.open();
    await db.batch(records.map((record, n) => ({ type: "put" as const, key: String(n), value: encodeRecord(record) })));
    const bare = await timed(runs, nothing, async () => (await db.values().all()).map((text) => JSON.parse(text)));
    await db.close();
    const recalling = await timed(runs, nothing, () => {
      if (recallEntries(held).size !== held.length) throw new Error("an entry was not recalled");
    });
    const json = await timed(runs, nothing, () => {
      for (const { jws } of held) JSON.parse(Buffer.from(jws.split(".")[1] ?? "", "base64url").toString());
    });
    return (of) => [
      of("load the vault", loading, "the same bytes read from LevelDB, JSON.parse", bare),
      of("recall entries from their texts", recalling, "base64url and JSON.parse", json),
    ];
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
}
