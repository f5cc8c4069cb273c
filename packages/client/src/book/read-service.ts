/**
 * Reading envelopes for somebody in another thread: opened, decoded, hashed, signatures checked. The code is what a page would do it with
 * (`seal.ts`, core's `decodeEntry`, `verifier.ts`), so that it makes no difference to the record where it was read. The key that opens
 * them cannot be looked at even here: a `CryptoKey` is handed over as such.
 *
 * What is answered of a signature is "good", "forged", or "untried" where no key for it has been seen yet; that is not final, since
 * whoever asks may have seen one.
 */
import type { BookId, Entry, EntryId, KeyId, PublicKey } from "@sward/core";
import { decodeEntry } from "@sward/core";
import type { Ed25519 } from "../keys/ed25519.ts";
import type { Verifier } from "../keys/verifier.ts";
import { createVerifier } from "../keys/verifier.ts";
import type { OpenFault } from "./seal.ts";
import { openEnvelope } from "./seal.ts";
import { keysIn } from "./stated.ts";

/** Comes before what is to be read for a book. */
export interface ReadBegin {
  readonly book: BookId;
  /** By the epoch's number, the keys that may open it. */
  readonly seals: ReadonlyMap<number, readonly CryptoKey[]>;
  /** Ids of entries that were checked before, one after another: their signatures are left alone. */
  readonly held: string;
}

export interface ReadAsk {
  readonly read: number;
  /** Keys that signatures may be tried with. */
  readonly keys: readonly PublicKey[];
  /** Envelopes, one after another, and how long each is. */
  readonly bytes: Uint8Array<ArrayBuffer>;
  readonly lengths: readonly number[];
}

export interface ReadText {
  /** Which envelope it was in. */
  readonly at: number;
  readonly jws: string;
  /** Null when it is none. */
  readonly entry: Entry | null;
  readonly signature: "good" | "forged" | "untried";
}

export interface ReadAnswer {
  readonly read: number;
  readonly texts: readonly ReadText[];
}

/** Characters of an entry's id. */
const ID_LENGTH = 43;

interface Session extends ReadBegin {
  readonly ids: ReadonlySet<string>;
  readonly verifier: Verifier;
  readonly authors: Map<string, KeyId>;
}

/** Answers what is asked; a service for one book after another. Never throws. */
export function serveReads(
  curve: () => Promise<Ed25519>,
  answer: (answer: ReadAnswer) => void,
): (asked: ReadBegin | ReadAsk) => void {
  let session: Session | null = null;
  let before: Promise<unknown> = Promise.resolve();

  async function read(asked: ReadAsk, of: Session, readBefore: Promise<unknown>): Promise<() => Promise<ReadAnswer>> {
    const opened = await openAll(asked, of);
    await readBefore;
    const texts = decodeAll(opened, asked.keys, of);
    return async () => ({ read: asked.read, texts: await Promise.all(texts.map((text) => checked(text, of))) });
  }

  return (asked) => {
    if ("book" in asked) {
      const ids = new Set<string>();
      for (let at = 0; at < asked.held.length; at += ID_LENGTH) ids.add(asked.held.slice(at, at + ID_LENGTH));
      session = { ...asked, ids, verifier: createVerifier(curve), authors: new Map() };
    } else if (session !== null) {
      // Opened side by side, read in the order asked: what states a key comes before what it signs.
      const reading = read(asked, session, before);
      before = reading;
      void reading.then((check) => check()).then(answer);
    }
  };
}

type Opened = readonly (readonly string[] | OpenFault)[];

function openAll({ bytes, lengths }: ReadAsk, { book, seals }: Session): Promise<Opened> {
  const keysOf = (epoch: number) => {
    const [seal, ...alsoOpens] = seals.get(epoch) ?? [];
    return seal === undefined ? undefined : { seal, alsoOpens };
  };
  let to = 0;
  return Promise.all(
    lengths.map((length) => {
      to += length;
      return openEnvelope(book, keysOf, bytes.subarray(to - length, to));
    }),
  );
}

function decodeAll(
  opened: Opened,
  keys: readonly PublicKey[],
  { verifier, authors }: Session,
): Omit<ReadText, "signature">[] {
  for (const key of keys) verifier.offer(key);
  const texts: Omit<ReadText, "signature">[] = [];
  for (const [at, found] of opened.entries()) {
    if ("type" in found) continue;
    for (const jws of found) {
      const decoded = decodeEntry(jws, authors);
      const entry = decoded.ok ? decoded.value : null;
      if (entry?.understood) for (const key of keysIn(entry)) verifier.offer(key);
      texts.push({ at, jws, entry });
    }
  }
  return texts;
}

async function checked(text: Omit<ReadText, "signature">, { ids, verifier }: Session): Promise<ReadText> {
  const { jws, entry } = text;
  if (entry === null || ids.has(entry.id) || !verifier.canTry(entry.author)) return { ...text, signature: "untried" };
  return { ...text, signature: (await verifier.verify(jws, entry.author)) ? "good" : "forged" };
}

/** What `ReadBegin` says of entries that are held. */
export const heldIds = (ids: Iterable<EntryId>): string => [...ids].join("");
