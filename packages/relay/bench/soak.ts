/**
 * `npm run soak:relay`: a thousand connections at one relay in one process, for ten minutes. Clubs come, write, read and leave again all the
 * time, so that whatever the relay does not let go of piles up; what stays is as much at the end as after the warm-up, or it leaks.
 *
 *     npm run soak:relay                                       ten minutes, a thousand connections
 *     npm run soak:relay -- --write                            also into packages/relay/BENCHMARKS.md
 *     npm run soak:relay -- --minutes 2 --connections 200      something shorter
 *
 * Ends with 1 when memory grew or nothing can be said about it, when fewer were connected than should be, when an update did not reach
 * everybody in its room, when somebody was cut off, or when the relay ended.
 */
import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { setTimeout as pause } from "node:timers/promises";
import { writeSection } from "./benchmarks-file.ts";
import { createWriter, newRoom } from "./caller.ts";
import { share } from "./figures.ts";
import type { Flatness, Sample } from "./flatness.ts";
import { flatness } from "./flatness.ts";
import { serve } from "./server-process.ts";
import type { Listener } from "./sessions.ts";
import { join as joinLate, listenAll, until } from "./sessions.ts";

const given = process.argv.slice(2);
const numberOf = (name: string, otherwise: number): number =>
  given.includes(name) ? Number(given[given.indexOf(name) + 1]) : otherwise;
const minutes = numberOf("--minutes", 10);
const connections = numberOf("--connections", 1_000);
const inRoom = 20;
/** A few more rooms than are needed at a time: one in twenty is just being left or entered. */
const rooms = Math.ceil((connections * 1.1) / inRoom);
const roomSeconds = 60;
const everySeconds = 5;
/** The longest warm-up: every room has been left and entered anew by then, and the compiler has seen everything. */
const warmUp = Math.min(180, (minutes * 60) / 3);

const folder = await mkdtemp(join(tmpdir(), "sward-soak-"));
const served = await serve("server-soak", folder, 0, "inherit");
const target = { server: "ours", port: served.port } as const;
const began = performance.now();
const seconds = (): number => (performance.now() - began) / 1000;
const isOver = (): boolean => seconds() > minutes * 60;

let [open, dialled, visits, updates, heard, missing, cut] = [0, 0, 0, 0, 0, 0, 0];
const delays: number[] = [];

/** A club's evening: twenty come, write in turn once a second, one comes late and reads it all, and all leave. */
async function evening(lasts: number): Promise<void> {
  const room = await newRoom();
  const sent: number[] = [];
  const all: Listener[] = await listenAll(target, room, sent, inRoom);
  let leaving = false;
  for (const { caller } of all) {
    caller.socket.once("close", () => {
      open -= 1;
      if (!leaving) cut += 1;
    });
  }
  open += all.length;
  dialled += all.length;
  visits += 1;
  const writer = createWriter();
  const from = seconds();
  while (seconds() - from < lasts && !isOver()) {
    const turn = writer.written;
    const update = writer.append(1);
    sent[turn] = performance.now();
    // One writes: an update that leans on another caller's would be asked about if it came first.
    all[0]?.caller.update(update);
    updates += 1;
    await pause(1_000);
  }
  const others = all.slice(1);
  const complete = (): boolean => others.every((one) => one.delays.size === sent.length);
  await until("heard by all", complete, 30).catch(() => undefined);
  for (const one of others) {
    heard += one.delays.size;
    missing += sent.length - one.delays.size;
    for (const delay of one.delays.values()) if (delays.length < 1_000_000) delays.push(delay);
  }
  await joinLate(target, room, sent.length);
  leaving = true;
  await Promise.all(all.map(({ caller }) => caller.close()));
}

const samples: { readonly heap: Sample[]; readonly resident: Sample[] } = { heap: [], resident: [] };
const counts: number[] = [];

async function watch(): Promise<void> {
  while (!isOver()) {
    await pause(everySeconds * 1_000);
    const { heap, resident } = await served.memory();
    // When it is over everybody leaves.
    if (isOver()) return;
    const at = seconds();
    samples.heap.push({ at, bytes: heap });
    samples.resident.push({ at, bytes: resident });
    if (at >= warmUp) counts.push(open);
    if (samples.heap.length % 12 === 0)
      process.stderr.write(
        `${at.toFixed(0)} s: ${open} connected, heap ${megabytes(heap)} MB, resident ${megabytes(resident)} MB\n`,
      );
  }
}

/** Rooms of different ages from the beginning, so that they are not all left in the same second. */
const club = async (place: number): Promise<void> => {
  let lasts = ((place + 1) / rooms) * roomSeconds;
  while (!isOver()) {
    await evening(Math.max(5, lasts));
    lasts = roomSeconds;
  }
};

const megabytes = (bytes: number): string => (bytes / 1024 / 1024).toFixed(1);
const ended = served.ended.then((code) => Promise.reject(new Error(`the relay ended with ${code}`)));
ended.catch(() => undefined);

function lineOf(what: string, { type, fit }: Flatness): string {
  const perMinute = (bytes: number): string => ((bytes * 60) / 1024).toFixed(1);
  return `| ${what} | ${megabytes(fit.level)} MB | ${perMinute(fit.slope)} ± ${perMinute(2 * fit.error)} kB a minute | ${(100 * fit.rise).toFixed(2)} % | ${type} |`;
}

try {
  await Promise.race([ended, Promise.all([watch(), ...Array.from({ length: rooms }, (_, place) => club(place))])]);
  const heap = flatness(samples.heap, warmUp, 0.03);
  const resident = flatness(samples.resident, warmUp, 0.1);
  const least = Math.min(...counts);
  const text = [
    `${minutes} minutes, ${connections} connections and more at one relay in one process, by \`npm run soak:relay -- --write\`; the first ${warmUp} seconds are`,
    "not looked at. A line is fitted to the rest; it may rise by 3 % of its level in all (heap, after a collection) or 10 % (resident).",
    "",
    "| | level | slope, with twice its standard error | rise over the time looked at | |",
    "|---|---:|---:|---:|---|",
    lineOf("heap", heap),
    lineOf("resident", resident),
    "",
    `Connected at the least ${least}; ${dialled} dials, ${visits} rooms entered, left and read by a late comer; ${updates} updates, heard ${heard} times by`,
    `others, ${missing} times not; fan-out p50 ${share(delays, 0.5).toFixed(1)} ms, p99 ${share(delays, 0.99).toFixed(1)} ms beside the clients on the same machine. ${cut} callers cut off;`,
    "no unhandled rejection, no fault, no failed write, nobody held up: each would have ended the run.",
  ].join("\n");
  console.log(text);
  if (given.includes("--write")) await writeSection("Soak", text);
  const good = heap.type === "flat" && resident.type === "flat" && missing === 0 && cut === 0 && least >= connections;
  process.exitCode = good ? 0 : 1;
} catch (cause) {
  process.stderr.write(`${String(cause)}\n`);
  process.exitCode = 1;
} finally {
  await served.kill().catch(() => undefined);
  await rm(folder, { recursive: true, force: true });
  process.exit();
}
