/**
 * The relay as a process of its own, killed without warning in the middle of a stream of writes and started again on the same
 * folder: whatever a receipt was sent for is there.
 */
import { afterEach, expect, test } from "vitest";
import * as Y from "yjs";
import { envelope, numberOf } from "../support/envelopes.ts";
import { temporaryFolders } from "../support/folders.ts";
import { newRoom, until, wired } from "../support/meeting.ts";
import { endAll, startProcess } from "../support/relay-process.ts";

const folder = temporaryFolders();
afterEach(endAll);

test("RL6 killed in the middle of writing, three times over: nothing that was receipted is lost", async () => {
  const data = folder();
  const room = await newRoom();
  let relay = await startProcess(data);
  const { store, port } = relay;
  for (let round = 0; round < 3; round += 1) {
    const writer = wired(relay.origin, room);
    await until("live", () => writer.wire.state().type === "live");
    const start = round * 10_000;
    let written = 0;
    const writing = setInterval(() => {
      for (let count = 0; count < 5; count += 1) writer.entries.push([envelope(start + written + count)]);
      written += 5;
    }, 1);
    await until("many receipts", () => (writer.wire.stored().get(writer.doc.clientID) ?? 0) >= 60 + round * 35);
    await relay.end("SIGKILL");
    clearInterval(writing);
    const receipted = writer.wire.stored().get(writer.doc.clientID) ?? 0;
    await writer.wire.close();
    expect(written).toBeGreaterThan(receipted - 1);

    relay = await startProcess(data, port);
    expect(relay.store).toBe(store);
    const reader = wired(relay.origin, room, "ledger", new Y.Doc());
    await until("synced", () => JSON.stringify(reader.wire.state()) === JSON.stringify({ type: "live", synced: true }));
    const there = new Set(reader.entries.toArray().map(numberOf));
    const missing = Array.from({ length: receipted }, (_, index) => start + index).filter(
      (number) => !there.has(number),
    );
    expect(missing).toEqual([]);
    expect(reader.wire.refusals()).toEqual([]);
    await reader.wire.close();
  }
  await relay.end("SIGKILL");
}, 60_000);

test("RL6 asked to stop, it writes what waits, says goodbye, and ends with 0", async () => {
  const data = folder();
  const room = await newRoom();
  const relay = await startProcess(data);
  const writer = wired(relay.origin, room);
  await until("live", () => writer.wire.state().type === "live");
  writer.entries.push([envelope(1)]);
  await until("stored", () => writer.wire.stored().get(writer.doc.clientID) === 1);
  expect(await relay.end("SIGTERM")).toBe(0);
  expect(writer.wire.state()).toMatchObject({ type: "connecting" });
  await writer.wire.close();
}, 30_000);

test("a second relay on the same folder does not start, and says why", async () => {
  const data = folder();
  const relay = await startProcess(data);
  await expect(startProcess(data)).rejects.toThrow(/cannot start.*(lock|LOCK)/s);
  await relay.end("SIGKILL");
}, 30_000);
