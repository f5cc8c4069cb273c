/**
 * A relay without a port: its real rooms, sessions and doorkeeper, over a store in memory that takes its time, reached over the
 * simulated network instead of sockets.
 */
import type { RoomKind, RoomName, UpdateRefusal } from "@sward/core";
import { challengeQuery, closeCodes } from "@sward/core";
import type { Storage } from "@sward/relay";
import { createMemoryStorage, defaultConfig } from "@sward/relay";
import type { WebSocket } from "ws";
import type { Session } from "../../packages/relay/src/caller.ts";
import { openSession } from "../../packages/relay/src/caller.ts";
import { createAllowance } from "../../packages/relay/src/limits/allowance.ts";
import { createBudget } from "../../packages/relay/src/limits/budget.ts";
import type { Room, RoomLimits } from "../../packages/relay/src/room.ts";
import { openRoom } from "../../packages/relay/src/room.ts";
import type { RoomKey } from "../../packages/relay/src/storage.ts";
import { roomKeyText } from "../../packages/relay/src/storage.ts";
import { createDoorkeeper } from "../../packages/relay/src/token.ts";
import type { Dice } from "./dice.ts";
import type { Happened } from "./happened.ts";
import type { Answer, End, Wired } from "./network.ts";
import type { Schedule } from "./schedule.ts";

export interface SimRelay {
  readonly origin: string;
  isUp(): boolean;
  nonce(kind: RoomKind, room: RoomName): Promise<Response>;
  readonly answer: Answer;
  /** Stops at once and comes back with what its store had; what was not yet written is gone. */
  crash(downFor: number): void;
  /** Its store is lost, and it begins with an empty one. */
  wipe(): void;
  /** The next so many writes of its store fail. */
  fill(writes: number): void;
  /** Turns against its callers: says this to everybody in the room, or to one of them. */
  betray(room: RoomName, frame: Uint8Array, toAll: boolean): void;
  /** Everything a room has, as stored. */
  stored(kind: RoomKind, room: RoomName): Promise<readonly Uint8Array[]>;
  /** Things that must never be logged. */
  readonly faults: readonly string[];
  readonly refusals: ReadonlyMap<UpdateRefusal["type"], number>;
}

const config = defaultConfig();
const limits: RoomLimits = {
  screen: { updateBytes: config.messageBytes, envelopeBytes: config.envelopeBytes, clients: config.clients },
  roomBytes: { ledger: config.ledgerBytes, roster: config.rosterBytes },
  pageBytes: Math.floor(config.messageBytes / 2),
};
const seconds = 1_780_000_000;

export function createRelay(name: string, schedule: Schedule, happened: Happened, dice: Dice): SimRelay {
  const origin = `https://${name}.example`;
  const doorkeeper = createDoorkeeper({ now: () => seconds * 1000 + schedule.now(), random: (n) => dice.bytes(n) });
  const faults: string[] = [];
  const refusals = new Map<UpdateRefusal["type"], number>();
  let stores = 1;
  let memory = createMemoryStorage(`${name}-${stores}`);
  let rooms = new Map<string, Promise<Room>>();
  let calls = new Map<Wired, RoomKey>();
  let up = true;
  let run = 0;
  let failing = 0;

  /** Writes of a run that is over go nowhere. */
  function slow(storage: Storage): Storage {
    const mine = run;
    const later = <T>(what: string, write: () => Promise<T>): Promise<T> =>
      new Promise((done, failed) => {
        schedule.after(dice.between(1, 40), `${name} store`, () => {
          if (mine !== run) return happened(`relay crashed before a write was durable`);
          if (failing > 0) {
            failing -= 1;
            happened("relay write failed");
            return failed(new Error(`${what}: no room`));
          }
          write().then(done, failed);
        });
      });
    return {
      ...storage,
      append: (key, updates) => later("append", () => storage.append(key, updates)),
      replace: (key, updates, over) => later("replace", () => storage.replace(key, updates, over)),
    };
  }
  let storage = slow(memory);

  function enter(key: RoomKey): Promise<Room> {
    const text = roomKeyText(key);
    const room =
      rooms.get(text) ??
      openRoom(key, storage, limits, (event) => {
        if (event.type === "refused") refusals.set(event.refusal.type, (refusals.get(event.refusal.type) ?? 0) + 1);
        else if (event.type !== "not-stored" && event.type !== "tidied") faults.push(JSON.stringify(event));
      });
    rooms.set(text, room);
    room.catch((cause) => faults.push(`a room cannot be read: ${String(cause)}`));
    return room;
  }

  function endAll(): void {
    run += 1;
    rooms = new Map();
    const all = [...calls.keys()];
    calls = new Map();
    for (const call of all) call.close(1006, "");
  }

  const answer: Answer = (address, back) => {
    const url = new URL(address);
    const [, , kind, room] = url.pathname.split("/");
    const key = { kind, room } as RoomKey;
    calls.set(back, key);
    const socket = socketOver(back);
    let session: Session | null = null;
    let over = false;
    const begin = async (): Promise<void> => {
      // A network that doubles frames and lets them overtake would have a token given twice: these relays know of no challenge.
      if (url.searchParams.has(challengeQuery)) return back.close(closeCodes.staleToken, "token-missing");
      const turned = await doorkeeper.check(url.searchParams.get("token") ?? undefined, key, [origin]);
      if (over) return;
      if (turned !== null) {
        happened("token refused");
        return back.close(turned.code, turned.reason);
      }
      const opening = enter(key);
      session = openSession(
        socket as unknown as WebSocket,
        opening.then((entered) => ({ room: entered, allowance: createAllowance(1e9, 1e9), release: () => undefined })),
        {
          store: storage.id,
          limits: config,
          history: createBudget(1e9),
          now: schedule.now,
          limited: (limit) => happened(`relay limit met: ${limit}`),
          sent: () => undefined,
          received: () => undefined,
        },
      );
      socket.listen((frame) => session?.receive(frame));
    };
    begin().catch((cause) => faults.push(`a caller was not answered: ${String(cause)}`));
    const end: End = {
      open: () => undefined,
      receive: (frame) => socket.arrived(frame),
      closed: () => {
        over = true;
        calls.delete(back);
        session?.ended();
      },
    };
    return end;
  };

  return {
    origin,
    isUp: () => up,
    answer,
    nonce: (kind, room) => Promise.resolve(Response.json({ ...doorkeeper.nonce({ kind, room }), relay: origin })),
    crash(downFor) {
      happened("relay crashed");
      endAll();
      up = false;
      storage = slow(memory);
      schedule.after(downFor, `${name} comes back`, () => {
        up = true;
      });
    },
    wipe() {
      happened("relay wiped");
      endAll();
      stores += 1;
      memory = createMemoryStorage(`${name}-${stores}`);
      storage = slow(memory);
    },
    fill(writes) {
      failing = writes;
    },
    betray(room, frame, toAll) {
      const inside = [...calls].filter(([, key]) => key.room === room);
      const chosen = toAll || inside.length === 0 ? inside : [dice.pick(inside)];
      for (const [back] of chosen) back.send(frame);
      happened("relay sent what it was not asked to", chosen.length);
    },
    stored: (kind, room) => memory.load({ kind, room }),
    faults,
    refusals,
  };
}

/** As much of a `ws` socket as a session uses. */
function socketOver(back: Wired) {
  const queue: Uint8Array[] = [];
  let paused = false;
  let hear: ((frame: Uint8Array) => void) | null = null;
  const flush = (): void => {
    while (!paused && hear !== null && queue.length > 0) hear(queue.shift()!);
  };
  return {
    bufferedAmount: 0,
    get isPaused() {
      return paused;
    },
    pause: () => {
      paused = true;
    },
    resume: () => {
      paused = false;
      flush();
    },
    on: () => undefined,
    ping: () => undefined,
    send: (frame: Uint8Array) => back.send(frame),
    close: (code: number, reason: string) => back.close(code, reason),
    // Closing never fails here, so there is nothing left to cut.
    terminate: () => undefined,
    listen: (listener: (frame: Uint8Array) => void) => {
      hear = listener;
      flush();
    },
    arrived: (frame: Uint8Array) => {
      queue.push(frame);
      flush();
    },
  };
}
