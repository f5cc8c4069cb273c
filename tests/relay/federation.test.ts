/**
 * Three relays, each a process, on a JetStream of three servers, each a process: any relay and any server killed while devices write.
 * Nothing that was receipted is lost, and the devices move on to a relay that lives without being told by anybody.
 */
import { setTimeout as pause } from "node:timers/promises";
import { jetstreamManager } from "@nats-io/jetstream";
import { connectNats } from "@sward/relay";
import { afterAll, expect, test } from "vitest";
import { envelope, numberOf } from "../support/envelopes.ts";
import { temporaryFolders } from "../support/folders.ts";
import { newRoom, until, wired } from "../support/meeting.ts";
import type { NatsNode } from "../support/nats-server.ts";
import { freePorts, startNatsCluster } from "../support/nats-server.ts";
import type { RelayProcess } from "../support/relay-process.ts";
import { endAll, startProcess } from "../support/relay-process.ts";

const folder = temporaryFolders();
let nodes: readonly NatsNode[] = [];
afterAll(async () => {
  endAll();
  for (const node of nodes) await node.kill();
});

test("RL16 any relay and any server killed under load: nothing receipted is lost, and devices move on", async () => {
  nodes = await startNatsCluster(folder());
  const ports = await freePorts(3);
  const origins = ports.map((port) => `http://127.0.0.1:${port}`);
  const folders = ports.map(() => folder());
  const start = (place: number): Promise<RelayProcess> =>
    startProcess(folders[place] ?? "", ports[place], {
      SWARD_RELAY_NATS: nodes.map(({ url }) => url).join(","),
      SWARD_RELAY_NATS_REPLICAS: "3",
      SWARD_RELAY_OTHERS: origins.filter((_, other) => other !== place).join(","),
    });
  const relays = [await start(0), await start(1), await start(2)];
  expect(new Set(relays.map(({ store }) => store)).size).toBe(1);

  const connection = await connectNats({ servers: nodes.map(({ url }) => url) });
  const manager = await jetstreamManager(connection);
  const isHealed = async (stream: string): Promise<boolean> => {
    const { cluster } = await manager.streams.info(stream);
    const replicas = cluster?.replicas ?? [];
    return replicas.length === 2 && replicas.every(({ current, lag = 0 }) => current && lag === 0);
  };
  const healed = async (): Promise<void> => {
    const both = async () => (await Promise.all(["sward-ledger", "sward-roster"].map(isHealed))).every(Boolean);
    await expect.poll(() => both().catch(() => false), { timeout: 60_000, interval: 500 }).toBe(true);
  };

  const room = await newRoom();
  const devices = [0, 1, 2, 0, 1, 2].map((place) => wired(origins[place] ?? "", room));
  let [turn, writing] = [0, true];
  const load = (async () => {
    while (writing) {
      devices[turn % devices.length]?.entries.push([envelope(turn)]);
      turn += 1;
      await pause(10);
    }
  })();
  const mine = (place: number): number => devices[place]?.doc.clientID ?? 0;
  const receipted = (): number =>
    devices.reduce((sum, { wire }, place) => sum + (wire.stored().get(mine(place)) ?? 0), 0);
  /** Of each device, the numbers that its own relay has receipted by now: each wrote every sixth, in order. */
  const receiptedNumbers = (): number[] =>
    devices.flatMap(({ wire }, place) =>
      Array.from({ length: wire.stored().get(mine(place)) ?? 0 }, (_, clock) => place + clock * devices.length),
    );
  await until("receipts", () => receipted() > 100, 20_000);

  for (const round of [0, 1, 2]) {
    const [relay, node] = [relays[round], nodes[(round + 1) % 3]];
    await Promise.all([relay?.end("SIGKILL"), node?.kill()]);
    const promised = receiptedNumbers();
    const before = receipted();
    await until(`round ${round}: writing goes on`, () => receipted() > before + 200, 60_000);
    const left = relays[(round + 1) % 3];
    const reader = wired(left?.origin ?? "", room);
    await until("read", () => JSON.stringify(reader.wire.state()) === '{"type":"live","synced":true}', 30_000);
    const lost = (): number[] => {
      const there = new Set(reader.entries.toArray().map(numberOf));
      return promised.filter((number) => !there.has(number));
    };
    // A relay that was listening at the server that is gone is behind until it listens at another.
    await expect.poll(lost, { timeout: 30_000, interval: 200 }).toEqual([]);
    await reader.wire.close();
    const live = (): boolean => devices.every(({ wire }) => wire.state().type === "live");
    await until(`round ${round}: everybody has moved on`, live, 30_000);
    await node?.start();
    relays[round] = await start(round);
    // One at a time is what is promised: the server that was away must have caught up before another goes.
    await healed();
  }

  writing = false;
  await load;
  const everything = (): boolean =>
    devices.every(({ entries, wire }, place) => entries.length === turn && wire.stored().has(mine(place)));
  await until("everything everywhere", () => everything() && receipted() === turn, 60_000);
  for (const { wire } of devices) {
    expect(wire.refusals()).toEqual([]);
    await wire.close();
  }
  // And it is in the store, not only in the memory of whoever is left.
  for (const relay of relays) await relay.end("SIGKILL");
  relays[0] = await start(0);
  const late = wired(origins[0] ?? "", room);
  await until("read from the store", () => late.entries.length === turn, 30_000);
  expect(new Set(late.entries.toArray().map(numberOf)).size).toBe(turn);
  console.info(`three relays on three servers: ${turn} entries through three losses of a relay and a server`);
  await late.wire.close();
  await connection.close();
}, 240_000);
