/**
 * `sward-relay backup | restore | check | compare`, also as `sward relay …`. Each goes to the relay that is running on the data folder, and if there
 * is none, does it itself with the store opened here. A restore without a running relay runs one of its own for as long as it takes,
 * on an address that nobody knows: there is one way into a store, not two.
 */

import { createReadStream, createWriteStream } from "node:fs";
import { readFile, rename } from "node:fs/promises";
import type { ClientRequest, IncomingMessage } from "node:http";
import { request } from "node:http";
import { createInterface } from "node:readline";
import { Readable } from "node:stream";
import { pipeline } from "node:stream/promises";
import type { RelayConfig } from "../config.ts";
import { startRelay } from "../start.ts";
import type { Storage } from "../storage.ts";
import type { BackupFault } from "./backup.ts";
import { BadBackup, backupLines, readBackup } from "./backup.ts";
import type { StoreReport } from "./check.ts";
import { checkStore } from "./check.ts";
import type { Comparison } from "./compare.ts";
import { compareReports, OtherReport } from "./compare.ts";
import { controlSocket } from "./control.ts";
import type { Restored } from "./restore.ts";
import { restoreInto } from "./restore.ts";

export interface CommandDeps {
  readonly config: RelayConfig;
  readonly openStorage: () => Promise<Storage>;
  readonly random: (bytes: number) => Uint8Array;
  readonly now: () => number;
  /** Each call is a line. */
  readonly out: (line: string) => void;
  readonly err: (line: string) => void;
}

export const commandHelp = `sward-relay: the commands of a relay on this machine

  sward-relay serve             runs a relay
  sward-relay backup <file>     writes all that the store holds to a file, while the relay runs or not
  sward-relay restore <file>    adds what a backup holds to the store, while the relay runs or not; devices then fill in the rest
  sward-relay check             reads the store from end to end and says what a relay could not serve
  sward-relay compare <file>    says which rooms hold something else here than in another store; the file is what check --json said there

The settings are those of the relay: SWARD_RELAY_DATA (.data/relay if not set), SWARD_RELAY_NATS and others.
With --json the answer is one line of JSON.`;

/** Resolves with the exit code: 0, 1 when something is wrong with store or file, 2 when the command is not one. */
export async function runCommand(args: readonly string[], deps: CommandDeps): Promise<number> {
  const json = args.includes("--json");
  const [command, file, ...more] = args.filter((arg) => arg !== "--json");
  const wantsFile = command === "backup" || command === "restore" || command === "compare";
  if (command === "--help" || command === "help") {
    deps.out(commandHelp);
    return 0;
  }
  if ((!wantsFile && command !== "check") || wantsFile !== (file !== undefined) || more.length > 0) {
    deps.err(commandHelp);
    return 2;
  }
  const answer = (value: object, text: string): void => deps.out(json ? JSON.stringify(value) : text);
  try {
    if (command === "check") {
      const report = await check(deps);
      answer(report, reportText(report));
      return report.damaged.length > 0 || report.unread !== null ? 1 : 0;
    }
    if (command === "backup") {
      const end = await backup(deps, file ?? "");
      answer(end, `Backed up ${end.rooms} rooms with ${end.updates} updates to ${file}.`);
      return 0;
    }
    if (command === "compare") {
      const other = reportIn(await readFile(file ?? "", "utf8"));
      if (other === null) throw new Error(`${file} is not what check --json says`);
      const comparison = compareReports(await check(deps), other);
      answer(comparison, comparisonText(comparison));
      return comparison.diverged.length > 0 ? 1 : 0;
    }
    const restored = await restore(deps, file ?? "");
    answer(restored, restoredText(restored));
    return restored.refused > 0 ? 1 : 0;
  } catch (cause) {
    const sentence =
      cause instanceof BadBackup ? badBackupText(cause.fault, file ?? "") : `It failed: ${because(cause)}`;
    deps.err(json ? JSON.stringify({ fault: sentence }) : sentence);
    return 1;
  }
}

async function check(deps: CommandDeps): Promise<StoreReport> {
  const running = await ask(deps.config.data, "GET", "/check");
  if (running !== null) return JSON.parse(await textOf(running)) as StoreReport;
  return withStorage(deps, checkStore);
}

/** Beside the file first, so that a backup that fails leaves the one before it; and read again, so that it is one. */
async function backup(deps: CommandDeps, file: string): Promise<{ rooms: number; updates: number }> {
  const part = `${file}.part`;
  const into = createWriteStream(part, { mode: 0o600 });
  const running = await ask(deps.config.data, "GET", "/backup");
  if (running !== null) await pipeline(running, into);
  else await withStorage(deps, (storage) => pipeline(Readable.from(backupLines(storage)), into));
  const rooms = new Set<string>();
  let updates = 0;
  for await (const { key } of readBackup(linesOf(part))) {
    rooms.add(`${key.kind}/${key.room}`);
    updates += 1;
  }
  await rename(part, file);
  return { rooms: rooms.size, updates };
}

async function restore(deps: CommandDeps, file: string): Promise<Restored> {
  // All of it once before any of it: a file that was cut short is better refused than half restored.
  for await (const _ of readBackup(linesOf(file)));
  const running = await ask(deps.config.data, "POST", "/restore", file);
  if (running !== null) return JSON.parse(await textOf(running)) as Restored;
  return withStorage(deps, async (storage) => {
    const config = { ...deps.config, host: "127.0.0.1", port: 0, app: null, origins: [] };
    const relay = await startRelay(config, {
      ...deps,
      storage: { ...storage, close: async () => undefined },
      log: () => undefined,
    });
    try {
      return await restoreInto(storage, relay.rooms, relay.limits, readBackup(linesOf(file)));
    } finally {
      await relay.close();
    }
  });
}

async function withStorage<T>({ openStorage }: CommandDeps, use: (storage: Storage) => Promise<T>): Promise<T> {
  const storage = await openStorage();
  try {
    return await use(storage);
  } finally {
    await storage.close();
  }
}

const linesOf = (file: string): AsyncIterable<string> =>
  createInterface({ input: createReadStream(file), crlfDelay: Number.POSITIVE_INFINITY });

/** Asks the relay that runs on this folder; null if none does. Rejects if it answers that it could not. */
async function ask(data: string, method: string, path: string, file?: string): Promise<IncomingMessage | null> {
  const sent: ClientRequest = request({ socketPath: controlSocket(data), method, path });
  const answered = new Promise<IncomingMessage | null>((done, failed) => {
    sent.once("response", done);
    sent.once("error", (cause: NodeJS.ErrnoException) => {
      if (cause.code === "ENOENT" || cause.code === "ECONNREFUSED") done(null);
      else failed(cause);
    });
  });
  if (file === undefined) sent.end();
  else pipeline(createReadStream(file), sent).catch(() => undefined);
  const response = await answered;
  if (response === null || response.statusCode === 200) return response;
  throw new Error(await textOf(response));
}

async function textOf(response: IncomingMessage): Promise<string> {
  let text = "";
  for await (const chunk of response) text += String(chunk);
  return text;
}

const because = (cause: unknown): string =>
  cause instanceof Error && cause.cause !== undefined ? `${cause.message} (${String(cause.cause)})` : String(cause);

const restoredText = ({ rooms, updates, refused, store }: Restored): string =>
  [
    `Restored ${updates} updates of ${rooms} rooms. The store is called ${store} now; devices will fill in what it lacks.`,
    ...(refused > 0
      ? [`${refused} times something was refused: see the relay's log. It may have been damaged before.`]
      : []),
  ].join("\n");

const reportText = ({ store, rooms, updates, bytes, envelopes, damaged, unread }: StoreReport): string =>
  [
    `Store ${store}: ${rooms} rooms, ${updates} updates, ${bytes} bytes, ${envelopes} envelopes in ledgers.`,
    ...damaged.map(({ room, cause }) => `Damaged: ${room}: ${cause}`),
    ...(unread === null ? [] : [`Not everything could be read: ${unread}`]),
    damaged.length === 0 && unread === null
      ? "Everything in it can be served."
      : "Move the folder away, start with an empty one and restore the last backup: devices fill in the rest.",
  ].join("\n");

const comparisonText = ({ here, there, same, diverged, behind }: Comparison): string =>
  [
    `Store ${here} beside ${there}: ${same} rooms hold the same.`,
    ...behind.map((room) => `Not equally far: ${room}. Devices bring over what is missing when they come.`),
    ...diverged.map(
      (room) => `Different contents in the same places: ${room}. Its devices find out by themselves and repeat it.`,
    ),
  ].join("\n");

function reportIn(text: string): OtherReport | null {
  try {
    return OtherReport.parse(JSON.parse(text));
  } catch {
    return null;
  }
}

function badBackupText(fault: BackupFault, file: string): string {
  if (fault.type === "not-a-backup") return `${file} is no backup of a relay.`;
  if (fault.type === "cut-short") return `${file} was cut short: its last line is missing. Nothing was restored.`;
  if (fault.type === "altered") return `${file} was altered since it was written. Nothing was restored.`;
  return `Line ${fault.line} of ${file} cannot be read. Nothing was restored.`;
}
