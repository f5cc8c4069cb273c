/** The store's contract on three NATS servers that replicate, and on servers that are full. */
import { jetstreamManager } from "@nats-io/jetstream";
import type { RoomName } from "@sward/core";
import { connectNats } from "@sward/relay";
import { afterAll, expect, test } from "vitest";
import { temporaryFolders } from "../support/folders.ts";
import { random } from "../support/meeting.ts";
import type { NatsNode } from "../support/nats-server.ts";
import { openShared, startNatsCluster } from "../support/nats-server.ts";
import { keepsStorageContract } from "../support/storage-contract.ts";

const folder = temporaryFolders();
let cluster: Promise<readonly NatsNode[]> | null = null;
const servers = async (): Promise<string[]> => {
  cluster ??= startNatsCluster(folder());
  return (await cluster).map(({ url }) => url);
};
afterAll(async () => {
  for (const node of (await cluster) ?? []) await node.kill();
});
const freshName = (): string => `n${Buffer.from(random(8)).toString("hex")}`;

keepsStorageContract({
  name: "JetStream on three servers",
  lasting: true,
  fresh: async () => {
    const [at, name] = [await servers(), freshName()];
    return () => openShared(at, name, { replicas: 3 });
  },
});

test("RL11 a shared store that is full takes nothing more, loses nothing, and goes on when there is room", async () => {
  const [at, name] = [await servers(), freshName()];
  const storage = await openShared(at, name, { replicas: 3 });
  const connection = await connectNats({ servers: at });
  const manager = await jetstreamManager(connection);
  const key = { kind: "ledger", room: "f".repeat(43) as RoomName } as const;
  await manager.streams.update(`${name}-ledger`, { max_bytes: 40_000 });
  const stored: Uint8Array[] = [];
  let refused = 0;
  for (let turn = 0; turn < 60 && refused === 0; turn += 1) {
    const update = random(1000);
    await storage.append(key, [update]).then(
      () => stored.push(update),
      () => {
        refused += 1;
      },
    );
  }
  expect(stored.length).toBeGreaterThan(20);
  expect(refused).toBe(1);
  expect(await storage.load(key)).toEqual(stored);
  await manager.streams.update(`${name}-ledger`, { max_bytes: -1 });
  const more = random(1000);
  await storage.append(key, [more]);
  expect(await storage.load(key)).toEqual([...stored, more]);
  await storage.close();
  await connection.close();
}, 60_000);

test("RL16 relays that start at the same moment on an empty store agree on what it is called, and on a new name", async () => {
  const at = await servers();
  for (let turn = 0; turn < 5; turn += 1) {
    const name = freshName();
    const causes: string[] = [];
    const open = () => openShared(at, name, { replicas: 3, gone: (cause) => causes.push(cause) });
    const stores = await Promise.all([open(), open(), open()]);
    expect(new Set(stores.map(({ id }) => id)).size).toBe(1);
    expect(stores[0]?.id).toMatch(/^[\w-]{22}$/);
    // The one that gives a new name goes on; the others must end.
    if (turn === 4) {
      await stores[0]?.renew();
      await expect.poll(() => causes.length, { timeout: 5000 }).toBe(2);
      const late = await open();
      expect(late.id).toBe(stores[0]?.id);
      expect(late.id).not.toBe(stores[1]?.id);
      await late.close();
    } else expect(causes).toEqual([]);
    for (const store of stores) await store.close();
  }
}, 60_000);
