/** Our relay as it runs, on a store of its own, in a process of its own. */
import { randomBytes } from "node:crypto";
import { defaultConfig } from "../src/config.ts";
import { openLevelStorage } from "../src/level-storage.ts";
import { startRelay } from "../src/start.ts";
import { folderGiven, serveParent } from "./server-process.ts";

const random = (bytes: number): Uint8Array => new Uint8Array(randomBytes(bytes));
const { folder, port } = folderGiven();
const storage = await openLevelStorage(folder, random);
const config = defaultConfig({ port, app: null, roomConnections: 400, idleMilliseconds: 0 });
const relay = await startRelay(config, { storage, now: Date.now, random, log: () => undefined });
serveParent(relay.port, () => relay.close());
