/**
 * The relay for the soak, as it is delivered but for what one address may do: all callers dial from this machine. Anything that must not
 * happen ends it, and with it the soak: a promise that nobody catches, a fault, a write that failed, a caller it had to hold up.
 *
 * With `LEAK` in the environment it keeps so many bytes for each update it is sent: to see that the soak finds that.
 */
import { randomBytes } from "node:crypto";
import { writeSync } from "node:fs";
import { defaultConfig } from "../src/config.ts";
import type { RelayEvent } from "../src/events.ts";
import { openLevelStorage } from "../src/level-storage.ts";
import { startRelay } from "../src/start.ts";
import { folderGiven, serveParent } from "./server-process.ts";

const end = (why: string): never => {
  writeSync(2, `the relay ended: ${why}\n`);
  process.exit(70);
};
process.on("unhandledRejection", (cause) => end(`unhandled rejection: ${String(cause)}`));
process.on("uncaughtException", (cause) => end(`uncaught exception: ${cause.stack}`));

const wrong: ReadonlySet<RelayEvent["type"]> = new Set([
  "fault",
  "not-stored",
  "not-tidied",
  "room-unreadable",
  "limited",
]);
const kept: Uint8Array[] = [];
const random = (bytes: number): Uint8Array => new Uint8Array(randomBytes(bytes));
const { folder, port } = folderGiven();
const storage = await openLevelStorage(folder, random);
const leaking: typeof storage = {
  ...storage,
  append: (key, updates) => {
    for (const _ of updates) kept.push(random(Number(process.env["LEAK"])));
    return storage.append(key, updates);
  },
};
const config = defaultConfig({
  port,
  app: null,
  idleMilliseconds: 5_000,
  addressConnections: 5_000,
  addressDials: 1_000_000,
});
const relay = await startRelay(config, {
  storage: process.env["LEAK"] === undefined ? storage : leaking,
  now: Date.now,
  random,
  log: (event) => {
    if (wrong.has(event.type)) end(JSON.stringify(event));
  },
});
serveParent(relay.port, () => relay.close());
