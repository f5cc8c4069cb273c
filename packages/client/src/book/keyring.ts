/**
 * The secrets a device has of a book, and which epoch it writes in. Secrets come with the pass, and in boxes of entries that open an
 * epoch (core's `authority/epochs.ts`); a box is tried whoever's entry it is in, so long as he is an officer, since what it holds can be
 * checked: the room made of it must be the one the entry names.
 *
 * A device never goes back to an epoch with a lower number: it would take along what a device barred since then may not read. Where an
 * epoch has lost its standing those who are in it stay until the next one. And where an opening waits for earlier entries of its author,
 * the room it leads to is where they are.
 */
import type { BookId, BookState, Counted, EntryOf, KeyId, PublicKey, StandingEpoch } from "@sward/core";
import { byCodeUnits, byNumber, epochInForce, settleEpochs } from "@sward/core";
import { base64url } from "jose";
import type { Epoch } from "../keys/book-keys.ts";
import { deriveEpoch } from "../keys/book-keys.ts";
import type { Signer } from "../keys/signer.ts";
import { createRecall } from "./recall.ts";
import type { HeldEntry, Lodging } from "./vault.ts";

/** A secret and the room made of it. */
export interface HeldSecret extends Epoch {
  readonly room: PublicKey;
}

/** Entries that open an epoch, and what they come to. */
export interface Openings {
  /** Of officers, whether they count or not. */
  readonly all: readonly EntryOf<"epoch-opened">[];
  readonly standing: readonly StandingEpoch[];
  /** Rooms that an officer's entry names which does not count yet, for want of an earlier one. */
  readonly comingRooms: ReadonlySet<PublicKey>;
}

export interface Keyring {
  readonly secrets: () => readonly HeldSecret[];
  has(room: PublicKey): boolean;
  /** Opens boxes not tried before; true when a secret has come. */
  learn(openings: Openings): Promise<boolean>;
  /** The room to write in, for a device that writes in `now`. */
  roomFor(openings: Openings, now: PublicKey): PublicKey;
  /** Secrets for a new device: not those beyond the epoch it is to write in. */
  handedOver(room: PublicKey): readonly Epoch[];
  /** To be kept in the vault. */
  lodging(room: PublicKey): Lodging;
}

export async function createKeyring(
  book: BookId,
  device: Signer,
  passed: readonly Epoch[],
  lodging: Lodging | null,
): Promise<Keyring> {
  const held = new Map<PublicKey, HeldSecret>();
  const tried = new Set<string>();
  const fromPass = new Set<PublicKey>();
  for (const epoch of passed) fromPass.add((await add(epoch)).room);
  for (const { epoch, secret } of lodging?.epochs ?? []) await add({ epoch, secret: base64url.decode(secret) });

  async function add(epoch: Epoch): Promise<HeldSecret> {
    const { room } = await deriveEpoch(book, epoch);
    const secret = { ...epoch, room };
    held.set(room, secret);
    return secret;
  }

  return {
    secrets: () => [...held.values()],
    has: (room) => held.has(room),
    async learn({ all }) {
      let learnt = false;
      for (const { body } of all) {
        for (const { to, box } of body.boxes) {
          if (to !== device.id || tried.has(box)) continue;
          tried.add(box);
          if (held.has(body.room)) continue;
          const secret = await device.unseal(box);
          if (secret?.length !== 32) continue;
          const { room } = await deriveEpoch(book, { epoch: body.number, secret });
          if (room !== body.room) continue;
          held.set(room, { epoch: body.number, secret, room });
          learnt = true;
        }
      }
      return learnt;
    },
    roomFor({ standing, comingRooms }, now) {
      const here = held.get(now)?.epoch ?? 0;
      const inForce = epochInForce(standing, (room) => held.has(room));
      if (inForce !== null && inForce.number >= here) return inForce.room;
      const coming = [...comingRooms].flatMap((room) => held.get(room) ?? []).filter(({ epoch }) => epoch > here);
      return coming.sort((a, b) => byNumber(b.epoch, a.epoch) || byCodeUnits(a.room, b.room))[0]?.room ?? now;
    },
    handedOver(room) {
      const upTo = held.get(room)?.epoch ?? 0;
      return [...held.values()]
        .filter((one) => one.epoch < upTo || one.room === room)
        .sort((a, b) => a.epoch - b.epoch)
        .map(({ epoch, secret }) => ({ epoch, secret }));
    },
    lodging: (room) => ({
      room,
      epochs: [...held.values()]
        .filter((one) => !fromPass.has(one.room))
        .map(({ epoch, secret }) => ({ epoch, secret: base64url.encode(secret) })),
    }),
  };
}

export interface OpeningSources {
  /** All that is held. */
  readonly entries: Iterable<HeldEntry>;
  readonly counted: Iterable<Counted>;
  readonly state: Pick<BookState, "book" | "devices" | "uncounted">;
}

/**
 * Reads a book's openings: for when something came that may change them. Most books have none, and then nothing is asked of what counts
 * and what does not, which is a walk over all there is and a twentieth of a second of a phone's start.
 */
export function openingsIn({ entries, counted, state }: OpeningSources): Openings {
  const recall = createRecall();
  const held: EntryOf<"epoch-opened">[] = [];
  for (const one of entries) {
    const entry = recall(one);
    if (entry?.understood === true && entry.kind === "epoch-opened" && entry.book === state.book) held.push(entry);
  }
  if (held.length === 0) return { all: [], standing: [], comingRooms: new Set() };
  const counting: EntryOf<"epoch-opened">[] = [];
  for (const { entry, origin } of counted) {
    if (entry.kind === "epoch-opened" && origin === state.book) counting.push(entry);
  }
  const others: EntryOf<"epoch-opened">[] = [];
  const comingRooms = new Set<PublicKey>();
  for (const entry of held) {
    const reason = state.uncounted.get(entry.id);
    if (reason === undefined || !isOfficerOf(state, entry.author)) continue;
    others.push(entry);
    if (reason === "waiting-for-earlier") comingRooms.add(entry.body.room);
  }
  return { all: [...counting, ...others], standing: settleEpochs(counting), comingRooms };
}

const isOfficerOf = ({ devices }: Pick<BookState, "devices">, author: KeyId): boolean => {
  const role = devices.get(author)?.role;
  return role === "root" || role === "handicapper";
};
