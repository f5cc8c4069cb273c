/** Backup, restore and check: by the commands people type, with a relay running and without, and with files that are damaged. */
import { execFile } from "node:child_process";
import { existsSync, readdirSync, readFileSync, statSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { createMemoryStorage, openLevelStorage } from "@sward/relay";
import { afterEach, expect, test } from "vitest";
import * as Y from "yjs";
import { envelope, numberOf } from "../support/envelopes.ts";
import { temporaryFolders } from "../support/folders.ts";
import { newRoom, random, until, wired } from "../support/meeting.ts";
import { openShared, startNats } from "../support/nats-server.ts";
import type { RelayProcess } from "../support/relay-process.ts";
import { endAll, startProcess } from "../support/relay-process.ts";

const folder = temporaryFolders();
const open: { close(): Promise<unknown> }[] = [];
afterEach(async () => {
  for (const one of open.splice(0).reverse()) await one.close();
  endAll();
});

/** As typed after `npx sward relay`. */
function relayCommand(data: string, ...args: string[]): Promise<{ code: number; out: string; err: string }> {
  return new Promise((done) => {
    execFile(
      process.execPath,
      ["packages/client/bin/sward.mjs", "relay", ...args],
      { env: { PATH: process.env["PATH"] ?? "", SWARD_RELAY_DATA: data } },
      (failed, out, err) => done({ code: failed === null ? 0 : Number(failed.code), out, err }),
    );
  });
}

/** A device that has written some entries and knows that they are stored. */
async function deviceAt(relay: RelayProcess, room: Awaited<ReturnType<typeof newRoom>>, numbers: readonly number[]) {
  const device = wired(relay.origin, room);
  open.push(device.wire);
  await until("live", () => device.wire.state().type === "live");
  for (const number of numbers) device.entries.push([envelope(number)]);
  await until("stored", () => (device.wire.stored().get(device.doc.clientID) ?? 0) >= numbers.length);
  return device;
}

test("backed up and checked while it runs, restored into an empty folder: all is there, and what came later is filled in", async () => {
  const [data, file, room] = [folder(), join(folder(), "backup"), await newRoom()];
  const relay = await startProcess(data);
  const device = await deviceAt(relay, room, [1, 2, 3]);
  expect(await relayCommand(data, "backup", file)).toMatchObject({ code: 0, err: "" });
  expect(statSync(file).mode & 0o077).toBe(0);
  // Receipted, and in no backup.
  device.entries.push([envelope(4)]);
  await until("stored", () => device.wire.stored().get(device.doc.clientID) === 4);
  const report = JSON.parse((await relayCommand(data, "check", "--json")).out) as object;
  expect(report).toMatchObject({ store: relay.store, rooms: 1, envelopes: 4, damaged: [], unread: null });
  await relay.end("SIGKILL");

  const anew = folder();
  const restored = await relayCommand(anew, "restore", file, "--json");
  expect(restored).toMatchObject({ code: 0, err: "" });
  expect(JSON.parse(restored.out)).toMatchObject({ rooms: 1, updates: 3, refused: 0 });
  const again = await startProcess(anew, relay.port);
  expect(again.store).not.toBe(relay.store);
  const other = wired(again.origin, room);
  open.push(other.wire);
  await until("filled in from the device", () => other.entries.length === 4);
  expect(other.entries.toArray().map(numberOf)).toEqual([1, 2, 3, 4]);
  await until("noticed", () => device.wire.storeId() === again.store);
}, 60_000);

test("restored into a relay in use: nothing twice, whoever is in the room hears it, and the store has another id", async () => {
  const [data, file, room] = [folder(), join(folder(), "backup"), await newRoom()];
  const before = await startProcess(data);
  await deviceAt(before, room, [1, 2]);
  expect((await relayCommand(data, "backup", file)).code).toBe(0);
  await before.end("SIGKILL");

  const inUse = folder();
  const relay = await startProcess(inUse);
  const other = wired(relay.origin, room);
  open.push(other.wire);
  await until("live", () => other.wire.state().type === "live");
  other.entries.push([envelope(9)]);
  for (const turn of [1, 2]) {
    expect(await relayCommand(inUse, "restore", file), `turn ${turn}`).toMatchObject({ code: 0, err: "" });
    await until("heard", () => other.entries.length === 3);
  }
  await until("another id", () => other.wire.storeId() !== null && other.wire.storeId() !== relay.store);
  await until("stored again", () => other.wire.stored().get(other.doc.clientID) === 1);
  const report = JSON.parse((await relayCommand(inUse, "check", "--json")).out) as object;
  expect(report).toMatchObject({ store: other.wire.storeId(), rooms: 1, envelopes: 3, damaged: [] });
}, 60_000);

test("RL10 what a roster has erased since the backup stays erased when it is restored into the store that knows", async () => {
  const [data, file, room] = [folder(), join(folder(), "backup"), await newRoom()];
  const relay = await startProcess(data);
  const device = wired(relay.origin, room, "roster");
  open.push(device.wire);
  await until("live", () => device.wire.state().type === "live");
  const roster = device.doc.getMap<Uint8Array>("roster");
  roster.set("anna", envelope(1));
  roster.set("bertil", envelope(2));
  await until("stored", () => device.wire.stored().get(device.doc.clientID) === 2);
  expect((await relayCommand(data, "backup", file)).code).toBe(0);
  roster.delete("anna");
  const secret = Buffer.from(envelope(1));
  const onDisk = (): boolean =>
    readdirSync(data).some((name) => name !== "control.sock" && has(join(data, name), secret));
  await until("erased", () => !onDisk());
  expect((await relayCommand(data, "restore", file)).code).toBe(0);
  expect(onDisk()).toBe(false);
  const other = wired(relay.origin, room, "roster");
  open.push(other.wire);
  await until("read", () => other.doc.getMap("roster").size === 1);
  expect([...other.doc.getMap("roster").keys()]).toEqual(["bertil"]);
}, 60_000);

const has = (file: string, bytes: Buffer): boolean => existsSync(file) && readFileSync(file).includes(bytes);

test("a backup that was cut short or altered is refused before anything is restored", async () => {
  const [data, file, room] = [folder(), join(folder(), "backup"), await newRoom()];
  const relay = await startProcess(data);
  await deviceAt(relay, room, [1, 2, 3]);
  await relayCommand(data, "backup", file);
  const whole = readFileSync(file, "utf8");
  const lines = whole.trimEnd().split("\n");
  expect(lines).toHaveLength(5);
  const faults = [
    [lines.slice(0, -1).join("\n"), "was cut short"],
    [whole.slice(0, -40), "Line 5"],
    [[lines[0], ...lines.slice(2)].join("\n"), "was altered"],
    [whole.replace(/"update":"AQ/, '"update":"AR'), "was altered"],
    [whole.replace('"ledger"', '"cellar"'), "Line 2"],
    ["", "is no backup"],
    ["hello\n", "is no backup"],
  ] as const;
  const bad = join(folder(), "bad");
  const empty = folder();
  for (const [text, sentence] of faults) {
    writeFileSync(bad, text);
    const { code, err } = await relayCommand(empty, "restore", bad);
    expect([code, err.includes(sentence), err]).toEqual([1, true, err]);
  }
  expect(readdirSync(empty)).toEqual([]);
  const missing = await relayCommand(empty, "restore", join(empty, "nowhere"));
  expect(missing).toMatchObject({ code: 1, err: expect.stringContaining("ENOENT") });
  expect((await relayCommand(empty, "mend")).code).toBe(2);
}, 90_000);

test("RL11 check finds the room that cannot be served, and the others are backed up and restored all the same", async () => {
  const [data, file] = [folder(), join(folder(), "backup")];
  const [good, bad] = [await newRoom(), await newRoom()];
  const storage = await openLevelStorage(data, random);
  const doc = wired("http://127.0.0.1:9", good);
  open.push(doc.wire);
  doc.doc.once("update", (update: Uint8Array) => {
    void storage.append({ kind: "ledger", room: good.name }, [update]);
  });
  doc.entries.push([envelope(5)]);
  await storage.append({ kind: "ledger", room: bad.name }, [Uint8Array.of(1, 2, 3)]);
  await storage.close();
  const report = await relayCommand(data, "check");
  expect(report.code).toBe(1);
  expect(report.out).toContain(`Damaged: ledger/${bad.name}: Error: stored update refused`);
  expect((await relayCommand(data, "backup", file)).code).toBe(0);
  const anew = folder();
  const restored = await relayCommand(anew, "restore", file, "--json");
  expect(restored.code).toBe(1);
  expect(JSON.parse(restored.out)).toMatchObject({ rooms: 2, updates: 2, refused: 1 });
  expect(JSON.parse((await relayCommand(anew, "check", "--json")).out)).toMatchObject({ envelopes: 1, damaged: [] });
}, 60_000);

test("a backup of one machine's store goes into the shared one, and back", async () => {
  const [data, file, back] = [folder(), join(folder(), "backup"), join(folder(), "back")];
  const room = await newRoom();
  const first = await startProcess(data);
  await deviceAt(first, room, [1, 2, 3]);
  await relayCommand(data, "backup", file);
  const node = await startNats(folder());
  open.push({ close: node.kill });
  const shared = folder();
  const settings = { SWARD_RELAY_NATS: node.url, SWARD_RELAY_NATS_REPLICAS: "1", SWARD_RELAY_NATS_NAME: "moved" };
  const relay = await startProcess(shared, 0, settings);
  expect((await relayCommand(shared, "restore", file)).code).toBe(0);
  expect((await relayCommand(shared, "backup", back)).code).toBe(0);
  await relay.end("SIGTERM");
  const storage = await openShared([node.url], "moved");
  open.push(storage);
  expect(storage.id).not.toBe(relay.store);
  expect(await storage.load({ kind: "ledger", room: room.name })).toHaveLength(3);
  const anew = folder();
  expect(await relayCommand(anew, "restore", back)).toMatchObject({ code: 0 });
  expect(JSON.parse((await relayCommand(anew, "check", "--json")).out)).toMatchObject({ rooms: 1, envelopes: 3 });
}, 90_000);

test("RL17 compare names the rooms in which two stores differ for ever, and those where one is only behind", async () => {
  const [north, south, file] = [folder(), folder(), join(folder(), "report")];
  const [forked, behind, same] = [await newRoom(), await newRoom(), await newRoom()];
  for (const [at, number] of [
    [north, 2],
    [south, 3],
  ] as const) {
    const relay = await startProcess(at);
    for (const room of [forked, behind, same]) {
      const doc = new Y.Doc();
      doc.clientID = 300;
      const device = wired(relay.origin, room, "ledger", doc);
      open.push(device.wire);
      device.entries.push([envelope(1)]);
      if (room !== same && (room === forked || at === north)) device.entries.push([envelope(number)]);
      await until("stored", () => device.wire.stored().get(300) === device.entries.length);
      await device.wire.close();
    }
    const report = await relayCommand(at, "check", "--json");
    if (at === north) writeFileSync(file, report.out);
    else {
      const compared = await relayCommand(at, "compare", file, "--json");
      expect(JSON.parse(compared.out)).toMatchObject({
        here: relay.store,
        same: 1,
        diverged: [`ledger/${forked.name}`],
        behind: [`ledger/${behind.name}`],
      });
      expect(compared.code).toBe(1);
      const text = await relayCommand(at, "compare", file);
      expect(text.out).toContain(`Different contents in the same places: ledger/${forked.name}`);
      writeFileSync(file, report.out);
      expect(await relayCommand(at, "compare", file)).toMatchObject({ code: 0 });
      writeFileSync(file, "{}");
      expect(await relayCommand(at, "compare", file)).toMatchObject({ code: 1, out: "" });
    }
    await relay.end("SIGKILL");
  }
}, 60_000);

test("a store that is renewed goes by another id from then on, in memory and on disk", async () => {
  const at = folder();
  const level = await openLevelStorage(at, random);
  for (const storage of [createMemoryStorage("one"), level]) {
    const before = storage.id;
    await storage.renew();
    expect(storage.id).not.toBe(before);
  }
  const { id } = level;
  await level.close();
  const again = await openLevelStorage(at, random);
  open.push(again);
  expect(again.id).toBe(id);
});
