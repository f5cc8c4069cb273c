/** Where the relay's commands meet the process. `bin/sward-relay.mjs` runs this file. */
import { randomBytes } from "node:crypto";
import { readConfig } from "./config.ts";
import { runCommand } from "./keeping/commands.ts";
import { openStorage } from "./open-storage.ts";

const args = process.argv.slice(2);
if (args[0] === "serve") await import("./main.ts");
else {
  const random = (bytes: number): Uint8Array => new Uint8Array(randomBytes(bytes));
  const config = readConfig(process.env);
  if (config.ok) {
    process.exitCode = await runCommand(args, {
      config: config.value,
      openStorage: () => openStorage(config.value, { random, gone: () => process.exit(3) }),
      random,
      now: Date.now,
      out: (line) => console.log(line),
      err: (line) => console.error(line),
    });
  } else {
    console.error("The relay's settings are not right.");
    for (const { variable, expected } of config.fault) console.error(`  ${variable} must be ${expected}`);
    process.exitCode = 2;
  }
}
