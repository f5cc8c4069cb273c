/**
 * The demo clubs' writings as signed entries: each device with its key and its own chain, each book in the order written. A
 * league's book is signed before its clubs', since they carry from it. The same files give the same bytes every time (Ed25519
 * signatures are deterministic), so two people who start the demo have the same records.
 */
import type { Arrival, BookId, Draft, EntryId, KeyId, Ledger, PublicKey } from "@sward/core";
import { cardToSign, createLedger, decodeEntry } from "@sward/core";
import { openCarried } from "../book/stated.ts";
import type { Signer } from "../keys/signer.ts";
import { createSigner } from "../keys/signer.ts";
import { createVerifier } from "../keys/verifier.ts";
import { demoSeed } from "./demo-ids.ts";
import type { DemoBook, DemoWorld, DeviceRef, Known, Writing, WritingRef } from "./world.ts";

export interface SignedBook {
  readonly demo: DemoBook;
  readonly book: BookId;
  /** In the order written. */
  readonly entries: readonly { readonly id: EntryId; readonly jws: string; readonly device: DeviceRef }[];
  /** The ledger that holds them all. */
  readonly ledger: Ledger;
}

export interface SignedDemo {
  readonly clubs: readonly SignedBook[];
  readonly leagues: readonly SignedBook[];
  readonly signers: ReadonlyMap<DeviceRef, Signer>;
}

export async function signDemo(world: DemoWorld): Promise<SignedDemo> {
  const signers = new Map<DeviceRef, Signer>();
  for (const { devices } of [...world.leagues, ...world.clubs]) {
    for (const { ref } of devices) signers.set(ref, await createSigner(demoSeed(ref)));
  }
  const done = new Map<string, SignedBook>();
  for (const demo of [...world.leagues, ...world.clubs]) done.set(demo.slug, await signBook(demo, signers, done));
  const signed = ({ slug }: DemoBook): SignedBook => done.get(slug) as SignedBook;
  return { clubs: world.clubs.map(signed), leagues: world.leagues.map(signed), signers };
}

async function signBook(
  demo: DemoBook,
  signers: ReadonlyMap<DeviceRef, Signer>,
  done: ReadonlyMap<string, SignedBook>,
): Promise<SignedBook> {
  const signerOf = (ref: DeviceRef): Signer => found(signers.get(ref), ref);
  const book = signerOf(`${demo.slug}/root`).id as string as BookId;
  const ledger = createLedger(book);
  const verifier = createVerifier();
  const entries: { id: EntryId; jws: string; device: DeviceRef }[] = [];
  const byRef = new Map<WritingRef, EntryId>();
  const known: Known = {
    entry: (ref) => found(byRef.get(ref), ref),
    key: (device) => signerOf(device).key,
    book: (slug) => signerOf(`${slug}/root`).id as string as BookId,
  };
  for (const writing of demo.writings) {
    const signer = signerOf(writing.device);
    const { kind, body } = draftOf(writing, known, ledger, done, signers);
    const { seq, prev } = ledger.next(signer.id);
    const payload = { v: 1, book, seq, prev, at: writing.at, kind, body: body as Record<string, unknown> };
    const jws = await signer.signEntry(payload);
    const decoded = decodeEntry(jws);
    if (!decoded.ok) throw new Error(`${writing.ref} does not decode: ${decoded.fault.type}`);
    const arrival: Arrival = await openCarried(decoded.value, verifier);
    ledger.add([arrival]);
    byRef.set(writing.ref, decoded.value.id);
    entries.push({ id: decoded.value.id, jws, device: writing.device });
  }
  return { demo, book, entries, ledger };
}

function draftOf(
  { says, ref }: Writing,
  known: Known,
  ledger: Ledger,
  done: ReadonlyMap<string, SignedBook>,
  signers: ReadonlyMap<DeviceRef, Signer>,
): Draft {
  switch (says.how) {
    case "draft":
      return says.draft(known);
    case "signature": {
      const card = found(ledger.state().cards.get(says.player), ref);
      const signed = found(cardToSign(card, says.upto), ref);
      return { kind: "card-signed", body: { player: says.player, ...signed } };
    }
    case "carry": {
      const league = found(done.get(says.league), says.league);
      const entry = found(
        league.entries.find((_, place) => league.demo.writings[place]?.ref === says.carries),
        says.carries,
      );
      const key = keyOf(found(league.ledger.entry(entry.id), says.carries).author, signers);
      return { kind: "entry-carried", body: { from: league.book, key, entry: entry.jws } };
    }
  }
}

function keyOf(author: KeyId, signers: ReadonlyMap<DeviceRef, Signer>): PublicKey {
  for (const { id, key } of signers.values()) if (id === author) return key;
  throw new Error(`no demo device has the key ${author}`);
}

/** The files were checked when they were read: what they name is there. */
function found<T>(value: T | null | undefined, name: string): T {
  if (value === null || value === undefined) throw new Error(`the demo has no ${name}`);
  return value;
}
