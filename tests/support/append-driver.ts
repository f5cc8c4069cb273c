/**
 * A process that does nothing but append: rooms and LevelDB as a relay has them, without sockets, so that a test can kill fifty of
 * them. It says on its standard output what was receipted, a line each, and the test believes nothing else. Run with the folder
 * and the number of appends to reach; what is there already counts.
 *
 *     open                               the rooms are about to be read
 *     receipt <kind> <place> <clock>     everything of that room before the clock is receipted
 *     failed                             a write was not stored, and the caller let go
 *     done
 */
import { randomBytes } from "node:crypto";
import { writeSync } from "node:fs";
import { setImmediate as breathe } from "node:timers/promises";
import { readFrame } from "@sward/core";
import { openLevelStorage } from "@sward/relay";
import * as Y from "yjs";
import type { Room } from "../../packages/relay/src/room.ts";
import { createRooms } from "../../packages/relay/src/rooms.ts";
import { driverLimits, driverRooms, ledgerClient, ledgerUpdate } from "./append-rooms.ts";
import { envelope } from "./envelopes.ts";

const [folder = "", wanted = "0"] = process.argv.slice(2);
const say = (line: string): void => {
  writeSync(1, `${line}\n`);
};
/** Writes on their way in one room: enough for full batches. */
const window = 100;

say("open");
const storage = await openLevelStorage(folder, (bytes) => new Uint8Array(randomBytes(bytes)));
const limits = { ...driverLimits, roomBytesPerSecond: Number.MAX_SAFE_INTEGER, readings: 8 };
const rooms = createRooms(storage, limits, 60_000, () => undefined);
const each = Math.ceil(Number(wanted) / driverRooms.length);

/** Enters, and tells where the room stands for the client that writes. */
function enter(room: Room, kind: string, place: number, client: number) {
  const state = { stored: 0, out: false };
  const caller = {
    send: (frame: Uint8Array) => {
      const read = readFrame(frame);
      const clock = read?.type === "receipt" ? read.stored.get(client) : undefined;
      if (clock === undefined || clock <= state.stored) return;
      state.stored = clock;
      say(`receipt ${kind} ${place} ${clock}`);
    },
    close: () => {
      state.out = true;
    },
  };
  room.join(caller);
  return { caller, state };
}

async function appendTo(place: number): Promise<void> {
  const key = driverRooms[place];
  if (key === undefined) return;
  const { room } = await rooms.enter(key);
  for (;;) {
    const { caller, state } = enter(room, "ledger", place, ledgerClient);
    for (let clock = state.stored; clock < each && !state.out; clock += 1) {
      void room.write(caller, ledgerUpdate(place, clock), "whole");
      while (clock - state.stored >= window && !state.out) await breathe();
    }
    await room.settled();
    room.leave(caller);
    if (state.stored >= each) return;
    say("failed");
  }
}

/** Sets and erases names as a roster does, each time in the same few places. */
async function changeRoster(): Promise<void> {
  const { room } = await rooms.enter({ kind: "roster", room: driverRooms[0]?.room as never });
  const doc = new Y.Doc();
  const { caller, state } = enter(room, "roster", 0, doc.clientID);
  for (let turn = 0; turn < 40 && !state.out; turn += 1) {
    const before = Y.encodeStateVector(doc);
    doc.getMap("roster").set(`p${turn % 4}`, envelope(turn));
    await room.write(caller, Y.encodeStateAsUpdate(doc, before), "whole");
  }
}

await Promise.all([...driverRooms.keys()].map(appendTo).concat(changeRoster()));
say("done");
await storage.close();
