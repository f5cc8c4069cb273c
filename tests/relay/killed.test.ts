/**
 * The relay as a process of its own, killed without warning in the middle of a stream of writes and started again on the same
 * folder: whatever a receipt was sent for is there.
 */
import type { ChildProcess } from "node:child_process";
import { spawn } from "node:child_process";
import { afterEach, expect, test } from "vitest";
import * as Y from "yjs";
import { envelope, numberOf } from "../support/envelopes.ts";
import { temporaryFolders } from "../support/folders.ts";
import { newRoom, until, wired } from "../support/meeting.ts";

const folder = temporaryFolders();
const running = new Set<ChildProcess>();
afterEach(() => {
  for (const child of running) child.kill("SIGKILL");
  running.clear();
});

interface RelayProcess {
  readonly origin: string;
  readonly port: number;
  readonly store: string;
  readonly child: ChildProcess;
  /** Resolves with the exit code, null after a killing signal. */
  end(signal: NodeJS.Signals): Promise<number | null>;
}

async function startProcess(data: string, port = 0): Promise<RelayProcess> {
  const child = spawn(process.execPath, ["--import", "tsx", "packages/relay/src/main.ts"], {
    env: {
      PATH: process.env["PATH"] ?? "",
      SWARD_RELAY_DATA: data,
      SWARD_RELAY_PORT: String(port),
      SWARD_RELAY_APP: "",
    },
    stdio: ["ignore", "pipe", "pipe"],
  });
  running.add(child);
  let said = "";
  child.stdout.on("data", (text: Buffer) => {
    said += text.toString();
  });
  child.stderr.on("data", (text: Buffer) => {
    said += text.toString();
  });
  const ended = new Promise<number | null>((done) => child.once("exit", (code) => done(code)));
  await until(`the relay listens: ${said}`, () => said.includes('"listening"') || child.exitCode !== null, 20_000);
  const line = said.split("\n").find((text) => text.includes('"listening"'));
  if (line === undefined) throw new Error(`the relay did not start: ${said}`);
  const { url, store } = JSON.parse(line) as { url: string; store: string };
  const at = Number(new URL(url).port);
  return {
    origin: `http://127.0.0.1:${at}`,
    port: at,
    store,
    child,
    end: (signal) => {
      child.kill(signal);
      running.delete(child);
      return ended;
    },
  };
}

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
