/** A ledger of many short writes becomes few pages when it is opened, and nothing of it is dropped. */
import { createMemoryStorage, openLevelStorage } from "@sward/relay";
import { expect, test } from "vitest";
import * as Y from "yjs";
import { fillDocument } from "../../packages/relay/src/fill.ts";
import { tidyLedger } from "../../packages/relay/src/tidy.ts";
import { driverRooms, ledgerUpdate, numberAt } from "../support/append-rooms.ts";
import { numberOf } from "../support/envelopes.ts";
import { temporaryFolders } from "../support/folders.ts";
import { newRoom, random, relayWith, until, wired } from "../support/meeting.ts";

const folder = temporaryFolders();
const updates = Array.from({ length: 1500 }, (_, clock) => ledgerUpdate(0, clock));
const all = Array.from({ length: 1500 }, (_, clock) => numberAt(0, clock));

test("RL6 opened, a ledger of fifteen hundred writes is kept as a few pages that say the same, and goes on behind them", async () => {
  const at = folder();
  const room = await newRoom();
  const key = { kind: "ledger", room: room.name } as const;
  const storage = await openLevelStorage(at, random);
  await storage.append(key, updates);
  const relay = await relayWith({}, storage);
  const device = wired(relay.origin, room);
  await until("read", () => device.entries.length === 1500);
  expect(relay.events).toContainEqual({ type: "tidied", room: `ledger/${room.name}`, writes: 1500 });
  expect((await storage.load(key)).length).toBeLessThan(5);
  device.entries.push([new Uint8Array(60).fill(1)]);
  await until("stored", () => device.wire.stored().get(device.doc.clientID) === 1);
  await device.wire.close();
  await relay.close();
  const again = await openLevelStorage(at, random);
  const doc = new Y.Doc();
  fillDocument(doc, "ledger", await again.load(key));
  const numbers = doc.getArray<Uint8Array>("entries").toArray().map(numberOf);
  expect(numbers.slice(0, 1500)).toEqual(all);
  expect(numbers).toHaveLength(1501);
  await again.close();
});

test("RL6 what was stored after the ledger was read is not tidied away", async () => {
  const storage = createMemoryStorage("late");
  const key = driverRooms[0] ?? ({} as never);
  await storage.append(key, updates.slice(0, 1200));
  const doc = new Y.Doc();
  fillDocument(doc, "ledger", await storage.load(key));
  await storage.append(key, updates.slice(1200));
  expect(await tidyLedger(key, doc, 1200, storage, 512 * 1024)).toBe(false);
  expect(await storage.load(key)).toHaveLength(1500);
});

test("RL6 a page that would not say what the ledger says is not put in its place", async () => {
  const storage = createMemoryStorage("differs");
  const key = driverRooms[0] ?? ({} as never);
  await storage.append(key, updates);
  const doc = new Y.Doc();
  // Not what a ledger may hold: the screen that the pages must pass refuses it, so the document and its pages differ.
  doc.getMap("elsewhere").set("a", 1);
  await expect(tidyLedger(key, doc, 1500, storage, 512 * 1024)).rejects.toThrow();
  expect(await storage.load(key)).toHaveLength(1500);
});
