/**
 * Killed without warning at random points of ten thousand appends, fifty times over, and the same with a disk that fills up: whatever
 * a receipt was sent for is there afterwards. Rooms and store are a relay's own, in a process of their own; what is there is read here,
 * as a relay that starts reads it.
 */
import type { ChildProcess } from "node:child_process";
import { spawn } from "node:child_process";
import { createInterface } from "node:readline";
import { openLevelStorage } from "@sward/relay";
import { build } from "vite";
import { afterAll, beforeAll, expect, test } from "vitest";
import * as Y from "yjs";
import { fillDocument } from "../../packages/relay/src/fill.ts";
import { driverRooms, numberAt } from "../support/append-rooms.ts";
import { numberOf } from "../support/envelopes.ts";
import { temporaryFolders } from "../support/folders.ts";
import { random } from "../support/meeting.ts";
import { repository } from "../support/sources.ts";

const folder = temporaryFolders();
const built = `${repository}/node_modules/.cache/sward-append-driver`;
const running = new Set<ChildProcess>();
afterAll(() => {
  for (const child of running) child.kill("SIGKILL");
});
// A process starts in a tenth of a second from one file of plain JavaScript, and in one from the sources.
beforeAll(async () => {
  const ssr = `${repository}/tests/support/append-driver.ts`;
  await build({
    configFile: false,
    root: repository,
    logLevel: "error",
    build: { ssr, outDir: built, emptyOutDir: true },
  });
}, 60_000);

const appends = 10_000;

/** What was receipted, by room: everything before this clock. */
type Receipts = Map<string, number>;

interface Run {
  readonly receipts: Receipts;
  readonly total: number;
  readonly failures: number;
  readonly done: boolean;
}

/** Runs the process until it is done, or `isEnough` says to kill it. `fileBlocks`: no file may grow beyond so many half kilobytes. */
function run(
  data: string,
  isEnough: (total: number, line: string, kill: () => void) => boolean,
  fileBlocks = 0,
): Promise<Run> {
  const driver = [`${built}/append-driver.js`, data, String(appends)];
  const limited = `ulimit -f ${fileBlocks}; exec "$0" "$@"`;
  const child =
    fileBlocks === 0
      ? spawn(process.execPath, driver, { stdio: ["ignore", "pipe", "pipe"] })
      : spawn("sh", ["-c", limited, process.execPath, ...driver], { stdio: ["ignore", "pipe", "pipe"] });
  running.add(child);
  const kill = (): void => {
    child.kill("SIGKILL");
  };
  const receipts: Receipts = new Map();
  let [failures, done, complaint] = [0, false, ""];
  child.stderr.on("data", (text: Buffer) => {
    complaint += text.toString();
  });
  const total = (): number => [...receipts].reduce((sum, [room, clock]) => sum + (room.startsWith("l") ? clock : 0), 0);
  createInterface({ input: child.stdout }).on("line", (line) => {
    const [word, kind, place, clock] = line.split(" ");
    if (word === "receipt") receipts.set(`${kind}/${place}`, Number(clock));
    if (word === "failed") failures += 1;
    if (word === "done") done = true;
    if (isEnough(total(), line, kill)) kill();
  });
  return new Promise((settled, failed) => {
    child.once("close", (code, signal) => {
      running.delete(child);
      if (signal === "SIGKILL" || code === 0) settled({ receipts, total: total(), failures, done });
      else failed(new Error(`the process ended with ${code ?? signal}: ${complaint}`));
    });
  });
}

/** Opens the store as a relay does, and expects everything that was receipted; returns how much there is. */
async function expectReceipted(data: string, { receipts }: Run): Promise<number> {
  const storage = await openLevelStorage(data, random);
  let there = 0;
  for (const [place, key] of driverRooms.entries()) {
    const doc = new Y.Doc();
    // Throws at anything torn, missing in between, or altered so that the screen would not let it in.
    fillDocument(doc, key.kind, await storage.load(key));
    const numbers = doc.getArray<Uint8Array>("entries").toArray().map(numberOf);
    expect(numbers.length).toBeGreaterThanOrEqual(receipts.get(`ledger/${place}`) ?? 0);
    expect(numbers.every((number, clock) => number === numberAt(place, clock))).toBe(true);
    there += numbers.length;
    doc.destroy();
  }
  const roster = new Y.Doc();
  const room = driverRooms[0]?.room ?? ("" as never);
  fillDocument(roster, "roster", await storage.load({ kind: "roster", room }));
  const clocks = [...Y.decodeStateVector(Y.encodeStateVector(roster)).values()];
  expect(Math.max(0, ...clocks)).toBeGreaterThanOrEqual(receipts.get("roster/0") ?? 0);
  await storage.close();
  return there;
}

/** Numbers from 0 to 1, the same for the same seed. */
function dice(seed: number): () => number {
  let state = seed;
  return () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return state / 2 ** 32;
  };
}

const seeds = Array.from({ length: 50 }, (_, place) => 4711 + place);

for (const share of [0, 1]) {
  test.concurrent(`RL6 killed at random points of ${appends} appends, seeds 4711 to 4760 (${share === 0 ? "even" : "odd"} places)`, async () => {
    for (const seed of seeds.filter((_, place) => place % 2 === share)) {
      const roll = dice(seed);
      const data = folder();
      const [first, after] = [Math.floor(roll() * appends), roll() * 120];
      const torn = await run(data, (total) => total >= first);
      await expectReceipted(data, torn);
      // The second time by the clock, from the moment at which rooms are read, and tidied if they are long.
      let timed = false;
      const second = Math.floor(first + roll() * (appends - first));
      const again = await run(data, (total, _line, kill) => {
        if (!timed && seed % 3 === 0) setTimeout(kill, after);
        timed = true;
        return total >= second;
      });
      const there = await expectReceipted(data, again);
      expect(there, `seed ${seed}`).toBeGreaterThanOrEqual(torn.total);
    }
  }, 300_000);
}

test("RL11 a disk that is full again and again: what was receipted is there, and it goes on when there is room", async () => {
  const data = folder();
  const full = await run(data, () => false, 800);
  expect(full.done).toBe(true);
  // Without this the disk was never full, and the test shows nothing.
  expect(full.failures).toBeGreaterThan(1);
  expect(full.total).toBe(appends);
  expect(await expectReceipted(data, full)).toBe(appends);
}, 120_000);
