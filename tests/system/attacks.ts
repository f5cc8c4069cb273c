/**
 * The attacks: on the document (from what can be seen in one update, and from what cannot), and on the record inside it. Each says
 * whether it was made; what becomes of it is for the oracle to see. `relay` attacks come from the relay itself, which knows no secret.
 */
import type { Draft, Payload } from "@sward/core";
import {
  awarenessFrame,
  decodeEntry,
  helloFrame,
  historyFrame,
  receiptFrame,
  signingInput,
  updateFrame,
} from "@sward/core";
import * as Y from "yjs";
import { headsText } from "../../packages/client/src/book/heads.ts";
import { seal } from "../../packages/client/src/book/seal.ts";
import type { Signer } from "../../packages/client/src/keys/signer.ts";
import { createSigner } from "../../packages/client/src/keys/signer.ts";
import { encodeSaying } from "../../packages/client/src/wire/saying.ts";
import { binaryItem, block, bytes, text, update } from "../support/hand-made-updates.ts";
import type { Attack, Byzantine, Seat } from "./byzantine.ts";
import { lastOf } from "./byzantine.ts";
import type { Dice } from "./dice.ts";
import { dayAt, timestampAt } from "./schedule.ts";
import { playerOf } from "./world.ts";

/** The client ids under which honest devices write in this room at this moment. */
const honestClients = ({ world }: Byzantine, { at }: Seat): number[] =>
  world.devices.flatMap(({ ledgerDoc }) => ledgerDoc(at.book)?.clientID ?? []);

const next = (doc: Y.Doc, client: number): number => Y.getState(doc.store, client);

const sealed = ({ at, keys }: Seat, texts: readonly string[], dice: Dice): Promise<Uint8Array> =>
  seal(at.book, keys, texts, dice.bytes);

/** An item where this client goes on, as the room stands. */
function itemAt(seat: Seat, client: number, envelope: Uint8Array): Uint8Array {
  const clock = next(seat.spy, client);
  const where = clock === 0 ? {} : { origin: [client, clock - 1] as const };
  return Uint8Array.from(block(client, clock, [binaryItem(envelope, where)]));
}

/** Puts texts into the room under a client id of his own, as an honest client would. */
async function write(seat: Seat, texts: readonly string[], dice: Dice): Promise<void> {
  const envelope = await sealed(seat, texts, dice);
  seat.send(updateFrame(update([[...itemAt(seat, dice.below(2 ** 32), envelope)]])));
}

const report = (by: Byzantine, dice: Dice): Draft => ({
  kind: "match-reported",
  body: {
    date: dayAt(0, dice.below(20)),
    occasion: "club-friendly",
    n: dice.between(1, 2),
    play: "handicap",
    format: 13,
    sides: [
      [{ player: playerOf(by.world, by.world.books.north, "a"), off: 8 }],
      [{ player: playerOf(by.world, by.world.books.north, "b"), off: 6 }],
    ],
    games: [{ score: [7, dice.below(7)] }],
  },
});

const payload = (seat: Seat, chain: { seq: number; prev: string | null }, draft: Draft, at: number): Payload => ({
  v: 1,
  book: seat.at.book,
  seq: chain.seq,
  prev: chain.prev as Payload["prev"],
  at: timestampAt(at),
  kind: draft.kind,
  body: draft.body as Record<string, unknown>,
});

/** The recorder's next entry, whatever it says. */
async function moles(by: Byzantine, seat: Seat, draft: Draft): Promise<string> {
  const { mole, schedule } = by.world;
  const text = await mole.signEntry(payload(seat, by.chain, draft, schedule.now()));
  const decoded = decodeEntry(text);
  if (!decoded.ok) throw new Error(decoded.fault.type);
  by.chain.prev = decoded.value.id;
  by.chain.seq += 1;
  return text;
}

const north = (by: Byzantine, seat: Seat): boolean => seat.at === by.world.books.north;

const onDocument: Readonly<Record<string, (by: Byzantine, seat: Seat, dice: Dice) => Uint8Array | null>> = {
  "F7 delete everything": (_by, { spy }) => {
    const clients = [...spy.store.clients.keys()];
    return clients.length === 0
      ? null
      : update(
          [],
          clients.map((client) => [client, [[0, next(spy, client)]]] as const),
        );
  },
  "F7 delete what is not yet written": (by, seat, dice) => {
    const clients = honestClients(by, seat);
    if (clients.length === 0) return null;
    const client = dice.pick(clients);
    return update([], [[client, [[next(seat.spy, client), 1_000_000]]]]);
  },
  "F8 GC over honest clocks": (by, seat, dice) => {
    const clients = honestClients(by, seat);
    if (clients.length === 0) return null;
    const client = dice.pick(clients);
    return update([block(client, next(seat.spy, client), [bytes(0, dice.pick([1000, 2 ** 52 - 1000]))])]);
  },
  "F9 a gap under a client of his own": (_by, _seat, dice) =>
    update([block(dice.below(2 ** 32), 5, [binaryItem(dice.bytes(60), { origin: [1, 4] })])]),
  "F9 a gap under an honest client": (by, seat, dice) => {
    const clients = honestClients(by, seat);
    if (clients.length === 0) return null;
    const client = dice.pick(clients);
    const clock = next(seat.spy, client) + 3;
    return update([block(client, clock, [binaryItem(goodLooking(dice), { origin: [client, clock - 1] })])]);
  },
  "F10 cut short": (_by, { spy }, dice) => {
    const whole = Y.encodeStateAsUpdate(spy);
    return whole.slice(0, dice.below(whole.length));
  },
  "F10 trailing bytes": (_by, { spy }, dice) => Uint8Array.from([...Y.encodeStateAsUpdate(spy), ...dice.bytes(3)]),
  "F11 thirty million structs": (_by, _seat, dice) => Uint8Array.from(bytes(1, 30_000_000, dice.below(2 ** 32), 0)),
  "F12 one client twice": (_by, _seat, dice) => {
    const client = dice.below(2 ** 32);
    const one = () => block(client, 0, [binaryItem(goodLooking(dice))]);
    return update([one(), one()]);
  },
  "F12 other roots": (_by, _seat, dice) =>
    update(
      Array.from({ length: 50 }, (_, n) =>
        block(dice.below(2 ** 32), 0, [binaryItem(goodLooking(dice), { root: `root${n}` })]),
      ),
    ),
  "F12 text in the array": (_by, _seat, dice) =>
    update([block(dice.below(2 ** 32), 0, [Uint8Array.from([4, 1, ...text("entries"), ...text("words")])])]),
};

/** The right first byte, and nothing that can be opened. */
function goodLooking(dice: Dice): Uint8Array {
  const made = dice.bytes(60);
  made.set([1, 0, 0, 0, 0]);
  return made;
}

const fromDocument: readonly (readonly [string, Attack])[] = Object.entries(onDocument).flatMap(([name, make]) => [
  [
    name,
    async (by: Byzantine, seat: Seat, dice: Dice) => {
      const made = make(by, seat, dice);
      if (made !== null) seat.send((dice.chance(50) ? updateFrame : historyFrame)(made));
      return made !== null;
    },
  ] as const,
  [
    `relay: ${name}`,
    async (by: Byzantine, seat: Seat, dice: Dice) => {
      const made = make(by, seat, dice);
      const frame = made === null ? null : (dice.chance(50) ? updateFrame : historyFrame)(made);
      if (frame !== null) by.world.relays[seat.relay]!.betray(seat.room, frame, dice.chance(50));
      return frame !== null;
    },
  ] as const,
]);

const onRecord: readonly (readonly [string, Attack])[] = [
  [
    "F6 raced for an honest device's next clock",
    async (by, seat, dice) => {
      const clients = honestClients(by, seat);
      if (clients.length === 0) return false;
      const client = dice.pick(clients);
      const mine = north(by, seat) ? await moles(by, seat, report(by, dice)) : "nothing";
      seat.send(updateFrame(update([[...itemAt(seat, client, await sealed(seat, [mine], dice))]])));
      return true;
    },
  ],
  [
    "F6 took an honest device's clocks ahead",
    async (by, seat, dice) => {
      const clients = honestClients(by, seat);
      if (clients.length === 0) return false;
      const client = dice.pick(clients);
      const from = next(seat.spy, client);
      const items = Array.from({ length: 4 }, (_, n) =>
        binaryItem(goodLooking(dice), from + n === 0 ? {} : { origin: [client, from + n - 1] }),
      );
      seat.send(updateFrame(update([block(client, from, items)])));
      return true;
    },
  ],
  [
    "F6 one place, two contents at two relays",
    async (by, seat, dice) => {
      const other = by.twin(seat);
      if (!north(by, seat) || !other.isOpen()) return false;
      const client = dice.below(2 ** 32);
      for (const one of [seat, other]) {
        const mine = await moles(by, seat, report(by, dice));
        one.send(updateFrame(update([block(client, 0, [binaryItem(await sealed(seat, [mine], dice))])])));
      }
      return true;
    },
  ],
  [
    "forged: an honest author's next entry under another signature",
    async (by, seat, dice) => {
      const { signer } = dice.pick(by.world.devices.filter((one) => one.ledgerDoc(seat.at.book) !== undefined));
      const chain = lastOf(await by.texts(seat), signer.id, seat.at.book);
      await write(seat, [await signedAs(signer, by.world.stranger, payload(seat, chain, report(by, dice), 0))], dice);
      return true;
    },
  ],
  [
    "forged: a copy of an honest entry under another signature",
    async (by, seat, dice) => {
      const texts = await by.texts(seat);
      if (texts.length === 0) return false;
      const spoilt = dice.shuffled(texts).slice(0, 5);
      const forged = spoilt.map((one) => one.slice(0, -86) + Buffer.from(dice.bytes(64)).toString("base64url"));
      await write(dice.chance(50) ? seat : by.twin(seat), forged, dice);
      return true;
    },
  ],
  [
    "forged: an admission that states a stranger's key, and what the stranger wrote",
    async (by, seat, dice) => {
      const { stranger, books } = by.world;
      const admit: Draft = { kind: "device-admitted", body: { device: stranger.key, role: "handicapper" } };
      const chain = lastOf(await by.texts(seat), books.north.root.id, seat.at.book);
      const admitted = await signedAs(seat.at.root, stranger, payload(seat, chain, admit, 0));
      const own = await stranger.signEntry(payload(seat, { seq: 0, prev: null }, report(by, dice), 0));
      await write(seat, dice.chance(50) ? [admitted, own] : [own], dice);
      return true;
    },
  ],
  [
    "a stranger admits himself",
    async (by, seat, dice) => {
      const own = await createSigner(dice.bytes(32));
      const admit: Draft = { kind: "device-admitted", body: { device: own.key, role: "handicapper" } };
      const first = await own.signEntry(payload(seat, { seq: 0, prev: null }, admit, 0));
      const decoded = decodeEntry(first);
      const prev = decoded.ok ? decoded.value.id : null;
      await write(seat, [first, await own.signEntry(payload(seat, { seq: 1, prev }, report(by, dice), 0))], dice);
      return true;
    },
  ],
  [
    "replayed: what is there already, sealed anew",
    async (by, seat, dice) => {
      const texts = await by.texts(seat);
      if (texts.length === 0) return false;
      await write(dice.chance(50) ? seat : by.twin(seat), dice.shuffled(texts).slice(0, 8), dice);
      return true;
    },
  ],
  [
    "cross-book: entries of the league in the club's book, and the other way",
    async (by, seat, dice) => {
      const from = by.seats.find((other) => other.at !== seat.at && other.isOpen());
      const texts = from === undefined ? [] : await by.texts(from);
      if (texts.length === 0) return false;
      await write(seat, dice.shuffled(texts).slice(0, 8), dice);
      return true;
    },
  ],
  [
    "the mole reports a match, as a recorder may",
    async (by, seat, dice) => {
      if (!north(by, seat)) return false;
      await write(seat, [await moles(by, seat, report(by, dice))], dice);
      return true;
    },
  ],
  [
    "the mole oversteps",
    async (by, seat, dice) => {
      if (!north(by, seat)) return false;
      const { stranger, books, device } = by.world;
      const player = playerOf(by.world, books.north, "a");
      const barred = device("north handicapper").signer.id;
      const draft = dice.pick<Draft>([
        {
          kind: "handicap-set",
          body: { player, handicap: 0, from: dayAt(0, 5), basis: "discretionary", reason: "mine" },
        },
        { kind: "device-admitted", body: { device: stranger.key, role: "handicapper" } },
        { kind: "device-barred", body: { device: barred, last: null } },
        { kind: "book-opened", body: { root: books.north.root.key, as: "club", name: "mine" } },
        { kind: "rules-adopted", body: { rules: "new-south-wales-2022", from: dayAt(0, 300) } },
        { kind: "policy-set", body: { unconfirmed: "waits" } },
        { kind: "player-left", body: { player, on: dayAt(0, 1) } },
      ]);
      await write(seat, [await moles(by, seat, draft)], dice);
      return true;
    },
  ],
  [
    "the mole forks his chain, one end at each relay",
    async (by, seat, dice) => {
      const other = by.twin(seat);
      if (!north(by, seat) || !other.isOpen() || dice.chance(60)) return false;
      const before = { ...by.chain };
      await write(seat, [await moles(by, seat, report(by, dice))], dice);
      Object.assign(by.chain, before);
      await write(other, [await moles(by, seat, report(by, dice))], dice);
      return true;
    },
  ],
  [
    "back-dated: a barred device goes on, by a clock of before",
    async (by, seat, dice) => {
      const { signer } = by.world.device("north barred");
      const texts = await by.texts(seat);
      const isBarred = texts.some((one) => {
        const decoded = decodeEntry(one);
        return decoded.ok && decoded.value.kind === "device-barred";
      });
      if (!north(by, seat) || !isBarred) return false;
      const chain = lastOf(texts, signer.id, seat.at.book);
      const draft = report(by, dice);
      await write(seat, [await signer.signEntry(payload(seat, chain, draft, -30 * 86_400_000))], dice);
      return true;
    },
  ],
  [
    "nothing but noise in a good envelope",
    async (_by, seat, dice) => {
      await write(
        seat,
        Array.from({ length: 300 }, () => Buffer.from(dice.bytes(9)).toString("latin1")),
        dice,
      );
      return true;
    },
  ],
  [
    "frames that are none, or only a relay's",
    async (_by, seat, dice) => {
      const made = dice.pick([dice.bytes(20), helloFrame("other"), receiptFrame(new Map([[1, 2 ** 40]]))]);
      seat.send(made);
      return true;
    },
  ],
  [
    "lied about what he has",
    async (_by, seat, dice) => {
      const heads = Array.from({ length: 64 }, () => Buffer.from(dice.bytes(8)).toString("base64url").slice(0, 10));
      const lie = await sealed(seat, [headsText("a-lying-speaker_", heads)], dice);
      for (let times = 0; times < 3; times += 1) seat.send(awarenessFrame(encodeSaying(7, times, lie)));
      return true;
    },
  ],
  [
    "said again what others had said before",
    async (_by, seat, dice) => {
      if (seat.said.length === 0) return false;
      seat.send(dice.pick(seat.said));
      return true;
    },
  ],
  [
    "noise in the room",
    async (_by, seat, dice) => {
      seat.send(awarenessFrame(dice.bytes(dice.below(900))));
      return true;
    },
  ],
];

/** A text that says it is by one, and was signed by another. */
async function signedAs(author: Signer, by: Signer, made: Payload): Promise<string> {
  return `${signingInput(author.id, made)}.${(await by.signEntry(made)).split(".")[2]}`;
}

export const attacks: readonly (readonly [string, Attack])[] = [...onRecord, ...onRecord, ...fromDocument];
