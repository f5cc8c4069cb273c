/** What the workloads do again and again: fill a room, join it, listen in it. */
import * as Y from "yjs";
import type { BenchCaller, BenchRoom, ServerName } from "./caller.ts";
import { call, createWriter, numberIn } from "./caller.ts";

export interface Target {
  readonly server: ServerName;
  port: number;
}

export const wait = (milliseconds: number): Promise<void> => new Promise((done) => setTimeout(done, milliseconds));

export async function until(what: string, holds: () => boolean, seconds = 60): Promise<void> {
  const from = performance.now();
  while (!holds()) {
    if (performance.now() - from > seconds * 1000) throw new Error(`not within ${seconds} s: ${what}`);
    await wait(2);
  }
}

/** Milliseconds from dialling to a document that holds `entries` of them. */
export async function join({ server, port }: Target, room: BenchRoom, entries: number): Promise<number> {
  const from = performance.now();
  const caller = await call(server, port, room);
  const doc = new Y.Doc();
  const held = doc.getArray("entries");
  const done = new Promise<number>((joined, failed) => {
    caller.socket.once("close", (code) => failed(new Error(`closed with ${code} while joining`)));
    caller.onMessage = ({ type, bytes }) => {
      if (type !== "history" && type !== "update") return;
      Y.applyUpdate(doc, bytes);
      if (held.length >= entries) joined(performance.now() - from);
    };
  });
  caller.ask(Y.encodeStateVector(doc));
  const took = await done;
  caller.socket.removeAllListeners("close");
  await caller.close();
  doc.destroy();
  return took;
}

/** A new room with so many entries in it, there for whoever joins. */
export async function filledRoom(target: Target, room: BenchRoom, entries: number): Promise<void> {
  const caller = await call(target.server, target.port, room);
  caller.ask(Y.encodeStateVector(new Y.Doc()));
  const writer = createWriter();
  const most = 500;
  for (let left = entries; left > 0; left -= most) {
    caller.update(writer.append(Math.min(most, left)));
    await until("what was sent left this process", () => caller.socket.bufferedAmount < 1_000_000);
  }
  await join(target, room, entries).catch(() => undefined);
  for (;;) {
    const vector = await vectorOf(target, room);
    if ((vector.get(writer.doc.clientID) ?? 0) >= entries) break;
    await wait(50);
  }
  await caller.close();
}

async function vectorOf({ server, port }: Target, room: BenchRoom): Promise<Map<number, number>> {
  const caller = await call(server, port, room);
  const asked = new Promise<Map<number, number>>((told, failed) => {
    caller.socket.once("close", (code) => failed(new Error(`closed with ${code} while asking`)));
    caller.onMessage = ({ type, bytes }) => {
      if (type === "ask") told(Y.decodeStateVector(bytes));
    };
  });
  caller.ask(Y.encodeStateVector(new Y.Doc()));
  const vector = await asked;
  await caller.close();
  return vector;
}

export interface Listener {
  readonly caller: BenchCaller;
  /** Milliseconds each update took since it was sent, by number. */
  readonly delays: Map<number, number>;
}

/** Somebody in the room, up to date, who notes when each update arrives. `sent`: when each was sent, as performance.now(). */
export async function listen({ server, port }: Target, room: BenchRoom, sent: readonly number[]): Promise<Listener> {
  const caller = await call(server, port, room);
  const delays = new Map<number, number>();
  const ready = new Promise<void>((answered, failed) => {
    caller.socket.once("close", (code) => failed(new Error(`closed with ${code} while joining`)));
    caller.onMessage = ({ type, bytes, at }) => {
      if (type === "history") answered();
      if (type !== "update" || bytes.length < 360) return;
      const number = numberIn(bytes);
      const from = sent[number];
      if (from !== undefined && !delays.has(number)) delays.set(number, at - from);
    };
  });
  caller.ask(Y.encodeStateVector(new Y.Doc()));
  await ready;
  return { caller, delays };
}

export const listenAll = async (
  target: Target,
  room: BenchRoom,
  sent: readonly number[],
  many: number,
): Promise<Listener[]> => {
  const all: Listener[] = [];
  for (let n = 0; n < many; n += 25) {
    all.push(...(await Promise.all(Array.from({ length: Math.min(25, many - n) }, () => listen(target, room, sent)))));
  }
  return all;
};

export const closeAll = (all: readonly Listener[]): Promise<unknown> =>
  Promise.all(all.map(({ caller }) => caller.close()));
