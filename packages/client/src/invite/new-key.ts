/**
 * A device that must not write with its key any more, because the key is at work in two places or its chain has forked, takes a new one
 * and asks for it to be admitted. It needs no invitation: it has the book's secret, and by that alone finds the room in which such asks
 * lie, which every handicapper's device at its list of devices also looks into. What it already holds it keeps; so what is missing is one
 * entry, and that comes with the record.
 *
 *     keys   id, room and seal by HKDF-SHA-256 (RFC 5869) of the epoch's secret, salt "sward new keys" and the book,
 *            info "id 1", "meeting room 1", "seal 1"
 *     text   JWS typ "sward-new-key", signed by the old key, over {v: 1, old, ask}; `ask` is what any new device asks with (`ask.ts`)
 *
 * Whoever else has the old key can ask so too: that is why the codes are compared here as well, over the old key and the new.
 *
 * Rejected: admitting the new key with the old one (a thief would have done it first) and going on with the old one after a warning (the
 * next entry without a signal forks the chain).
 */
import type { BookId, KeyId, Result } from "@sward/core";
import { fail, keyIdOf, ok, PublicKey } from "@sward/core";
import { base64url } from "jose";
import * as z from "zod/mini";
import type { Book } from "../book/book.ts";
import type { TakeFault } from "../book/faults.ts";
import type { Pass } from "../desk/pass.ts";
import { bookPassOf } from "../desk/pass.ts";
import type { OptionsFor } from "../desk/settle.ts";
import { settleDevice } from "../desk/settle.ts";
import type { Epoch } from "../keys/book-keys.ts";
import type { Signer } from "../keys/signer.ts";
import { createSigner } from "../keys/signer.ts";
import type { Ask, OwnAsk } from "./ask.ts";
import { newAsk, readAsk } from "./ask.ts";
import type { InviteFault } from "./faults.ts";
import type { InvitationKeys } from "./invitation.ts";
import { readMessage, signMessage } from "./signed.ts";

export const NEW_KEY_TYP = "sward-new-key";

const NewKeyPayload = z.object({ v: z.literal(1), old: PublicKey(), ask: z.string().check(z.maxLength(4_000)) });

/** A device of the book, and what it asks with under its new key. */
export interface NewKeyAsk {
  readonly old: KeyId;
  readonly oldKey: PublicKey;
  readonly ask: Ask;
}

/** Where asks for new keys lie while the book is in this epoch. */
export async function newKeyRoom(book: BookId, { secret }: Epoch): Promise<InvitationKeys> {
  const text = (words: string) => new TextEncoder().encode(words);
  const material = await crypto.subtle.importKey("raw", secret.slice(), "HKDF", false, ["deriveBits", "deriveKey"]);
  const hkdf = (label: string) => ({
    name: "HKDF",
    hash: "SHA-256",
    salt: text(`sward new keys ${book}`),
    info: text(`${label} 1`),
  });
  const bytes = async (label: string) => new Uint8Array(await crypto.subtle.deriveBits(hkdf(label), material, 256));
  const gcm = { name: "AES-GCM", length: 256 };
  return {
    id: base64url.encode(await bytes("id")),
    room: await createSigner(await bytes("meeting room")),
    seal: await crypto.subtle.deriveKey(hkdf("seal"), material, gcm, false, ["encrypt", "decrypt"]),
  };
}

/** The epoch a book is in, whose room is looked into. */
export function epochNow({ epochs }: Pick<Book, "epochs">): Epoch {
  const [first, ...rest] = epochs();
  if (first === undefined) throw new Error("a book has at least one epoch");
  return rest.reduce((newest, epoch) => (epoch.epoch > newest.epoch ? epoch : newest), first);
}

export interface OwnNewKey {
  readonly own: OwnAsk;
  /** As it lies in the room. */
  readonly text: string;
}

export async function askForNewKey(
  old: Signer,
  { id }: Pick<InvitationKeys, "id">,
  label: string,
  randomBytes: (count: number) => Uint8Array,
): Promise<OwnNewKey> {
  const own = await newAsk(id, label, randomBytes);
  return { own, text: await signMessage(old, NEW_KEY_TYP, { v: 1, old: old.key, ask: own.ask.text }) };
}

/** Both signatures checked. Never throws. */
export async function readNewKeyAsk(text: string, id: string): Promise<Result<NewKeyAsk, InviteFault>> {
  const read = await readMessage(text, { typ: NEW_KEY_TYP, shape: NewKeyPayload, keyOf: ({ old }) => old });
  if (!read.ok) return read;
  const ask = await readAsk(read.value.ask, id);
  return ask.ok ? ok({ old: keyIdOf(read.value.old), oldKey: read.value.old, ask: ask.value }) : ask;
}

/** The asks in the room of devices of this book, whose new key nobody has admitted. */
export async function newKeyAsksIn(
  texts: readonly string[],
  id: string,
  { state }: Pick<Book, "state">,
): Promise<readonly NewKeyAsk[]> {
  const { devices } = state();
  const asks: NewKeyAsk[] = [];
  for (const text of texts) {
    const read = await readNewKeyAsk(text, id);
    if (!read.ok || devices.has(read.value.ask.device)) continue;
    const role = devices.get(read.value.old)?.role;
    if (role !== undefined && role !== "root") asks.push(read.value);
  }
  return asks;
}

export type NewKeyFault = { readonly type: "new-key-not-admitted" } | TakeFault;

/** What the device is from now on: its new key, and all that it held under the old one. Durable when it resolves well. */
export async function becomeNewKey(
  { own }: OwnNewKey,
  label: string,
  { club, leagues }: { readonly club: Book; readonly leagues: readonly Book[] },
  optionsFor: OptionsFor,
): Promise<Result<Pass, NewKeyFault>> {
  const { device } = own.ask;
  if (!club.state().devices.has(device)) return fail({ type: "new-key-not-admitted" });
  const joined = leagues.filter((league) => league.state().devices.has(device));
  const pass: Pass = {
    v: 1,
    label,
    seed: base64url.encode(own.seed),
    club: bookPassOf(club),
    leagues: joined.map(bookPassOf),
  };
  const record = { entries: [...club.entries()].map(({ jws }) => jws), names: club.roster.envelopes() };
  const settled = await settleDevice(pass, record, optionsFor);
  return settled.ok ? ok(pass) : settled;
}
