import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import type { RoomName } from "@sward/core";
import { createMemoryStorage, openLevelStorage } from "@sward/relay";
import { expect, test } from "vitest";
import { temporaryFolders } from "../support/folders.ts";
import { random } from "../support/meeting.ts";
import { keepsStorageContract } from "../support/storage-contract.ts";

const folder = temporaryFolders();

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
  await storage.replace(key, Uint8Array.of(1));
  await storage.close();
  expect(onDisk()).toBe(false);
});
