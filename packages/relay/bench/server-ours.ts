/**
 * Our relay as it runs, on a store of its own, in a process of its own. What one address and one connection may do is set beyond what the
 * workloads do: here a whole federation dials from one address, and the others have no such limits. They are counted all the same.
 */
import { randomBytes } from "node:crypto";
import { defaultConfig } from "../src/config.ts";
import { openLevelStorage } from "../src/level-storage.ts";
import { startRelay } from "../src/start.ts";
import { folderGiven, serveParent } from "./server-process.ts";

const random = (bytes: number): Uint8Array => new Uint8Array(randomBytes(bytes));
const { folder, port } = folderGiven();
const storage = await openLevelStorage(folder, random);
const config = defaultConfig({
  port,
  app: null,
  idleMilliseconds: 0,
  roomConnections: 2_000,
  addressConnections: 2_000,
  addressDials: 1_000_000,
  messagesPerSecond: 100_000,
  bytesPerSecond: 1024 ** 3,
  roomBytesPerSecond: 1024 ** 3,
});
const relay = await startRelay(config, { storage, now: Date.now, random, log: () => undefined });
serveParent(relay.port, () => relay.close());
