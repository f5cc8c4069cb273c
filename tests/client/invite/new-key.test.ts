/** A device whose key is at work in two places: it stops, takes a new key, is admitted with it and goes on. Real relay, LevelDB, keys. */
import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Book, Pass, Signer } from "@sward/client";
import { createSigner, openBook, seedOf, systemRandom } from "@sward/client";
import type { Draft, PlayerId } from "@sward/core";
import { afterEach, beforeEach, expect, test } from "vitest";
import type { SharedKeyMark } from "../../../packages/client/src/book/own-chain.ts";
import { foundClub, newDevice } from "../../../packages/client/src/desk/found.ts";
import { nodeBookOptions } from "../../../packages/client/src/desk/node.ts";
import { bookPassOf } from "../../../packages/client/src/desk/pass.ts";
import type { OptionsFor } from "../../../packages/client/src/desk/settle.ts";
import { settleDevice } from "../../../packages/client/src/desk/settle.ts";
import { admitDevice } from "../../../packages/client/src/invite/host.ts";
import { openMeeting } from "../../../packages/client/src/invite/meeting.ts";
import {
  askForNewKey,
  becomeNewKey,
  epochNow,
  NEW_KEY_TYP,
  newKeyAsksIn,
  newKeyRoom,
  readNewKeyAsk,
} from "../../../packages/client/src/invite/new-key.ts";
import { shortCode } from "../../../packages/client/src/invite/short-code.ts";
import { signMessage } from "../../../packages/client/src/invite/signed.ts";
import { openWire } from "../../../packages/client/src/wire/wire.ts";
import type { TestRelay } from "../../support/meeting.ts";
import { relayWith, wireDeps } from "../../support/meeting.ts";
import { until } from "../../support/two-clubs.ts";

const clock = { timestamp: () => "2026-08-20T10:00:00Z", today: () => "2026-08-20" };
const holder = { name: "Bo Linnet", short: "Bo L." };
const visitor = (n: number): Draft => ({
  kind: "player-joined",
  body: { player: Buffer.alloc(16, n).toString("base64url") as PlayerId, standing: "visitor" },
});

let folder = "";
let relay: TestRelay;
let handicapper: Book;
let pass: Pass;
const open: Book[] = [];

beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), "sward-new-key-"));
  relay = await relayWith();
  const club = { name: "Larkfield Croquet Club", rules: "england-2016", from: "2026-01-01" } as const;
  const first = { label: "Ines's laptop", holder: { name: "Ines Calder", short: "Ines C." } };
  const deps = { clock, randomBytes: systemRandom, optionsFor: optionsIn("", false) };
  const founded = await foundClub(systemRandom(32), club, first, null, deps);
  if (!founded.ok) throw new Error(founded.fault.type);
  handicapper = await opened(founded.value.pass, "");
  const recorder = await newDevice("Bo's phone", bookPassOf(handicapper), systemRandom);
  pass = recorder.pass;
  await handicapper.append([{ kind: "device-admitted", body: { device: recorder.device.key, role: "recorder" } }]);
  const record = { entries: [...handicapper.entries()].map(({ jws }) => jws), names: handicapper.roster.envelopes() };
  await settleDevice(pass, record, optionsIn("", false));
});
afterEach(async () => {
  for (const book of open.splice(0)) await book.close();
  await relay.close();
  await rm(folder, { recursive: true });
});

const wired = () => ({ url: relay.origin, open: openWire, deps: wireDeps });
const optionsIn =
  (copy: string, met = true): OptionsFor =>
  (device, book) =>
    nodeBookOptions(join(folder, copy + device.id), device, book, met ? wired() : null, clock);

/** @param copy another folder: the same key in another place */
async function opened(of: Pass, copy: string, sharedKey?: SharedKeyMark): Promise<Book> {
  const options = await optionsIn(copy)(await createSigner(seedOf(of)), of.club);
  const book = await openBook(sharedKey === undefined ? options : { ...options, sharedKey });
  open.push(book);
  return book;
}

const remembered = (): SharedKeyMark => {
  let noted = false;
  return {
    is: () => noted,
    note() {
      noted = true;
    },
  };
};

const inStep = (book: Book) =>
  until("in step", () => book.caughtUp() && book.connection().type === "live" && book.waiting() === 0);

/** The recorder's device after its key has written in another place too. */
async function shared(mark: SharedKeyMark): Promise<Book> {
  const book = await opened(pass, "", mark);
  await book.append([visitor(1)]);
  await inStep(book);
  const elsewhere = await opened(pass, "copy ");
  await inStep(elsewhere);
  expect((await elsewhere.append([visitor(2)])).ok).toBe(true);
  await until("it is seen", () => book.halted() !== null);
  await elsewhere.close();
  open.splice(open.indexOf(elsewhere), 1);
  return book;
}

const reopen = async (book: Book, mark?: SharedKeyMark): Promise<Book> => {
  await book.close();
  open.splice(open.indexOf(book), 1);
  return opened(pass, "", mark);
};

test("a key seen in use elsewhere stays unused after a restart, where that is remembered", async () => {
  const mark = remembered();
  const book = await shared(mark);
  expect(book.halted()).toEqual({ type: "used-elsewhere" });
  const again = await reopen(book, mark);
  expect(await again.append([visitor(3)])).toEqual({ ok: false, fault: { type: "used-elsewhere" } });
  // Nothing in the record itself says so: without the mark it would write on.
  const forgetful = await reopen(again);
  expect(forgetful.halted()).toBeNull();
});

test("it asks for a new key over the relay, both see one code, and admitted it writes on with all it had", async () => {
  const book = await shared(remembered());
  const signer = await createSigner(seedOf(pass));
  const room = await newKeyRoom(book.id, epochNow(book));
  const asked = await askForNewKey(signer, room, "Bo's phone", systemRandom);
  const guest = openMeeting(room, { relay: wired(), randomBytes: systemRandom });
  guest.say(asked.text);
  await until("it lies at the relay", () => guest.allStored());
  const host = openMeeting(await newKeyRoom(handicapper.id, epochNow(handicapper)), {
    relay: wired(),
    randomBytes: systemRandom,
  });
  await until("it has come", () => host.texts().length === 1);
  const [seen] = await newKeyAsksIn(host.texts(), room.id, handicapper);
  if (seen === undefined) throw new Error("no ask");
  expect(seen.old).toBe(signer.id);
  expect(await shortCode({ from: seen.oldKey }, seen.ask)).toBe(await shortCode({ from: signer.key }, asked.own.ask));

  const desk = { club: book, leagues: [] };
  const early = await becomeNewKey(asked, "Bo's phone", desk, optionsIn("", false));
  expect(early).toEqual({ ok: false, fault: { type: "new-key-not-admitted" } });
  await admitDevice(seen.ask, "recorder", holder, { club: handicapper, leagues: [] });
  expect(await newKeyAsksIn(host.texts(), room.id, handicapper)).toEqual([]);
  await until("the admission is here", () => book.state().devices.has(asked.own.ask.device));
  const become = await becomeNewKey(asked, "Bo's phone", desk, optionsIn("", false));
  if (!become.ok) throw new Error(become.fault.type);
  const held = [...book.entries()].map(({ id }) => id);
  const renewed = await opened(become.value, "");
  // Before it has met any relay: all that it held is here, and it may write.
  expect([...renewed.entries()].map(({ id }) => id)).toEqual(expect.arrayContaining(held));
  expect((await renewed.append([visitor(4)])).ok).toBe(true);
  await until("the handicapper has it", () => handicapper.state().players.has(idOf(4)));
  for (const n of [1, 2, 4]) expect(handicapper.state().players.has(idOf(n))).toBe(true);
  expect(handicapper.roster.get(renewed.device)).toEqual({ ...holder, device: "Bo's phone" });
  await guest.close();
  await host.close();
});

const idOf = (n: number): PlayerId => Buffer.alloc(16, n).toString("base64url") as PlayerId;

test("an ask that the old key did not sign, of no device of the book, of the root, or of another epoch is none", async () => {
  const room = await newKeyRoom(handicapper.id, epochNow(handicapper));
  const bo = await createSigner(seedOf(pass));
  const asked = await askForNewKey(bo, room, "Bo's phone", systemRandom);
  const asks = (text: string, id = room.id) => newKeyAsksIn([text], id, handicapper);
  expect((await asks(asked.text)).length).toBe(1);
  const stranger: Signer = await createSigner(systemRandom(32));
  expect(await asks((await askForNewKey(stranger, room, "stranger", systemRandom)).text)).toEqual([]);
  const forged = await signMessage(stranger, NEW_KEY_TYP, { v: 1, old: bo.key, ask: asked.own.ask.text });
  expect(await asks(forged)).toEqual([]);
  expect(await readNewKeyAsk(forged, room.id)).toEqual({ ok: false, fault: { type: "parcel-broken" } });
  const other = await newKeyRoom(handicapper.id, { epoch: 1, secret: systemRandom(32) });
  expect(other.id).not.toBe(room.id);
  expect(await asks(asked.text, other.id)).toEqual([]);
  expect(await asks(`${asked.text.slice(0, -4)}AAAA`)).toEqual([]);
  expect(await asks("")).toEqual([]);
});
