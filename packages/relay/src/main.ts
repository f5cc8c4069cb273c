/** Runs one relay from its environment. The only place here that knows the process, the clock, chance and the console. */
import { randomBytes } from "node:crypto";
import { packApp } from "./app-files.ts";
import { readConfig } from "./config.ts";
import { openControl } from "./keeping/control.ts";
import { createLog } from "./log.ts";
import { openStorage } from "./open-storage.ts";
import { startRelay } from "./start.ts";

const random = (bytes: number): Uint8Array => new Uint8Array(randomBytes(bytes));

const config = readConfig(process.env);
if (!config.ok) {
  console.error("The relay cannot start: its settings are not right.");
  for (const { variable, expected } of config.fault) console.error(`  ${variable} must be ${expected}`);
  process.exit(2);
}

const log = createLog(config.value.logLevel);
try {
  const gone = (cause: string): void => {
    log({ type: "store-gone", cause });
    // What is in memory belongs to a store that is no more; whoever started us starts us again on the one that is.
    process.exit(3);
  };
  const storage = await openStorage(config.value, { random, gone });
  const relay = await startRelay(config.value, { storage, now: Date.now, random, log });
  const control = await openControl(config.value.data, storage, relay);
  const stop = async (): Promise<void> => {
    await control.close();
    await relay.close();
    process.exit(0);
  };
  for (const signal of ["SIGTERM", "SIGINT"] as const) process.once(signal, () => void stop());
  if (config.value.app !== null) void packApp(config.value.app);
} catch (cause) {
  // The cause's cause says more: LevelDB reports there that another process has the folder.
  const because = cause instanceof Error && cause.cause !== undefined ? ` (${String(cause.cause)})` : "";
  console.error(`The relay cannot start: ${String(cause)}${because}`);
  process.exit(1);
}
