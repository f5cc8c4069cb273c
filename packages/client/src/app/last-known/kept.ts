/**
 * Where what was last known is kept, and a checkpoint: a database of its own with two values, which may be lost at any time. With what was
 * last known go the keys that open the vault's copy of the roster, in a form the browser keeps and hands out to nobody, this app included.
 * What is in that copy was checked before it was put there, so that no signature is checked again.
 */
import type { BookId, KeyId, PlayerId } from "@sward/core";
import type { DBSchema } from "idb";
import type { Book } from "../../book/book.ts";
import type { Checkpoint } from "../../book/checkpoint.ts";
import type { KeptDb } from "../../book/idb-open.ts";
import { openKept } from "../../book/idb-open.ts";
import type { RosterRecord } from "../../book/roster.ts";
import { readRecord } from "../../book/roster.ts";
import { openEnvelope } from "../../book/seal.ts";
import type { RosterCopy, Vault } from "../../book/vault.ts";
import { breathe } from "../../desk/breathe-here.ts";
import { deriveEpochs } from "../../keys/book-keys.ts";
import type { LastKnown } from "./last-known.ts";

/** The same for all browsers that have the same app, and another one when a rule or a line of it changes. */
const CODE: string = import.meta.env.SWARD_CODE ?? "unbuilt";

interface Kept extends LastKnown {
  readonly code: string;
  /** When this was so, by this device's clock: RFC 3339. */
  readonly at: string;
  readonly seals: ReadonlyMap<number, { readonly seal: CryptoKey; readonly alsoOpens?: readonly CryptoKey[] }>;
}

export interface ShownLastKnown extends LastKnown {
  readonly at: string;
  readonly named: ReadonlyMap<PlayerId, RosterRecord>;
}

interface KeptCheckpoint extends Checkpoint {
  readonly code: string;
}

interface Schema extends DBSchema {
  /** Under `it` what is shown, under `checkpoint` what a start need not work out again. */
  readonly known: { readonly key: "it" | "checkpoint"; readonly value: Kept | KeptCheckpoint };
}

/** Opened for one thing and closed again: it is read once and written seldom. */
async function withDb<T>(device: KeyId, book: BookId, run: Parameters<KeptDb<Schema>["run"]>[0]): Promise<T> {
  const db = await openKept<Schema>(`sward/${device}/${book}/last-known`, {
    version: 1,
    upgrade: (fresh) => void fresh.createObjectStore("known"),
    givenUp: () => undefined,
  });
  try {
    return (await db.run(run)) as T;
  } finally {
    db.close();
  }
}

/** Null where nothing is kept, or other code has kept it. */
export async function readLastKnown(
  device: KeyId,
  book: BookId,
  vault: Pick<Vault, "loadRoster">,
): Promise<ShownLastKnown | null> {
  const kept = await readKept<Kept>(device, book, "it");
  if (kept === null) return null;
  const named = await namesIn(await vault.loadRoster(), book, kept.seals);
  const { name, entries, rows, groups, at } = kept;
  return { name, entries, rows, groups, at, named };
}

async function readKept<T extends Kept | KeptCheckpoint>(
  device: KeyId,
  book: BookId,
  key: Schema["known"]["key"],
): Promise<T | null> {
  const kept = await withDb<T | undefined>(device, book, (db) => db.get("known", key));
  return kept?.code === CODE ? kept : null;
}

export const readCheckpoint = (device: KeyId, book: BookId): Promise<Checkpoint | null> =>
  readKept<KeptCheckpoint>(device, book, "checkpoint");

/** Unless the one that is kept does as well. */
export async function keepCheckpoint(book: Book): Promise<void> {
  const made = await book.checkpoint();
  if (made === null) return;
  await withDb(book.device, book.id, (db) => db.put("known", { ...made, code: CODE }, "checkpoint"));
}

/** @param at this moment, RFC 3339 */
export async function keepLastKnown(book: Book, known: LastKnown, at: string): Promise<void> {
  const { byNumber } = await deriveEpochs(book.id, book.epochs());
  const seals: Kept["seals"] = new Map(
    [...byNumber].map(([epoch, { seal, alsoOpens }]) => [epoch, { seal, ...(alsoOpens && { alsoOpens }) }]),
  );
  const kept: Kept = { ...known, code: CODE, at, seals };
  await withDb(book.device, book.id, (db) => db.put("known", kept, "it"));
}

/** What has no name in it, such as a word of an erasure, is passed over. */
async function namesIn(copy: RosterCopy, book: BookId, seals: Kept["seals"]): Promise<Map<PlayerId, RosterRecord>> {
  const named = new Map<PlayerId, RosterRecord>();
  const opening = [...copy].map(([about, envelope]) => ({
    about,
    texts: openEnvelope(book, (epoch) => seals.get(epoch), envelope),
  }));
  for (const { about, texts: opened } of opening) {
    const texts = await opened;
    const record = Array.isArray(texts) ? readRecord(String(texts[0]), book, about) : null;
    if (record?.ok === true) named.set(about as PlayerId, record.value.value);
    const breath = breathe();
    if (breath !== null) await breath;
  }
  return named;
}
