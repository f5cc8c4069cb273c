/** What clubs do to a relay, and what an enemy does. Each workload gets a server of its own, just started on an empty store. */
import * as Y from "yjs";
import type { BenchCaller, BenchRoom } from "./caller.ts";
import { call, createWriter, newRoom } from "./caller.ts";
import type { Figure } from "./figures.ts";
import { delaysOf, share } from "./figures.ts";
import type { Served } from "./server-process.ts";
import type { Listener, Target } from "./sessions.ts";
import { closeAll, filledRoom, join, listen, listenAll, until, wait } from "./sessions.ts";

export interface Bench {
  readonly target: Target;
  readonly served: Served;
  /** Kills the server and starts it again on the same store and port. */
  restart(): Promise<Served>;
  /** 1 for a whole run, less for a quick look. */
  readonly scale: number;
}

export type Workload = (bench: Bench) => Promise<Figure[]>;
/** All servers run at once and take turns; the figures in the order of the benches. */
export type Together = (benches: readonly Bench[]) => Promise<Figure[][]>;

/** Sends one update after another and notes when. */
async function write(caller: BenchCaller, sent: number[], many: number, everyMilliseconds: number): Promise<void> {
  const writer = createWriter();
  const from = performance.now();
  for (let n = 0; n < many; n += 1) {
    const update = writer.append(1);
    sent[n] = performance.now();
    caller.update(update);
    const due = from + (n + 1) * everyMilliseconds - performance.now();
    if (due > 0) await wait(due);
    else if (n % 50 === 49) await wait(0);
  }
}

const allDelays = (all: readonly Listener[]): number[] => all.flatMap(({ delays }) => [...delays.values()]);

/** W1: one device saves matches one after another as fast as it can; another device has them all. */
export const appends: Workload = async ({ target, scale }) => {
  const many = Math.round(5_000 * scale);
  const room = await newRoom();
  const sent: number[] = [];
  const listener = await listen(target, room, sent);
  const caller = await call(target.server, target.port, room);
  caller.ask(Y.encodeStateVector(new Y.Doc()));
  const from = performance.now();
  await write(caller, sent, many, 0);
  await until("all appended", () => listener.delays.size === many);
  const took = performance.now() - from;
  await caller.close();
  await listener.caller.close();
  return [{ what: "W1 appends", unit: "per s", value: (many / took) * 1000 }];
};

/**
 * W2: a new device reads a room's whole history. The servers take turns join by join, each time another first: what else the machine does
 * meanwhile, and how long each has been running, is then the same for all.
 */
export const lateJoin: Together = async (benches) => {
  const figures = benches.map((): Figure[] => []);
  for (const [most, rounds] of [
    [1_000, 21],
    [10_000, 9],
    [100_000, 5],
  ] as const) {
    const entries = Math.round(most * (benches[0]?.scale ?? 1));
    const rooms: BenchRoom[] = [];
    for (const { target } of benches) {
      const room = await newRoom();
      rooms.push(room);
      await filledRoom(target, room, entries);
    }
    const times = benches.map((): number[] => []);
    for (let n = 0; n < rounds * benches.length; n += 1) {
      const turn = (n + Math.floor(n / benches.length)) % benches.length;
      const [bench, room] = [benches[turn], rooms[turn]];
      if (bench !== undefined && room !== undefined) times[turn]?.push(await join(bench.target, room, entries));
    }
    const what = `W2 late join, ${entries.toLocaleString("en")} entries`;
    for (const [turn, of] of figures.entries()) of.push({ what, unit: "ms", value: share(times[turn] ?? [], 0.5) });
  }
  return figures;
};

/** W3: two hundred devices watch while one writes. */
export const fanOut: Workload = async ({ target, scale }) => {
  const room = await newRoom();
  const sent: number[] = [];
  const many = Math.round(200 * scale);
  const all = await listenAll(target, room, sent, many);
  const caller = await call(target.server, target.port, room);
  caller.ask(Y.encodeStateVector(new Y.Doc()));
  await write(caller, sent, 300, 50);
  await until("all heard", () => all.every(({ delays }) => delays.size === 300));
  await caller.close();
  await closeAll(all);
  return delaysOf(`W3 fan-out to ${many}`, allDelays(all));
};

/** W4: a thousand rooms are visited once, each left with a few entries, and nobody stays. */
export const visitedRooms: Workload = async ({ target, served, scale }) => {
  const visit = async (): Promise<void> => {
    const room = await newRoom();
    const caller = await call(target.server, target.port, room);
    const listener = await listen(target, room, [0]);
    caller.ask(Y.encodeStateVector(new Y.Doc()));
    caller.update(createWriter().append(1));
    await until("stored", () => listener.delays.size === 1);
    await Promise.all([caller.close(), listener.caller.close()]);
  };
  const visits = async (many: number): Promise<void> => {
    for (let n = 0; n < many; n += 20) await Promise.all(Array.from({ length: 20 }, visit));
  };
  // What a process takes once, whatever it serves, is not a room's.
  await visits(Math.round(1_000 * scale));
  await wait(1_500);
  const before = await served.memory();
  const many = Math.round(1_000 * scale);
  await visits(many);
  await wait(1_500);
  const after = await served.memory();
  return [
    {
      what: `W4 memory kept of ${many} rooms visited and left`,
      unit: "%",
      value: (100 * (after.heap - before.heap)) / before.heap,
    },
    { what: "W4 memory per idle room", unit: "kB", value: (after.heap - before.heap) / many / 1024 },
  ];
};

/** W5: the server is killed under two hundred devices, which dial again at random within a second until they are up to date. */
export const storm: Workload = async ({ target, restart, scale }) => {
  const room = await newRoom();
  const entries = Math.round(2_000 * scale);
  await filledRoom(target, room, entries);
  const many = Math.round(200 * scale);
  const all = await listenAll(target, room, [], many);
  const lost = all.map(({ caller }) => new Promise<void>((gone) => caller.socket.once("close", () => gone())));
  const back = restart();
  await Promise.all(lost);
  await back;
  const from = performance.now();
  const dial = async (): Promise<number> => {
    for (;;) {
      await wait(Math.random() * 1_000);
      try {
        await join(target, room, entries);
        return performance.now() - from;
      } catch {
        // Not yet.
      }
    }
  };
  const times = await Promise.all(all.map(dial));
  return [
    { what: `W5 storm of ${many} after a kill, until the last is up to date`, unit: "ms", value: Math.max(...times) },
  ];
};

/** W6: ten devices stop reading; fifty others go on. */
export const stalled: Workload = async ({ target, served, scale }) => {
  const room = await newRoom();
  const sent: number[] = [];
  const all = await listenAll(target, room, sent, Math.round(50 * scale));
  const stuck = await listenAll(target, room, [], 10);
  for (const { caller } of stuck) caller.socket.pause();
  const before = await served.memory();
  const caller = await call(target.server, target.port, room);
  caller.ask(Y.encodeStateVector(new Y.Doc()));
  await write(caller, sent, 2_000, 2);
  await until("all heard", () => all.every(({ delays }) => delays.size === 2_000));
  const after = await served.memory();
  await caller.close();
  for (const one of stuck) one.caller.socket.terminate();
  await closeAll(all);
  return [
    ...delaysOf("W6 fan-out beside ten stalled readers", allDelays(all)).slice(2),
    { what: "W6 memory the stalled readers cost", unit: "kB", value: (after.heap - before.heap) / 1024 },
  ];
};

/** W7: five enemies with the room's key send nonsense, deletions and too much, as fast as they may, beside twenty honest devices. */
export const hostile: Workload = async ({ target, scale }) => {
  const room = await newRoom();
  const sent: number[] = [];
  const all = await listenAll(target, room, sent, Math.round(20 * scale));
  const caller = await call(target.server, target.port, room);
  caller.ask(Y.encodeStateVector(new Y.Doc()));
  let on = true;
  const enemy = async (): Promise<void> => {
    while (on) {
      try {
        const one = await call(target.server, target.port, room);
        for (let n = 0; on && n < 50 && one.socket.readyState === 1; n += 1) {
          if (n % 3 === 0) one.update(crypto.getRandomValues(new Uint8Array(400)));
          else if (n % 3 === 1) one.update(new Uint8Array([0, 1, 1, 1, 0, 1]));
          else one.socket.send(crypto.getRandomValues(new Uint8Array(2_000)));
          await wait(2);
        }
        await one.close();
      } catch {
        await wait(20);
      }
    }
  };
  const enemies = Array.from({ length: 5 }, enemy);
  await write(caller, sent, 500, 10);
  await until("all heard", () => all.every(({ delays }) => delays.size === 500));
  on = false;
  await Promise.all(enemies);
  const [p99] = delaysOf("W7 fan-out in hostile company", allDelays(all)).slice(2);
  await join(target, room, 500);
  await caller.close();
  await closeAll(all);
  return p99 === undefined ? [] : [p99];
};

/** W8: one device brings in ten years at once, as blocks of two hundred entries to an envelope would make. */
export const bulk: Workload = async ({ target, scale }) => {
  const room = await newRoom();
  const entries = Math.round(30_000 * scale);
  const from = performance.now();
  await filledRoom(target, room, entries);
  return [
    {
      what: `W8 ${entries.toLocaleString("en")} entries sent at once, until another has them`,
      unit: "ms",
      value: performance.now() - from,
    },
  ];
};
