/**
 * Somebody who holds the secrets of two books, sits in their rooms at both relays, sees everything and writes whatever he likes
 * (attacks.ts). He has two keys: one that North admitted as a recorder, and one that nobody admitted; and later North's barred
 * device's. Also what must be true of all he wrote: nothing counts but what his admission allows.
 */
import type { BookId, Counted, EntryId, EntryOf, KeyId, RoomName } from "@sward/core";
import { askFrame, canonicalBytes, decodeEntry, readFrame, tokenType } from "@sward/core";
import * as Y from "yjs";
import { unseenEnvelopes } from "../../packages/client/src/book/ledger-doc.ts";
import { openEnvelope } from "../../packages/client/src/book/seal.ts";
import type { Epoch, EpochKeys } from "../../packages/client/src/keys/book-keys.ts";
import { deriveEpoch } from "../../packages/client/src/keys/book-keys.ts";
import { applyScreened } from "../../packages/client/src/wire/screen.ts";
import type { Dice } from "./dice.ts";
import type { Life } from "./disks.ts";
import type { Wired } from "./network.ts";
import type { SimBook, World } from "./world.ts";
import { bookOf } from "./world.ts";

/** A room he is in. */
export interface Seat {
  readonly at: SimBook;
  readonly keys: EpochKeys;
  readonly relay: number;
  readonly room: RoomName;
  /** What is in the room, as far as he has been told. */
  readonly spy: Y.Doc;
  /** What he has heard others say, oldest first. */
  readonly said: readonly Uint8Array[];
  isOpen(): boolean;
  send(frame: Uint8Array): void;
}

export interface Byzantine {
  readonly world: World;
  readonly seats: readonly Seat[];
  /** His recorder's own chain in North. */
  readonly chain: { seq: number; prev: string | null };
  /** The other seat in the same room. */
  twin(seat: Seat): Seat;
  /** Signed texts of the room that he can read. */
  texts(seat: Seat): Promise<readonly string[]>;
  attack(): void;
  leave(): void;
  judge(): string[];
}

/** Says whether it was made; what becomes of it is for the oracle to see. */
export type Attack = (by: Byzantine, seat: Seat, dice: Dice) => Promise<boolean>;

export async function createByzantine(
  world: World,
  attacks: readonly (readonly [string, Attack])[],
): Promise<Byzantine> {
  const { books, relays, schedule, dice, happened, problem } = world;
  const life: Life = { dead: false };
  const seats: Seat[] = [];
  for (const at of [books.north, books.league]) await sitDown(at, { epoch: 0, secret: at.secret });

  async function sitDown(at: SimBook, epoch: Epoch): Promise<void> {
    const keys = await deriveEpoch(at.book, epoch);
    if (seats.some(({ room }) => room === keys.room)) return;
    for (const relay of relays.keys()) seats.push(takeSeat(at, keys, relay));
  }

  /** North's recorder was given the secret of each epoch, as all were who are not barred. */
  async function follow(): Promise<void> {
    const known = bookOf(world.device("north root"), books.north)?.epochs() ?? [];
    const newest = known.at(-1);
    if (newest === undefined || newest.epoch === 0) return;
    await sitDown(books.north, newest);
    happened("the hostile one came along into the new room");
  }

  function takeSeat(at: SimBook, keys: EpochKeys, relay: number): Seat {
    const spy = new Y.Doc();
    const path = world.path("byzantine", relay);
    const room = keys.ledgerRoom.key as RoomName;
    const label = `byzantine ${at.name}`;
    const origin = relays[relay]!.origin;
    let wired: Wired | null = null;
    let open = false;
    const said: Uint8Array[] = [];

    const again = (): void => {
      wired = null;
      open = false;
      if (!life.dead) schedule.after(2_000, `${label} ${relay} calls again`, () => void call().catch(again));
    };
    async function call(): Promise<void> {
      const answered = await path.ask(`${label} nonce`, () => relays[relay]!.nonce("ledger", room));
      const { nonce, expires } = (await answered.json()) as { nonce: string; expires: number };
      const claims = { aud: origin, room, kind: "ledger", nonce, exp: expires };
      const token = await keys.ledgerRoom.sign({ typ: tokenType }, canonicalBytes(claims));
      const address = `${origin.replace("https", "wss")}/rooms/ledger/${room}?token=${token}`;
      wired = path.call(label, address, { open: opened, receive: hear, closed: again }, life);
    }
    const opened = (): void => {
      open = true;
      wired?.send(askFrame(Y.encodeStateVector(spy)));
    };
    const hear = (bytes: Uint8Array): void => {
      const frame = readFrame(bytes);
      if (frame?.type === "update" || frame?.type === "history") {
        applyScreened(spy, "ledger", frame.update, "salvage", null);
      } else if (frame?.type === "awareness") said.push(bytes);
    };
    void call().catch(again);
    return { at, keys, relay, room, spy, said, isOpen: () => open, send: (frame) => wired?.send(frame) };
  }

  const read = new Map<string, readonly string[]>();
  const byzantine: Byzantine = {
    world,
    seats,
    chain: { seq: 0, prev: null },
    twin: (seat) => seats.find((other) => other.room === seat.room && other.relay !== seat.relay)!,
    async texts({ at, keys, spy, relay }) {
      const texts = [];
      for (const { place, envelope } of unseenEnvelopes(spy, new Map())) {
        const name = `${relay} ${at.name} ${place.client} ${place.clock}`;
        const known = read.get(name);
        const opened = known ?? (await openEnvelope(at.book, () => keys, envelope));
        const good = Array.isArray(opened) ? (opened as readonly string[]) : [];
        read.set(name, good);
        texts.push(...good);
      }
      return texts;
    },
    attack() {
      void follow();
      const [name, attack] = dice.pick(attacks);
      const open = seats.filter((seat) => seat.isOpen());
      if (open.length === 0) return;
      attack(byzantine, dice.pick(open), dice.fork(`attack at ${schedule.now()}`)).then(
        (made) => {
          if (made) happened(`attack: ${name}`);
        },
        (cause) => problem(`attack ${name}: ${String((cause as Error).stack ?? cause)}`),
      );
    },
    leave() {
      life.dead = true;
    },
    judge: () => Object.values(books).flatMap((at) => judgeCounted(world, at)),
  };
  return byzantine;
}

const officers = ["north root", "north handicapper"];

/** Entries of this book that an officer has carried, so that they count after all. */
function adoptedIn(entries: Iterable<{ readonly jws: string }>, by: readonly KeyId[]): Set<EntryId> {
  const adopted = new Set<EntryId>();
  for (const { jws } of entries) {
    const carrier = decodeEntry(jws);
    if (!carrier.ok || !carrier.value.understood || carrier.value.kind !== "entry-carried") continue;
    const inner = decodeEntry(carrier.value.body.entry);
    if (inner.ok && by.includes(carrier.value.author)) adopted.add(inner.value.id);
  }
  return adopted;
}

/** What North's recorder may write. */
const recorders: ReadonlySet<string> = new Set(["match-reported", "player-joined", "entry-withdrawn", "entry-carried"]);

function judgeCounted(world: World, at: SimBook): string[] {
  const wrong: string[] = [];
  const book = world.devices.flatMap((device) => bookOf(device, at) ?? [])[0];
  const cuts = cutsOf(book?.counted() ?? []);
  const known = new Set(world.devices.map(({ signer }) => signer.id));
  const adopted = adoptedIn(
    book?.entries() ?? [],
    officers.map((name) => world.device(name).signer.id),
  );
  for (const { entry, origin } of book?.counted() ?? []) {
    const { author, kind, seq } = entry;
    const what = `${kind} ${seq} counts in ${at.name}`;
    const isHonest = known.has(author);
    if (!isHonest && author !== world.mole.id) {
      // A recorder may carry what another book is said to have; of this book nobody else's counts.
      if (origin === at.book) wrong.push(`a stranger's ${what}`);
      continue;
    }
    if (author === world.mole.id && (at !== world.books.north || !recorders.has(kind)))
      wrong.push(`the mole's ${what}`);
    const cut = origin === at.book ? cuts.get(author) : undefined;
    if (cut !== undefined && seq > cut && !adopted.has(entry.id)) wrong.push(`after its bar, ${what}`);
    if (entry.book !== origin) wrong.push(`of another book, ${what}`);
  }
  return wrong;
}

function cutsOf(counted: Iterable<Counted>): Map<KeyId, number> {
  const cuts = new Map<KeyId, number>();
  for (const { entry } of counted) {
    if (entry.kind !== "device-barred") continue;
    const { device, last } = (entry as EntryOf<"device-barred">).body;
    cuts.set(device, Math.min(cuts.get(device) ?? Infinity, last?.seq ?? -1));
  }
  return cuts;
}

/** The last entry of an author's chain that can be read from texts. */
export function lastOf(texts: readonly string[], author: KeyId, book: BookId): { seq: number; prev: string | null } {
  let [seq, prev]: [number, string | null] = [0, null];
  for (const text of texts) {
    const decoded = decodeEntry(text);
    if (!decoded.ok || decoded.value.author !== author || decoded.value.book !== book) continue;
    if (decoded.value.seq >= seq) [seq, prev] = [decoded.value.seq + 1, decoded.value.id];
  }
  return { seq, prev };
}
