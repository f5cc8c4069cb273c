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
import { keysIn, openCarried } from "../../packages/client/src/book/intake.ts";
import { unseenEnvelopes } from "../../packages/client/src/book/ledger-doc.ts";
import { stateText } from "../support/state-text.ts";
import type { SimDevice } from "./devices.ts";
import type { SimBook, World } from "./world.ts";
import { bookOf } from "./world.ts";

const ids = (book: Book): EntryId[] => [...book.entries()].map(({ id }) => id).sort(byCodeUnits);

interface Holder {
  readonly device: SimDevice;
  readonly book: Book;
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
    const holders = holdersOf(world, at);
    const wanted = [...world.devices, ...world.newcomers].filter(({ books }) =>
      books.some(({ book }) => book === at.book),
    ).length;
    const [first] = holders;
    return (
      holders.length === wanted &&
      first !== undefined &&
      holders.every(({ book }) => book.digest() === first.book.digest() && book.waiting() === 0)
    );
  });
}

/** Everything that is not as it must be, as sentences. */
export async function judge(world: World): Promise<string[]> {
  const wrong: string[] = [];
  for (const at of Object.values(world.books)) {
    const holders = holdersOf(world, at);
    const [first] = holders;
    if (first === undefined) {
      wrong.push(`nobody has the book of ${at.name}`);
      continue;
    }
    wrong.push(...differences(at, holders, first));
    wrong.push(...missing(world, at, holders));
    wrong.push(...(await notAtTheRelay(world, at, holders)));
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
  const wanted = [...(world.saved.get(at.book) ?? [])];
  return holders.flatMap(({ device, book }) => {
    const own = new Set(ids(book));
    const lost = wanted.filter((id) => !own.has(id));
    return lost.length > 0 ? [`${device.name} lacks ${lost.length} saved entries of ${at.name}`] : [];
  });
}

/** What somebody shows as stored at the relay, and cannot be read there. */
async function notAtTheRelay(world: World, at: SimBook, holders: readonly Holder[]): Promise<string[]> {
  const keys = await deriveEpoch(at.book, { epoch: 0, secret: at.secret });
  const wrong: string[] = [];
  for (const [place, relay] of world.relays.entries()) {
    const doc = new Y.Doc();
    for (const update of await relay.stored("ledger" satisfies RoomKind, keys.ledgerRoom.key))
      Y.applyUpdate(doc, update);
    const there = new Set<string>();
    for (const { envelope } of unseenEnvelopes(doc, new Map())) {
      const texts = await openEnvelope(at.book, (epoch) => (epoch === 0 ? keys : undefined), envelope);
      if (Array.isArray(texts)) for (const text of texts as string[]) there.add(text);
    }
    for (const { device, book } of holders.filter((one) => one.device.relay() === place)) {
      const lies = [...book.entries()].filter(({ id, jws }) => book.custody(id) === "relay" && !there.has(jws));
      if (lies.length > 0)
        wrong.push(`${device.name} says ${lies.length} entries of ${at.name} are at a relay that lacks them`);
    }
    doc.destroy();
  }
  return wrong;
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
