/**
 * A caller that somebody wrote from PROTOCOL.md and from nothing else (`support/protocol-client.ts`), at relays that are processes of
 * their own: what it writes and reads is the document's bytes, and it meets, waits, moves on and compares as the document says.
 */
import { readFileSync } from "node:fs";
import { afterEach, expect, test } from "vitest";
import * as Y from "yjs";
import { envelope, numberOf } from "../support/envelopes.ts";
import { temporaryFolders } from "../support/folders.ts";
import { until } from "../support/meeting.ts";
import type { Heard, ProtocolClient, Room } from "../support/protocol-client.ts";
import {
  ask,
  compare,
  historyPage,
  makeRoom,
  makeToken,
  readFrame,
  startClient,
  sumOf,
  tokenFrame,
  update,
} from "../support/protocol-client.ts";
import { endAll, startProcess } from "../support/relay-process.ts";

const folder = temporaryFolders();
const clients: ProtocolClient[] = [];
afterEach(() => {
  for (const client of clients.splice(0)) client.close();
  endAll();
});
const client = (...given: Parameters<typeof startClient>): ProtocolClient => {
  const one = startClient(...given);
  clients.push(one);
  return one;
};
const entries = ({ doc }: ProtocolClient): number[] =>
  doc
    .getArray<Uint8Array>("entries")
    .toArray()
    .map(numberOf)
    .sort((a, b) => a - b);
const below = (count: number, from = 0): number[] => Array.from({ length: count }, (_, number) => from + number);
const isStored = ({ doc, stored }: ProtocolClient): boolean =>
  [...Y.decodeStateVector(Y.encodeStateVector(doc))].every(([one, next]) => (stored.get(one) ?? 0) >= next);

const text = readFileSync(new URL("../../packages/relay/PROTOCOL.md", import.meta.url), "utf8");
const [, protocol = ""] = text.split("## Bytes");
/** The bytes beside a name; `00{39}` is 39 times 00. */
function bytesOf(name: string): Uint8Array {
  const line = protocol.split("\n").find((one) => one.startsWith(`    ${name} `)) ?? "";
  const hex = line
    .slice(name.length + 4)
    .replace(/([0-9a-f]{2})\{(\d+)\}/g, (_all, byte: string, times: string) => byte.repeat(Number(times)));
  return new Uint8Array(Buffer.from(hex.replaceAll(" ", ""), "hex"));
}

test("the independent caller has ws, Yjs and cryptography, and nothing of ours", () => {
  const source = readFileSync(new URL("../support/protocol-client.ts", import.meta.url), "utf8");
  const imported = [...source.matchAll(/(?:from|import\()\s*"([^"]+)"/g)].map(([, name]) => name);
  expect(imported).toEqual(["node:crypto", "ws", "yjs"]);
});

test("RL5 RL17 RL19 the document's bytes are what a caller written from it writes and reads", () => {
  const doc = new Y.Doc();
  doc.clientID = 300;
  expect(ask(Y.encodeStateVector(doc))).toEqual(bytesOf("ask, of nothing"));
  const item = Uint8Array.from([1, ...new Uint8Array(39)]);
  doc.getArray<Uint8Array>("entries").push([item]);
  expect(ask(Y.encodeStateVector(doc))).toEqual(bytesOf("ask, of one item"));
  expect(update(Y.encodeStateAsUpdate(doc))).toEqual(bytesOf("update"));
  expect(compare()).toEqual(bytesOf("compare"));
  const vector = new Map([[300, 1]]);
  expect(readFrame(bytesOf("hello"))).toEqual({ type: "hello", version: 1, store: "s1" });
  expect(readFrame(bytesOf("receipt"))).toEqual({ type: "receipt", vector });
  expect(readFrame(bytesOf("refusal, trailing-bytes"))).toMatchObject({ reason: { type: "trailing-bytes", bytes: 3 } });
  expect(tokenFrame("a.b.c")).toEqual(bytesOf("token"));
  const nonce = { nonce: "n".repeat(16), relay: "http://r", expires: 9 };
  expect(readFrame(bytesOf("challenge"))).toEqual({ type: "challenge", nonce });
  expect(readFrame(bytesOf("digest, of one item"))).toEqual({ type: "digest", vector, sum: sumOf(doc, vector) });
});

test("RL5 RL6 two of them meet: a history in pages, what is written heard by the other, and all of it receipted", async () => {
  const relay = await startProcess(folder());
  const room = makeRoom();
  const writer = client(relay.origin, room);
  await until("in", () => writer.synced());
  for (const number of below(30)) writer.append(envelope(number, 60_000));
  await until("receipted", () => isStored(writer), 30_000);
  const reader = client(relay.origin, room);
  await until("all read", () => reader.synced(), 30_000);
  expect(entries(reader)).toEqual(below(30));
  const pages = reader.heard.filter(({ type }) => type === "update" || type === "history");
  expect(pages.length).toBeGreaterThan(2);
  expect(pages.map(({ type }) => type)).toEqual([...pages.slice(1).map(() => "update"), "history"]);
  const told = reader.heard.length;
  writer.append(envelope(30));
  reader.append(envelope(31));
  await until("each has the other's", () => [writer, reader].every((one) => entries(one).length === 32));
  await until("receipted to both", () => [writer, reader].every(isStored));
  // What it wrote itself comes back only as a receipt.
  const passed = reader.heard.slice(told).filter(({ type }) => type === "update");
  expect(passed).toHaveLength(1);
  expect([...writer.endings, ...reader.endings, ...writer.waits]).toEqual([]);
}, 60_000);

test("RL16 RL19 one that is challenged meets one that came with a token, and goes to the relay that it was told of", async () => {
  const south = await startProcess(folder());
  const north = await startProcess(folder(), 0, { SWARD_RELAY_OTHERS: south.origin });
  const room = makeRoom();
  const same = (payload: object): object => payload;
  const [asking, challenged] = [client(north.origin, room), client(north.origin, room, "ledger", same, "challenge")];
  await until("in", () => asking.synced() && challenged.synced());
  asking.append(envelope(1));
  challenged.append(envelope(2));
  await until("both have both", () => [asking, challenged].every((one) => entries(one).length === 2 && isStored(one)));
  expect(challenged.heard.map(({ type }) => type).slice(0, 4)).toEqual(["challenge", "hello", "ask", "receipt"]);
  expect([...challenged.endings, ...challenged.waits]).toEqual([]);
  await north.end("SIGTERM");
  await until("at the other", () => challenged.at() === south.origin && challenged.synced() && isStored(challenged));
  expect(challenged.endings).toEqual([1001]);
}, 60_000);

test("RL1 RL2 RL18 RL19 a token that is no good ends it after a challenge as it does in an address", async () => {
  const relay = await startProcess(folder());
  const forged = (more: object) =>
    client(relay.origin, makeRoom(), "ledger", (payload) => ({ ...payload, ...more }), "challenge");
  for (const wrong of [{ aud: "https://relay.example" }, { kind: "roster" }]) {
    const one = forged(wrong);
    await until("ended for good", () => one.over());
    expect([one.endings, one.heard.map(({ type }) => type)]).toEqual([[4403], ["challenge"]]);
  }
  const stale = forged({ nonce: "n".repeat(24) });
  await until("told to come again", () => stale.waits.length > 0);
  expect(stale.endings[0]).toBe(4401);
}, 60_000);

test("RL5 RL10 RL17 in a roster: a value put, replaced and erased is heard, and of what is left the sums are equal", async () => {
  const relay = await startProcess(folder());
  const room = makeRoom();
  const [one, other] = [client(relay.origin, room, "roster"), client(relay.origin, room, "roster")];
  await until("in", () => one.synced() && other.synced());
  const roster = one.doc.getMap<Uint8Array>("roster");
  for (const number of below(9)) roster.set(`name ${number % 4}`, envelope(number));
  roster.delete("name 2");
  await until("heard", () => other.doc.getMap("roster").size === 3 && isStored(one));
  expect([...other.doc.getMap("roster").keys()].sort()).toEqual(["name 0", "name 1", "name 3"]);
  for (const caller of [one, other]) {
    const { vector, sum } = await asked(caller);
    expect(sum).toBe(sumOf(caller.doc, vector));
  }
  // What went since the last question is in no answer to the next.
  roster.delete("name 0");
  await until("heard", () => other.doc.getMap("roster").size === 2);
  const { vector, sum } = await asked(other);
  expect(sum).toBe(sumOf(other.doc, vector));
}, 60_000);

test("RL9 RL18 killed and back it is dialled after growing random waits; another store is filled again", async () => {
  const data = folder();
  const relay = await startProcess(data);
  const room = makeRoom();
  const caller = client(relay.origin, room);
  await until("in", () => caller.synced());
  for (const number of below(5)) caller.append(envelope(number));
  await until("receipted", () => isStored(caller));
  await relay.end("SIGKILL");
  await until("missed", () => caller.waits.length >= 3, 20_000);
  for (const [turn, wait] of caller.waits.slice(0, 3).entries()) {
    expect(wait, String(turn)).toBeGreaterThanOrEqual(250 * 2 ** turn);
    expect(wait, String(turn)).toBeLessThanOrEqual(500 * 2 ** turn);
  }
  caller.append(envelope(5));
  const again = await startProcess(data, relay.port);
  await until("in again", () => caller.synced() && isStored(caller), 30_000);
  expect(caller.store()).toBe(relay.store);
  expect(caller.endings[0]).toBe(1006);
  await again.end("SIGKILL");
  const empty = await startProcess(folder(), relay.port);
  await until("filled", () => caller.store() === empty.store && isStored(caller), 30_000);
  const late = client(empty.origin, room);
  await until("read", () => late.synced());
  expect(entries(late)).toEqual(below(6));
}, 90_000);

test("RL16 RL18 the others that a relay names are dialled when it is gone", async () => {
  const south = await startProcess(folder());
  const north = await startProcess(folder(), 0, { SWARD_RELAY_OTHERS: south.origin });
  const room = makeRoom();
  const caller = client(north.origin, room);
  await until("in", () => caller.synced());
  caller.append(envelope(1));
  await north.end("SIGTERM");
  await until("at the other", () => caller.at() === south.origin && caller.synced() && isStored(caller), 30_000);
  expect(caller.endings).toEqual([1001]);
}, 60_000);

test("RL1 RL2 RL12 RL18 close codes are obeyed: some end it for good, after others it comes again and gets in", async () => {
  const relay = await startProcess(folder(), 0, { SWARD_RELAY_ROOM_CONNECTIONS: "1" });
  const ended = async (code: number, one: ProtocolClient): Promise<void> => {
    await until(`ended with ${code}`, () => one.over());
    expect(one.endings).toEqual([code]);
    expect(one.waits).toEqual([]);
  };
  const claims = (more: object) => (payload: object) => ({ ...payload, ...more });
  await ended(4403, client(relay.origin, makeRoom(), "ledger", claims({ aud: "https://relay.example" })));
  await ended(4403, client(relay.origin, makeRoom(), "roster", claims({ kind: "ledger" })));
  const liar: Room = { ...makeRoom(), sign: makeRoom().sign };
  await ended(4403, client(relay.origin, liar));
  const babbler = client(relay.origin, makeRoom());
  await until("in", () => babbler.synced());
  babbler.send(Uint8Array.of(9, 9, 9));
  await ended(4400, babbler);
  const long = client(relay.origin, makeRoom());
  await until("in", () => long.synced());
  long.send(historyPage(new Uint8Array(1024 * 1024 + 200)));
  await ended(1009, long);

  let stale = true;
  const forgetful = client(relay.origin, makeRoom(), "ledger", (payload) => {
    const forged = stale ? claims({ nonce: "n".repeat(24) })(payload) : payload;
    stale = false;
    return forged;
  });
  await until("in with the second token", () => forgetful.synced());
  expect([forgetful.endings, forgetful.waits.length]).toEqual([[4401], 1]);

  const room = makeRoom();
  const first = client(relay.origin, room);
  await until("in", () => first.synced());
  const second = client(relay.origin, room);
  await until("told to try later, twice", () => second.endings.length >= 2, 20_000);
  expect(new Set(second.endings)).toEqual(new Set([1013]));
  first.close();
  await until("in when there is room", () => second.synced(), 30_000);
}, 90_000);

test("RL7 RL8 what is refused is told why, and a gap is asked about", async () => {
  const relay = await startProcess(folder());
  const caller = client(relay.origin, makeRoom());
  await until("in", () => caller.synced());
  caller.append(new Uint8Array(39).fill(1));
  const refusals = (): string[] => caller.heard.flatMap((one) => (one.type === "refusal" ? [one.reason.type] : []));
  await until("refused", () => refusals().length > 0);
  expect(refusals()).toEqual(["bad-envelope"]);
  const asks = (): number => caller.heard.filter(({ type }) => type === "ask").length;
  const before = asks();
  caller.append(envelope(1));
  await until("asked for what it leans on", () => asks() > before);
}, 60_000);

test("RL17 one place claimed twice at two relays: vectors are equal, nothing is asked for, and the sums tell", async () => {
  const [north, south] = [await startProcess(folder()), await startProcess(folder())];
  const room = makeRoom();
  const at = async (origin: string, number: number): Promise<ProtocolClient> => {
    const one = client(origin, room);
    one.doc.clientID = 300;
    await until("in", () => one.synced());
    one.append(envelope(1));
    one.append(envelope(number));
    await until("receipted", () => isStored(one));
    return one;
  };
  const [first, second] = [await at(north.origin, 2), await at(south.origin, 3)];
  const sums = await Promise.all([first, second].map(asked));
  expect(sums[0]?.vector).toEqual(sums[1]?.vector);
  expect(sums[0]?.sum).toBe(sumOf(first.doc, new Map([[300, 2]])));
  expect(sums[1]?.sum).toBe(sumOf(second.doc, new Map([[300, 2]])));
  expect(sums[0]?.sum).not.toBe(sums[1]?.sum);
  // A device that goes from one to the other hears of nothing new, and finds out all the same.
  const mover = client(north.origin, room);
  await until("read at the first", () => mover.synced());
  const moved = client(south.origin, room);
  Y.applyUpdate(moved.doc, Y.encodeStateAsUpdate(mover.doc));
  await until("in at the second", () => moved.synced());
  expect(entries(moved)).toEqual([1, 2]);
  const { vector, sum } = await asked(moved);
  expect(sumOf(moved.doc, vector)).not.toBe(sum);
  // Written again under an id that is new, it is at the second relay beside what was there.
  moved.append(envelope(2));
  await until("receipted", () => isStored(moved));
  const late = client(south.origin, room);
  await until("read", () => late.synced());
  expect(entries(late)).toEqual([1, 2, 3]);
  const fresh = await asked(late);
  expect(sumOf(late.doc, fresh.vector)).toBe(fresh.sum);
}, 90_000);

type Digest = Extract<Heard, { type: "digest" }>;
const digestsIn = ({ heard }: ProtocolClient): Digest[] => heard.filter((one): one is Digest => one.type === "digest");

async function asked(caller: ProtocolClient): Promise<Digest> {
  const before = digestsIn(caller).length;
  caller.send(compare());
  await until("a digest", () => digestsIn(caller).length > before);
  return digestsIn(caller).at(-1) as Digest;
}

test("RL1 a token is what a JOSE library makes of it", async () => {
  const { compactVerify, importJWK } = await import("jose");
  const room = makeRoom();
  const key = await importJWK({ kty: "OKP", crv: "Ed25519", x: room.name }, "EdDSA");
  const { payload, protectedHeader } = await compactVerify(makeToken(room, { nonce: "x" }), key);
  expect(JSON.parse(Buffer.from(payload).toString())).toEqual({ nonce: "x" });
  expect(protectedHeader.typ).toBe("sward-token");
});
