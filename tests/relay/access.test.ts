/**
 * Who is kept out of a room, over real sockets, with the client's own wire: by which code, whether the client takes it as final, and how
 * often it calls again in ten minutes (its pauses pass two hundred times as fast here). Also what a relay does not keep out, since it
 * knows no roles and no bars: whoever has the book's secret. Then it is every device that refuses.
 */
import type { Book } from "@sward/client";
import { createSigner, openBook, systemRandom } from "@sward/client";
import type { BookId, Draft, EntryId, PlayerId, TokenClaims } from "@sward/core";
import { closeCodes, decodeEntry, mayRedial, roomPath } from "@sward/core";
import { afterEach, expect, test } from "vitest";
import { WebSocket as NodeWebSocket } from "ws";
import * as Y from "yjs";
import { pushEnvelopes } from "../../packages/client/src/book/ledger-doc.ts";
import { openRoomWire } from "../../packages/client/src/book/room-wire.ts";
import { seal } from "../../packages/client/src/book/seal.ts";
import { deriveEpoch } from "../../packages/client/src/keys/book-keys.ts";
import { openWire } from "../../packages/client/src/wire/wire.ts";
import { envelope } from "../support/envelopes.ts";
import type { TestRelay, TestRoom } from "../support/meeting.ts";
import { newRoom, relayWith, tokenFor, until, wireDeps } from "../support/meeting.ts";
import { ending, enter } from "../support/plain-caller.ts";
import { stateText } from "../support/state-text.ts";
import type { TestBook } from "../support/two-clubs.ts";
import { optionsFor, TODAY } from "../support/two-clubs.ts";

const open: { close(): Promise<unknown> }[] = [];
afterEach(async () => {
  for (const one of open.splice(0).reverse()) await one.close();
});
const relay = async (...given: Parameters<typeof relayWith>): Promise<TestRelay> => {
  const made = await relayWith(...given);
  open.push(made);
  return made;
};

/** So many times as fast as in earnest do the client's pauses pass. */
const haste = 200;
const tenMinutes = 600_000 / haste;
/** Seven pauses that grow, then one every fifteen seconds at the least. */
const mostCalls = 7 + 600 / 15;

/** The client's wire, with a count of the sockets it opened. */
function caller(origin: string, room: TestRoom, doc = new Y.Doc()) {
  let calls = 0;
  class Counted extends NodeWebSocket {
    constructor(address: string) {
      super(address);
      calls += 1;
    }
  }
  const wire = openWire({
    relay: origin,
    room: { kind: "ledger", ...room },
    doc,
    deps: {
      ...wireDeps,
      WebSocket: Counted as unknown as typeof WebSocket,
      // How long an answer may take is not hurried.
      setTimeout: (run, after) => setTimeout(run, after === 15_000 ? after : after / haste),
    },
  });
  open.push(wire);
  return { wire, doc, calls: () => calls };
}

const wait = (milliseconds: number): Promise<void> => new Promise((done) => setTimeout(done, milliseconds));

/** Of a room, the same with another way of signing. */
const signing = (room: TestRoom, sign: (claims: TokenClaims) => Promise<string>): TestRoom => ({ ...room, sign });

async function isFinal(made: ReturnType<typeof caller>, code: number): Promise<void> {
  await until("refused", () => made.wire.state().type === "refused");
  expect(made.wire.state()).toMatchObject({ type: "refused", code });
  expect(mayRedial(code)).toBe(false);
  const calls = made.calls();
  await wait(tenMinutes);
  expect(made.calls()).toBe(calls);
  expect(calls).toBeLessThanOrEqual(1);
}

async function isTriedAgain(made: ReturnType<typeof caller>, code: number): Promise<void> {
  expect(mayRedial(code)).toBe(true);
  const faults = new Set<number>();
  made.wire.subscribe(() => {
    const state = made.wire.state();
    if (state.type === "connecting" && state.fault?.type === "closed") faults.add(state.fault.code);
  });
  await until("told why", () => faults.size > 0);
  await until("called again", () => made.calls() >= 3);
  await wait(tenMinutes);
  expect([...faults]).toEqual([code]);
  expect(made.calls()).toBeLessThanOrEqual(mostCalls);
}

const path = (room: TestRoom, token?: string): string =>
  roomPath("ledger", room.name) + (token === undefined ? "" : `?token=${token}`);

test("RL2 no token: turned away to come with one, and called again with growing pauses", async () => {
  const { origin } = await relay();
  const room = await newRoom();
  expect(await ending(origin, path(room))).toMatchObject({ code: closeCodes.staleToken });
  await isTriedAgain(
    caller(
      origin,
      signing(room, () => Promise.resolve("")),
    ),
    closeCodes.staleToken,
  );
});

test("RL1 a stale token: turned away to come with a fresh one, and called again with growing pauses", async () => {
  const { origin } = await relay();
  const room = await newRoom();
  const late = (claims: TokenClaims) => room.sign({ ...claims, exp: Math.floor(Date.now() / 1000) - 1 });
  await isTriedAgain(caller(origin, signing(room, late)), closeCodes.staleToken);
});

test("RL1 a token of another room, or of another relay: for good", async () => {
  const [{ origin }, other] = [await relay(), await relay()];
  const [room, neighbour] = [await newRoom(), await newRoom()];
  const ofAnother = (claims: TokenClaims) => neighbour.sign({ ...claims, room: neighbour.name });
  const forAnother = (claims: TokenClaims) => room.sign({ ...claims, aud: other.origin });
  await Promise.all([
    isFinal(caller(origin, signing(room, ofAnother)), closeCodes.wrongToken),
    isFinal(caller(origin, signing(room, forAnother)), closeCodes.wrongToken),
  ]);
});

test("RL1 the key of the room a book has left does not open the one it has moved to", async () => {
  const { origin } = await relay();
  const root = await createSigner(systemRandom(32));
  const book = root.id as string as BookId;
  const before = await deriveEpoch(book, { epoch: 0, secret: systemRandom(32) });
  const after = await deriveEpoch(book, { epoch: 1, secret: systemRandom(32) });
  expect(after.room).not.toBe(before.room);
  const left: TestRoom = {
    name: after.room as string as TestRoom["name"],
    sign: (claims) => before.ledgerRoom.sign({ typ: "sward-token" }, new TextEncoder().encode(JSON.stringify(claims))),
  };
  expect(await ending(origin, path(left, await tokenFor(origin, left, "ledger")))).toEqual({
    code: closeCodes.wrongToken,
    reason: "token-signature",
  });
  await isFinal(caller(origin, left), closeCodes.wrongToken);
});

test("RL7 a message over the limit ends the connection for good", async () => {
  const { origin } = await relay({ messageBytes: 8_192 });
  const made = caller(origin, await newRoom());
  await until("in", () => made.wire.state().type === "live");
  // One page of the client's own is longer than this relay takes.
  pushEnvelopes(
    made.doc,
    Array.from({ length: 40 }, (_, n) => Uint8Array.from([...envelope(n), ...new Uint8Array(1000)])),
  );
  await isFinal(made, closeCodes.tooLong);
});

test("RL7 a full room refuses what is over its limit, and the connection stays", async () => {
  const { origin } = await relay({ ledgerBytes: 2_000 });
  const made = caller(origin, await newRoom());
  await until("in", () => made.wire.state().type === "live");
  for (let n = 0; n < 40; n += 1) pushEnvelopes(made.doc, [envelope(n)]);
  await until("told", () => made.wire.refusals().some(({ refusal }) => refusal.type === "room-full"));
  await wait(tenMinutes);
  expect(made.calls()).toBe(1);
  expect(made.wire.state().type).toBe("live");
});

test("RL4 a flood of callers: told to try later, which they do with growing pauses; who is inside stays", async () => {
  const { origin } = await relay({ connections: 1 });
  const inside = await enter(origin, await newRoom());
  const crowd = await Promise.all(Array.from({ length: 10 }, async () => caller(origin, await newRoom())));
  await Promise.all(crowd.map((one) => isTriedAgain(one, closeCodes.tryLater)));
  expect(inside.closed()).toBe(null);
});

const player = Buffer.alloc(16, 1).toString("base64url") as PlayerId;
const other = Buffer.alloc(16, 2).toString("base64url") as PlayerId;
const match: Draft = {
  kind: "match-reported",
  body: {
    date: "2026-05-01",
    occasion: "club-competition",
    n: 1,
    play: "handicap",
    format: 13,
    sides: [[{ player, off: 8 }], [{ player: other, off: 8 }]],
    games: [{ score: [7, 3] }],
  },
};

test("a reader who writes, and a barred device: the relay takes it from who has the secret, and no device counts it", async () => {
  const { origin } = await relay();
  const [root, reader, barred] = [
    await createSigner(systemRandom(32)),
    await createSigner(systemRandom(32)),
    await createSigner(systemRandom(32)),
  ];
  const at: TestBook = { book: root.id as string as BookId, root, secret: systemRandom(32) };
  const book: Book = await openBook(optionsFor(at, root, origin));
  open.push(book);
  await until("the relay is met", () => book.caughtUp());
  const drafts: Draft[] = [
    { kind: "book-opened", body: { root: root.key, as: "club", name: "Testers" } },
    { kind: "device-admitted", body: { device: reader.key, role: "reader" } },
    { kind: "device-admitted", body: { device: barred.key, role: "recorder" } },
    { kind: "device-barred", body: { device: barred.id, last: null } },
    ...[player, other].map((one): Draft => ({ kind: "player-joined", body: { player: one, standing: "member" } })),
  ];
  for (const draft of drafts) expect((await book.append([draft])).ok).toBe(true);
  const before = stateText({ ...book.state(), uncounted: new Map(), devices: new Map(), entries: 0 });

  // The reader's own client would not even try.
  const readers: Book = await openBook(optionsFor(at, reader, origin));
  open.push(readers);
  await until("in step", () => readers.caughtUp() && readers.digest() === book.digest());
  expect(await readers.append([match])).toMatchObject({ fault: { type: "may-not", role: "reader" } });

  // So they write with something else, under the room's good key.
  const keys = await deriveEpoch(at.book, { epoch: 0, secret: at.secret });
  const doc = new Y.Doc();
  const wire = openRoomWire(optionsFor(at, reader, origin), {
    kind: "ledger",
    signer: keys.ledgerRoom,
    doc,
    dial: true,
  })!;
  open.push(wire);
  const ids: EntryId[] = [];
  for (const by of [reader, barred]) {
    const body = match.body as unknown as Record<string, unknown>;
    const jws = await by.signEntry({
      v: 1,
      book: at.book,
      seq: 0,
      prev: null,
      at: `${TODAY}T10:00:00Z`,
      kind: match.kind,
      body,
    });
    const decoded = decodeEntry(jws);
    if (decoded.ok) ids.push(decoded.value.id);
    pushEnvelopes(doc, [await seal(at.book, keys, [jws], systemRandom)]);
  }
  await until("stored", () => wire.stored().get(doc.clientID) === 2);
  for (const one of [book, readers]) {
    await until("held", () => ids.every((id) => one.signed(id) !== undefined));
    expect(ids.map((id) => one.state().uncounted.get(id))).toEqual(["role-may-not", "after-bar"]);
    expect(one.state().matches.size).toBe(0);
  }
  expect(stateText({ ...book.state(), uncounted: new Map(), devices: new Map(), entries: 0 })).toBe(before);
});
