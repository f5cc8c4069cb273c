/**
 * A club begins here. Its root key is made of a root seed, which people keep as words on paper (`keys/recovery.ts`); the book is named
 * by that key, and everything else that must be found again follows from the seed:
 *
 *     root seed (32 bytes = 24 words)  ──Ed25519──▶  root key ──thumbprint──▶ book
 *     root seed ──HKDF-SHA-256 (RFC 5869), salt "sward root seed", info "sward book secret 1", 32 bytes──▶ secret of epoch 0
 *
 * So the words alone name the rooms at a relay and open what is in them. The root signs three entries (the opening, the rules, the
 * admission of this device as handicapper) and is not needed again until a handicapper is to be barred or every device is lost;
 * therefore it is not kept on the device, unless the person wants it there. Works with no relay: whatever is written here is sent when one is met.
 *
 * Rejected: a random secret for epoch 0 (words could not find the rooms, and two papers would have to be kept) and a root that stays on
 * the founder's device (whoever has the device has the club).
 */
import type { BookId, Day, Draft, Result } from "@sward/core";
import { ok } from "@sward/core";
import { base64url } from "jose";
import { openBook } from "../book/book.ts";
import { createMemoryDocStore } from "../book/doc-store.ts";
import type { AppendFault, TakeFault } from "../book/faults.ts";
import type { Clock } from "../book/options.ts";
import type { RosterRecord, RosterSubject } from "../book/roster.ts";
import { createMemoryVault } from "../book/vault-memory.ts";
import type { Signer } from "../keys/signer.ts";
import { createSigner, SEED_BYTES } from "../keys/signer.ts";
import type { BookPass, Pass } from "./pass.ts";
import { epochsOf } from "./pass.ts";
import { ENTRIES_PER_BLOCK } from "./platform.ts";
import type { CarriedRecord, OptionsFor } from "./settle.ts";
import { settleDevice } from "./settle.ts";

export interface ClubToFound {
  /** A league begins in the same way (`league-office.ts`). */
  readonly as?: "club" | "league";
  readonly name: string;
  /** Id of a rule set, in force from the day. */
  readonly rules: string;
  readonly from: Day;
}

/** The device that founds or recovers, and whose it is. */
export interface FirstDevice {
  /** Such as "Ines's laptop". */
  readonly label: string;
  readonly holder: RosterRecord;
}

export interface FoundDeps {
  readonly clock: Clock;
  readonly randomBytes: (count: number) => Uint8Array;
  readonly optionsFor: OptionsFor;
}

export interface RootOfClub {
  readonly root: Signer;
  readonly club: BookPass;
}

/** The root key of a seed, its book, and what opens it from its first epoch. */
export async function rootOf(rootSeed: Uint8Array): Promise<RootOfClub> {
  const root = await createSigner(rootSeed);
  const material = await crypto.subtle.importKey("raw", rootSeed.slice(), "HKDF", false, ["deriveBits"]);
  const text = (words: string) => new TextEncoder().encode(words);
  const hkdf = { name: "HKDF", hash: "SHA-256", salt: text("sward root seed"), info: text("sward book secret 1") };
  const secret = new Uint8Array(await crypto.subtle.deriveBits(hkdf, material, 256));
  const book = root.id as string as BookId;
  return { root, club: { book, epochs: [{ epoch: 0, secret: base64url.encode(secret) }] } };
}

export interface FoundedClub {
  readonly pass: Pass;
  /** The root as a device of its own, where the person chose to keep it here. */
  readonly rootPass: Pass | null;
}

/** Writes the club's first entries into this device's own storage; resolves well when they are durable. */
export async function foundClub(
  rootSeed: Uint8Array,
  club: ClubToFound,
  first: FirstDevice,
  /** What the root is called among this browser's devices, or null: its seed is kept nowhere. */
  rootLabel: string | null,
  deps: FoundDeps,
): Promise<Result<FoundedClub, AppendFault | TakeFault>> {
  const found = await rootOf(rootSeed);
  const { pass, device } = await newDevice(first.label, found.club, deps.randomBytes);
  const drafts: readonly Draft[] = [
    { kind: "book-opened", body: { root: found.root.key, as: club.as ?? "club", name: club.name } },
    { kind: "rules-adopted", body: { rules: club.rules, from: club.from } },
    { kind: "device-admitted", body: { device: device.key, role: "handicapper" } },
  ];
  const written = await writeAsRoot(found, drafts, new Map([[device.id, deviceRecord(first)]]), deps);
  if (!written.ok) return written;
  const rootPass = rootLabel === null ? null : passOf(rootLabel, rootSeed, found.club);
  for (const one of rootPass === null ? [pass] : [pass, rootPass]) {
    const settled = await settleDevice(one, written.value, deps.optionsFor);
    if (!settled.ok) return settled;
  }
  return ok({ pass, rootPass });
}

/** A key made here and now, and the pass of the device that has it. */
export async function newDevice(
  label: string,
  club: BookPass,
  randomBytes: (count: number) => Uint8Array,
): Promise<{ readonly device: Signer; readonly pass: Pass }> {
  const seed = randomBytes(SEED_BYTES);
  return { device: await createSigner(seed), pass: passOf(label, seed, club) };
}

const passOf = (label: string, seed: Uint8Array, club: BookPass): Pass => ({
  v: 1,
  label: label.slice(0, 80),
  seed: base64url.encode(seed),
  club,
  leagues: [],
});

/** What the roster says of a device: whose it is, and which. */
export const deviceRecord = ({ label, holder }: FirstDevice): RosterRecord => ({
  ...holder,
  device: label.slice(0, 60),
});

/** One by one, since a draft needs what the one before it made true. */
export async function writeAsRoot(
  { root, club }: RootOfClub,
  drafts: readonly Draft[],
  names: ReadonlyMap<RosterSubject, RosterRecord>,
  { clock, randomBytes }: FoundDeps,
): Promise<Result<CarriedRecord, AppendFault>> {
  const book = await openBook({ ...rootOptions(root, club), freshKey: true, relay: null, clock, randomBytes });
  try {
    for (const draft of drafts) {
      const saved = await book.append([draft]);
      if (!saved.ok) return saved;
    }
    await book.roster.write(names);
    return ok({ entries: [...book.entries()].map(({ jws }) => jws), names: book.roster.envelopes() });
  } finally {
    await book.close();
  }
}

/** A root at work keeps nothing: what it writes is kept by a device. */
export const rootOptions = (root: Signer, club: BookPass) => ({
  book: club.book,
  device: root,
  epochs: epochsOf(club),
  vault: createMemoryVault(),
  ledgerStore: createMemoryDocStore(),
  rosterStore: createMemoryDocStore(),
  entriesPerBlock: ENTRIES_PER_BLOCK,
});
