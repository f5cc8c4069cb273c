import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import type { RoomName } from "@sward/core";
import { createMemoryStorage, openLevelStorage } from "@sward/relay";
import { ClassicLevel } from "classic-level";
import { afterAll, expect, test, vi } from "vitest";
import { temporaryFolders } from "../support/folders.ts";
import { random } from "../support/meeting.ts";
import type { NatsNode } from "../support/nats-server.ts";
import { openShared, startNats } from "../support/nats-server.ts";
import { keepsStorageContract } from "../support/storage-contract.ts";

const folder = temporaryFolders();
let node: Promise<NatsNode> | null = null;
const nats = (): Promise<NatsNode> => {
  node ??= startNats(folder());
  return node;
};
afterAll(async () => (await node)?.kill());

keepsStorageContract({
  name: "memory",
  lasting: false,
  fresh: async () => async () => createMemoryStorage(Buffer.from(random(8)).toString("hex")),
});
keepsStorageContract({
  name: "LevelDB",
  lasting: true,
  fresh: async () => {
    const at = folder();
    return () => openLevelStorage(at, random);
  },
});

keepsStorageContract({
  name: "JetStream",
  lasting: true,
  fresh: async () => {
    const { url } = await nats();
    const name = `n${Buffer.from(random(8)).toString("hex")}`;
    return () => openShared([url], name);
  },
});

test("LevelDB: a folder that another store has open is refused", async () => {
  const at = folder();
  const first = await openLevelStorage(at, random);
  await expect(openLevelStorage(at, random)).rejects.toMatchObject({ cause: { code: "LEVEL_LOCKED" } });
  await first.close();
});

test("RL10 LevelDB: what was replaced is gone from the disk", async () => {
  const at = folder();
  const storage = await openLevelStorage(at, random);
  const key = { kind: "roster", room: "r".repeat(43) as RoomName } as const;
  const secret = Buffer.from("nobody-should-find-this-any-more");
  await storage.append(key, [new Uint8Array(secret)]);
  const onDisk = (): boolean => readdirSync(at).some((name) => readFileSync(join(at, name)).includes(secret));
  expect(onDisk()).toBe(true);
  expect(await storage.replace(key, [Uint8Array.of(1)], 1)).toBe(true);
  await storage.close();
  expect(onDisk()).toBe(false);
});

test("RL6 LevelDB: every write asks the disk to have it before it resolves", async () => {
  // A killed process leaves its writes with the system; only the loss of power would show their absence, so the request is looked at.
  const writes = [vi.spyOn(ClassicLevel.prototype, "batch"), vi.spyOn(ClassicLevel.prototype, "put")];
  const storage = await openLevelStorage(folder(), random);
  await storage.append({ kind: "ledger", room: "l".repeat(43) as RoomName }, [Uint8Array.of(1)]);
  await storage.replace({ kind: "roster", room: "r".repeat(43) as RoomName }, [Uint8Array.of(1)], 0);
  await storage.probe();
  await storage.close();
  const options = writes.flatMap((spy) => spy.mock.calls.map((call: readonly unknown[]) => call.at(-1)));
  expect(options).toEqual(Array(4).fill({ sync: true }));
  vi.restoreAllMocks();
});
