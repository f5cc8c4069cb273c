/**
 * The demo clubs' writings put into core's ledger, book by book. Core does not check signatures, so none are made: what stands in
 * for a public key is a digest of the device's name, and everything else about an entry is what it would be.
 */

import type { DemoBook, DemoWorld, DeviceRef, Known, Writing, WritingRef } from "@sward/client/demo";
import { readDemo } from "@sward/client/demo";
import type { Arrival, BookId, Draft, EntryId, Ledger, Payload, PublicKey } from "@sward/core";
import { cardToSign, createLedger, decodeEntry, digestOf, keyIdOf, signingInput } from "@sward/core";
import { base64url } from "jose";

export interface Written {
  readonly ledger: Ledger;
  readonly arrivals: readonly Arrival[];
  readonly jws: ReadonlyMap<WritingRef, string>;
  readonly idOf: ReadonlyMap<WritingRef, EntryId>;
  readonly refOf: ReadonlyMap<EntryId, WritingRef>;
}

const keyOf = (device: DeviceRef): PublicKey => digestOf(`public key of ${device}`) as string as PublicKey;
const bookOf = (slug: string): BookId => keyIdOf(keyOf(`${slug}/root`)) as string as BookId;

/** The books of these files; files with a fault are a fault of the test. */
export function booksFrom(files: ReadonlyMap<string, string>): ReadonlyMap<string, Written> {
  const read = readDemo(files);
  if (!read.ok) throw new Error(JSON.stringify(read.fault, null, 1));
  return writeBooks(read.value);
}

/** Leagues first: the clubs carry their reports. Each entry is added as it is written, so signatures sign what there was then. */
function writeBooks(world: DemoWorld): ReadonlyMap<string, Written> {
  const written = new Map<string, Written>();
  for (const league of world.leagues) written.set(league.slug, writeBook(league, written));
  for (const club of world.clubs) written.set(club.slug, writeBook(club, written));
  return written;
}

function writeBook(demo: DemoBook, others: ReadonlyMap<string, Written>): Written {
  const book = bookOf(demo.slug);
  const ledger = createLedger(book);
  const arrivals: Arrival[] = [];
  const jws = new Map<WritingRef, string>();
  const idOf = new Map<WritingRef, EntryId>();
  const known: Known = { entry: (ref) => held(idOf, ref), key: keyOf, book: bookOf };
  for (const writing of demo.writings) {
    const { kind, body } = draftOf(writing, known, ledger, others);
    const author = keyIdOf(keyOf(writing.device));
    const payload: Payload = { v: 1, book, ...ledger.next(author), at: writing.at, kind, body: { ...body } };
    const text = `${signingInput(author, payload)}.${base64url.encode(new Uint8Array(64))}`;
    const entry = decoded(text);
    const arrival: Arrival = kind === "entry-carried" ? { entry, carried: decoded(body.entry) } : { entry };
    ledger.add([arrival]);
    arrivals.push(arrival);
    jws.set(writing.ref, text);
    idOf.set(writing.ref, entry.id);
  }
  return { ledger, arrivals, jws, idOf, refOf: new Map([...idOf].map(([ref, id]) => [id, ref])) };
}

function draftOf({ says }: Writing, known: Known, ledger: Ledger, others: ReadonlyMap<string, Written>): Draft {
  switch (says.how) {
    case "draft":
      return says.draft(known);
    case "carry": {
      const entry = held(held(others, says.league).jws, says.carries);
      const author = decoded(entry).author;
      const key = [...new Set(authorsOf(others))].find((one) => keyIdOf(one) === author)!;
      return { kind: "entry-carried", body: { from: known.book(says.league), key, entry } };
    }
    case "signature": {
      const card = cardToSign(held(ledger.state().cards, says.player), says.upto);
      if (card === null) throw new Error("a card was signed before it had a line");
      return { kind: "card-signed", body: { player: says.player, ...card } };
    }
  }
}

/** Public keys of the devices that may have written what is carried. */
function* authorsOf(others: ReadonlyMap<string, Written>): Generator<PublicKey> {
  for (const { arrivals } of others.values()) {
    for (const { entry } of arrivals) {
      if (entry.kind === "device-admitted" && entry.understood) yield entry.body.device;
    }
  }
}

function decoded(text: string) {
  const entry = decodeEntry(text);
  if (!entry.ok) throw new Error(JSON.stringify(entry.fault));
  return entry.value;
}

function held<K, V>(map: ReadonlyMap<K, V>, key: K): V {
  const value = map.get(key);
  if (value === undefined) throw new Error(`nothing is known of ${String(key)}`);
  return value;
}
