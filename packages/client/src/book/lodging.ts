/** Where a device is at home, as its vault says it: the room, and the secrets it was given since it got its pass. */
import { base64url } from "jose";
import type { Epoch } from "../keys/book-keys.ts";
import type { Lodging, Vault, VaultRecord } from "./vault.ts";
import { readRecords, rewritten } from "./vault.ts";

export const lodgingIn = (records: readonly VaultRecord[]): Lodging | null =>
  records.findLast(({ lodging }) => lodging !== undefined)?.lodging ?? null;

export const epochsOfLodging = (lodging: Lodging | null): readonly Epoch[] =>
  (lodging?.epochs ?? []).map(({ epoch, secret }) => ({ epoch, secret: base64url.decode(secret) }));

/** Moves into another room, at once or not at all: from here on no entry has a place in its documents, and it has one volume. */
export async function lodge(vault: Vault, lodging: Lodging): Promise<void> {
  const contents = readRecords(await vault.load());
  const entries = new Map([...contents.entries].map(([id, entry]) => [id, entry.at(null)]));
  await vault.replace(rewritten({ ...contents, entries, sealed: [], closed: [], lodging }));
}
