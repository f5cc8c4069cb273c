/**
 * What must be true once the weather is fine again, everybody is back and has had some minutes: whoever shares a book has the same
 * entries and the same state, nothing anybody was told is saved is missing anywhere, what a relay is said to have it has, a replay
 * from nothing gives the same cards, and nobody's entry counts who may not write it.
 */
import type { Book } from "@sward/client";
import { createVerifier, deriveEpoch, openEnvelope } from "@sward/client";
import type { Arrival, EntryId, RoomKind } from "@sward/core";
import { byCodeUnits, createLedger, decodeEntry } from "@sward/core";
import * as Y from "yjs";
import { readClosing } from "../../packages/client/src/book/closing.ts";
import { unseenEnvelopes } from "../../packages/client/src/book/ledger-doc.ts";
import { keysIn, openCarried } from "../../packages/client/src/book/stated.ts";
import type { EpochKeys } from "../../packages/client/src/keys/book-keys.ts";
import { stateText } from "../support/state-text.ts";
import type { SimDevice } from "./devices.ts";
import type { SimBook, World } from "./world.ts";
import { bookOf } from "./world.ts";

const ids = (book: Book): EntryId[] => [...book.entries()].map(({ id }) => id).sort(byCodeUnits);

interface Holder {
  readonly device: SimDevice;
  readonly book: Book;
}

/** Whether whoever is in step knows this device as barred: then it need not have what was written since, and must not. */
function isBarred(world: World, at: SimBook, device: SimDevice): boolean {
  return world.devices.some((other) => {
    const { barred } = (other === device ? undefined : bookOf(other, at)?.state().devices.get(device.signer.id)) ?? {};
    return barred === true;
  });
}

export function holdersOf(world: World, at: SimBook): Holder[] {
  return [...world.devices, ...world.newcomers].flatMap((device) => {
    const book = bookOf(device, at);
    return book === undefined ? [] : [{ device, book }];
  });
}

/** Whether every device has come to rest in the same place. */
export function isHealed(world: World): boolean {
  return Object.values(world.books).every((at) => {
    const holders = holdersOf(world, at).filter(({ device }) => !isBarred(world, at, device));
    const wanted = [...world.devices, ...world.newcomers].filter(
      (device) => device.books.some(({ book }) => book === at.book) && !isBarred(world, at, device),
    ).length;
    const [first] = holders;
    return (
      holders.length === wanted &&
      first !== undefined &&
      holders.every(({ book }) => book.digest() === first.book.digest() && book.waiting() === 0) &&
      // What a barred device wrote in good faith is brought over from its old room by the others, in their own time.
      missing(world, at, [first]).length === 0
    );
  });
}

/** Everything that is not as it must be, as sentences. */
export async function judge(world: World): Promise<string[]> {
  const wrong: string[] = [];
  for (const at of Object.values(world.books)) {
    const holders = holdersOf(world, at).filter(({ device }) => !isBarred(world, at, device));
    const [first] = holders;
    if (first === undefined) {
      wrong.push(`nobody has the book of ${at.name}`);
      continue;
    }
    wrong.push(...differences(at, holders, first));
    wrong.push(...missing(world, at, holders));
    // Not of a barred device: it is alone in its room, where nobody tells it any more what he lacks.
    wrong.push(...(await notAtTheRelay(world, holders, first.book)));
    wrong.push(...(await replayed(world, at, first)));
  }
  return wrong;
}

function differences(at: SimBook, holders: readonly Holder[], first: Holder): string[] {
  const wrong: string[] = [];
  const [wantedIds, wantedState] = [ids(first.book), stateText(first.book.state())];
  for (const { device, book } of holders) {
    const own = ids(book);
    const [less, more] = [
      wantedIds.filter((id) => !own.includes(id)).length,
      own.filter((id) => !wantedIds.includes(id)).length,
    ];
    if (less + more > 0) wrong.push(`${device.name} lacks ${less} entries of ${at.name} and has ${more} more`);
    else if (stateText(book.state()) !== wantedState) wrong.push(`${device.name} has another state of ${at.name}`);
    if (book.waiting() > 0) {
      wrong.push(
        `${device.name} still has ${book.waiting()} entries of ${at.name} waiting: ${JSON.stringify(book.connection())}`,
      );
    }
    const roster = (one: Book) => JSON.stringify([...one.roster.all()].sort(([a], [b]) => byCodeUnits(a, b)));
    if (roster(book) !== roster(first.book)) wrong.push(`${device.name} has another roster of ${at.name}`);
  }
  return wrong;
}

function missing(world: World, at: SimBook, holders: readonly Holder[]): string[] {
  const honest = new Set(world.devices.map(({ signer }) => signer.id));
  // What a barred device alone was told by somebody hostile, nobody else owes.
  const told = new Set<EntryId>();
  for (const { device, book } of holdersOf(world, at).filter((one) => isBarred(world, at, one.device))) {
    for (const { id, jws } of book.entries()) {
      const decoded = decodeEntry(jws);
      if (decoded.ok && decoded.value.author !== device.signer.id && !honest.has(decoded.value.author)) told.add(id);
    }
  }
  const wanted = [...(world.saved.get(at.book) ?? [])].filter((id) => !told.has(id));
  return holders.flatMap(({ device, book }) => {
    const own = new Set(ids(book));
    const lost = wanted.filter((id) => !own.has(id));
    return lost.length > 0 ? [`${device.name} lacks ${lost.length} saved entries of ${at.name}`] : [];
  });
}

/** What somebody shows as stored at the relay, and cannot be read there, in the room where he is. */
async function notAtTheRelay(world: World, holders: readonly Holder[], knows: Book): Promise<string[]> {
  const keys = await Promise.all(knows.epochs().map((epoch) => deriveEpoch(knows.id, epoch)));
  const wrong: string[] = [];
  for (const { device, book } of holders) {
    const own = keys.find(({ room }) => room === book.lock().room);
    if (own === undefined) {
      wrong.push(`${device.name} is in a room that nobody else knows`);
      continue;
    }
    const there = await textsAt(world, device.relay(), own, book);
    const lies = [...book.entries()].filter(({ id, jws }) => book.custody(id) === "relay" && !there.has(jws));
    if (lies.length > 0) wrong.push(`${device.name} says ${lies.length} entries are at a relay that lacks them`);
  }
  return wrong;
}

async function textsAt(world: World, place: number, keys: EpochKeys, { id }: Book): Promise<Set<string>> {
  const there = new Set<string>();
  // From one volume to the next, as far as one says that it goes on.
  for (let [volume, room, goesOn] = [0, keys.ledgerRoom.key, true]; goesOn; ) {
    goesOn = false;
    const doc = new Y.Doc();
    for (const update of await world.relays[place]!.stored("ledger" satisfies RoomKind, room)) {
      Y.applyUpdate(doc, update);
    }
    for (const { envelope } of unseenEnvelopes(doc, new Map())) {
      const texts = await openEnvelope(id, (epoch) => (epoch === keys.epoch ? keys : undefined), envelope);
      if (Array.isArray(texts)) for (const text of texts as string[]) there.add(text);
      goesOn ||= Array.isArray(texts) && readClosing((texts as string[])[0] ?? "") !== null;
    }
    doc.destroy();
    volume += 1;
    room = (await keys.ledgerVolume(volume)).key;
  }
  return there;
}

/** Entries handed in one by one in another order; signatures checked anew. */
async function replayed(world: World, at: SimBook, { device, book }: Holder): Promise<string[]> {
  const wrong: string[] = [];
  const verifier = createVerifier();
  const arrivals: Arrival[] = [];
  const decoded = [...book.entries()].map(({ jws }) => ({ jws, result: decodeEntry(jws) }));
  for (const { result } of decoded) {
    if (result.ok && result.value.understood) for (const key of keysIn(result.value)) verifier.learn(key);
  }
  for (const { jws, result } of decoded) {
    if (!result.ok) wrong.push(`an entry of ${at.name} is none: ${result.fault.type}`);
    else if (!(await verifier.verify(jws, result.value.author))) wrong.push(`an entry of ${at.name} is forged`);
    else if (result.value.book !== at.book) wrong.push(`an entry of ${at.name} is of another book`);
    else arrivals.push(await openCarried(result.value, verifier));
  }
  const ledger = createLedger(at.book);
  for (const arrival of world.dice.fork(`replay ${at.name}`).shuffled(arrivals)) ledger.add([arrival]);
  if (stateText(ledger.state()) !== stateText(book.state())) {
    wrong.push(`${device.name}'s state of ${at.name} is not what its entries come to`);
  }
  return wrong;
}

/** Of each document: nothing pending, and everything in it passes the screen again. */
export function judgeDocs(world: World): string[] {
  return [...world.devices, ...world.newcomers].flatMap(({ name, docs, wires }) => [
    ...docs().flatMap((doc) => {
      const { pendingStructs, pendingDs } = doc.store;
      return pendingStructs === null && pendingDs === null ? [] : [`${name} has something pending in a document`];
    }),
    ...wires().flatMap((wire) => {
      const state = wire.state();
      if (state.type === "connecting" && state.fault?.type === "defect") return [`${name}: ${state.fault.cause}`];
      return state.type === "refused" ? [`${name} was refused: ${state.code} ${state.reason}`] : [];
    }),
  ]);
}
