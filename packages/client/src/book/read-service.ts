/**
 * Reading envelopes for somebody in another thread: opened, decoded, hashed, signatures checked. The code is what a page would do it with
 * (`seal.ts`, core's `decodeEntry`, `verifier.ts`), so that it makes no difference to the record where it was read; but for the hash,
 * which here the platform may make, and for the bytes that are hashed and signed, which are those that came out of the envelope. The key
 * that opens them cannot be looked at even here: a `CryptoKey` is handed over as such.
 *
 * What is answered of a signature is "good", "forged", or "untried" where no key for it has been seen yet; that is not final, since
 * whoever asks may have seen one.
 */
import type { BookId, Entry, EntryId, KeyId, PublicKey } from "@sward/core";
import { decodeEntry } from "@sward/core";
import { base64url } from "jose";
import type { Ed25519 } from "../keys/ed25519.ts";
import type { Verifier } from "../keys/verifier.ts";
import { createVerifier } from "../keys/verifier.ts";
import { openPlain, textsOf } from "./seal.ts";
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
  /** The whole text; of an understood entry whose signature is good that signature alone, for the rest says what the entry says. */
  readonly text: string;
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
  /** Keys that were handed over before: all of them come each time, and a key's id is a hash. */
  readonly offered: Set<PublicKey>;
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
      session = { ...asked, ids, verifier: createVerifier(curve), authors: new Map(), offered: new Set() };
    } else if (session !== null) {
      // Opened side by side, read in the order asked: what states a key comes before what it signs.
      const reading = read(asked, session, before);
      before = reading;
      void reading.then((check) => check()).then(answer);
    }
  };
}

/** One text of an envelope. Its signing input is there as bytes where it has the form of one, and then hashed by the platform. */
interface OpenedText {
  readonly at: number;
  readonly jws: string;
  readonly signed: { readonly input: Uint8Array<ArrayBuffer>; readonly digest: EntryId } | null;
}

async function openAll({ bytes, lengths }: ReadAsk, { book, seals }: Session): Promise<readonly OpenedText[]> {
  const keysOf = (epoch: number) => {
    const [seal, ...alsoOpens] = seals.get(epoch) ?? [];
    return seal === undefined ? undefined : { seal, alsoOpens };
  };
  let to = 0;
  const all = await Promise.all(
    lengths.map(async (length, at) => {
      to += length;
      const plain = await openPlain(book, keysOf, bytes.subarray(to - length, to));
      return "type" in plain ? [] : Promise.all(textsIn(plain, at));
    }),
  );
  return all.flat();
}

function textsIn(plain: Uint8Array<ArrayBuffer>, at: number): Promise<OpenedText>[] {
  const texts = textsOf(plain);
  // An entry's text is ASCII, a byte for a character; what is not is none, and `decodeEntry` says so.
  const isAscii = texts.reduce((sum, { length }) => sum + length + 1, 0) === plain.length;
  let from = 0;
  return texts.map(async (jws) => {
    const begins = from;
    from += jws.length + 1;
    const length = jws.lastIndexOf(".");
    if (!isAscii || length === -1) return { at, jws, signed: null };
    const input = plain.subarray(begins, begins + length);
    const hash = new Uint8Array(await crypto.subtle.digest("SHA-256", input));
    return { at, jws, signed: { input, digest: base64url.encode(hash) as EntryId } };
  });
}

type Decoded = OpenedText & Pick<ReadText, "entry">;

function decodeAll(
  opened: readonly OpenedText[],
  keys: readonly PublicKey[],
  { verifier, authors, offered }: Session,
): readonly Decoded[] {
  for (const key of keys) {
    if (!offered.has(key)) verifier.offer(key);
    offered.add(key);
  }
  return opened.map((text) => {
    const { jws, signed } = text;
    const decoded = signed === null ? decodeEntry(jws, authors) : decodeEntry(jws, authors, () => signed.digest);
    const entry = decoded.ok ? decoded.value : null;
    if (entry?.understood) for (const key of keysIn(entry)) verifier.offer(key);
    return { ...text, entry };
  });
}

async function checked({ at, jws, entry, signed }: Decoded, { ids, verifier }: Session): Promise<ReadText> {
  if (entry === null || ids.has(entry.id) || !verifier.canTry(entry.author))
    return { at, text: jws, entry, signature: "untried" };
  // What was decoded has the form of a compact JWS, with a header that has one form only, so nothing is left to be looked at.
  const isGood =
    signed === null
      ? await verifier.verify(jws, entry.author)
      : await verifier.verifyInput(jws.slice(signed.input.length + 1), signed.input, entry.author);
  const text = isGood && entry.understood ? jws.slice(jws.lastIndexOf(".") + 1) : jws;
  return { at, text, entry, signature: isGood ? "good" : "forged" };
}

/** What `ReadBegin` says of entries that are held. */
export const heldIds = (ids: Iterable<EntryId>): string => [...ids].join("");
