/**
 * One open WebSocket. It is paused until its room is read and while too much of what it sent waits to be written or it sends faster than
 * it may, so that neither a slow disk nor a fast sender fills memory: a flood is slowed down by its own sender's network, and nobody
 * honest is ever closed for being busy. One that does not take what is sent to it is told less, and then let go.
 */
import type { Duplex } from "node:stream";
import type { Frame } from "@sward/core";
import { closeCodes, digestFrame, frameTypes, helloFrame, readFrame } from "@sward/core";
import type { WebSocket } from "ws";
import { answerAsk } from "./answer.ts";
import type { Limit } from "./events.ts";
import type { Caller } from "./jobs.ts";
import { createAllowance } from "./limits/allowance.ts";
import type { Budget } from "./limits/budget.ts";
import type { Room } from "./room.ts";
import type { Lease } from "./rooms.ts";

export interface CallerLimits {
  readonly unsentBytes: number;
  readonly roomConnections: number;
  /** Of one connection, after ten seconds' worth at once. */
  readonly messagesPerSecond: number;
  readonly bytesPerSecond: number;
}

export interface CallerDeps {
  readonly store: string;
  readonly limits: CallerLimits;
  /** Bytes of history on their way to all callers. */
  readonly history: Budget;
  readonly now: () => number;
  readonly limited: (limit: Limit) => void;
  readonly sent: (bytes: number) => void;
  readonly received: (bytes: number) => void;
  /** What the socket, which compresses nothing, writes to; without it news goes message by message. */
  readonly stream?: Duplex;
}

/** An accepted caller, until its socket closes. */
export interface Session {
  receive(message: Uint8Array): void;
  /** Sends a sign of life; lets go of a caller that gave none since the last time. */
  pulse(): void;
  close(code: number, reason: string): void;
  ended(): void;
}

/** How much of what one caller sent may wait to be written before its socket is paused, in bytes. */
const unwrittenBytes = 4 * 1024 * 1024;
/** Awareness says nothing here but "still there". */
const awarenessBytes = 1024;
const mostEarly = 16;
/** How long a caller may take to close before its socket is cut. */
const closingMilliseconds = 2000;

/** Closes politely, then for certain. */
export function closeSocket(socket: WebSocket, code: number, reason: string): void {
  socket.close(code, reason);
  socket.resume();
  setTimeout(() => socket.terminate(), closingMilliseconds).unref();
}

export function openSession(socket: WebSocket, entering: Promise<Lease>, deps: CallerDeps): Session {
  const { store, limits, now, stream } = deps;
  const messages = createAllowance(10 * limits.messagesPerSecond, limits.messagesPerSecond);
  const bytes = createAllowance(10 * limits.bytesPerSecond, limits.bytesPerSecond);
  /** What arrived in the same packets as the handshake, before pausing took effect. */
  const early: Uint8Array[] = [];
  let lease: Lease | null = null;
  let over = false;
  let alive = true;
  let unwritten = 0;
  /** Reasons to be paused that hold now. */
  let slowed = false;
  let answering = false;
  let comparing = false;

  const close = (code: number, reason: string): void => {
    over = true;
    closeSocket(socket, code, reason);
  };
  const post = (frame: Uint8Array): void => {
    deps.sent(frame.length);
    socket.send(frame);
  };
  const tooSlow = (): boolean => {
    if (socket.bufferedAmount <= limits.unsentBytes) return false;
    deps.limited("unsent-bytes");
    close(closeCodes.tryLater, "too-slow");
    return true;
  };
  const caller: Caller = {
    send: (frame) => {
      if (over) return;
      // What is only said is the first thing that somebody slow does not hear.
      if (frame[0] === frameTypes.awareness && socket.bufferedAmount > limits.unsentBytes / 16) return;
      if (!tooSlow()) post(frame);
    },
    tell: ({ updates, receipt, wire }) => {
      // History on its way will bring the updates; before what they lean on they would be of no use.
      if (answering) return caller.send(receipt);
      if (over || tooSlow()) return;
      if (stream === undefined) return [...updates, receipt].forEach(post);
      // The library keeps quiet by itself once a socket closes.
      if (socket.readyState !== socket.OPEN) return;
      deps.sent(wire.length);
      stream.write(wire);
    },
    close,
  };

  socket.pause();
  socket.on("pong", () => {
    alive = true;
  });
  caller.send(helloFrame(store));
  entering.then(
    (got) => {
      lease = got;
      if (over) return leave();
      if (got.room.callers >= limits.roomConnections) {
        deps.limited("room-connections");
        return close(closeCodes.tryLater, "room-crowded");
      }
      // The greeting and, for a caller who has asked already, the first pages leave in one write.
      stream?.cork();
      process.nextTick(() => stream?.uncork());
      got.room.join(caller);
      for (const message of early.splice(0)) session.receive(message);
      flow();
    },
    () => close(closeCodes.relayFault, "room-unreadable"),
  );

  const leave = (): void => {
    lease?.room.leave(caller);
    lease?.release();
    lease = null;
  };

  /** Reads on, unless there is a reason not to. */
  const flow = (): void => {
    if (over || (!slowed && unwritten <= unwrittenBytes)) socket.resume();
    else socket.pause();
  };

  /** Slows a caller down that sends more than it may. */
  const spend = (length: number, of: Lease): void => {
    const own = Math.max(messages.owe(1, now()), bytes.owe(length, now()));
    const rooms = of.allowance.owe(length, now());
    const pause = Math.max(own, rooms);
    if (pause === 0 || slowed) return;
    deps.limited(own >= rooms ? "connection-rate" : "room-rate");
    slowed = true;
    flow();
    setTimeout(() => {
      slowed = false;
      flow();
    }, pause).unref();
  };

  const write = async (room: Room, frame: Extract<Frame, { update: Uint8Array }>): Promise<void> => {
    unwritten += frame.update.length;
    flow();
    await room.write(caller, frame.update, frame.type === "history" ? "salvage" : "whole");
    unwritten -= frame.update.length;
    flow();
  };

  const answer = async (room: Room, vector: Uint8Array): Promise<void> => {
    // A second question while the first is being answered: the answer that is on its way ends with the present state.
    if (answering) return;
    answering = true;
    const taken = await answerAsk(room, vector, {
      budget: deps.history,
      unsent: () => socket.bufferedAmount,
      over: () => over,
      wait: (milliseconds) => new Promise((waited) => setTimeout(waited, milliseconds)),
      post,
      last: (frame) => {
        answering = false;
        post(frame);
      },
    });
    answering = false;
    if (taken || over) return;
    deps.limited("history-stalled");
    close(closeCodes.tryLater, "too-slow");
  };

  /** A second question while the first is being worked out has the same answer. */
  const compare = async (room: Room): Promise<void> => {
    if (comparing) return;
    comparing = true;
    const { vector, digest } = await room.digest();
    comparing = false;
    caller.send(digestFrame(vector, digest));
  };

  const session: Session = {
    receive: (message) => {
      if (over) return;
      if (lease === null) {
        if (early.length < mostEarly) early.push(message);
        else close(closeCodes.tryLater, "too-early");
        return;
      }
      alive = true;
      deps.received(message.length);
      spend(message.length, lease);
      const frame = readFrame(message);
      if (frame?.type === "ask") void answer(lease.room, frame.vector);
      else if (frame?.type === "history" || frame?.type === "update") void write(lease.room, frame);
      else if (frame?.type === "compare") void compare(lease.room);
      else if (frame?.type === "awareness" && frame.state.length <= awarenessBytes) lease.room.awareness(frame.state);
      else if (frame?.type !== "query-awareness")
        close(closeCodes.badMessage, `message-${message[0] ?? frameTypes.sync}`);
    },
    pulse: () => {
      // A paused socket cannot say that it is alive; it is we who are slow.
      if (!alive && !socket.isPaused) return socket.terminate();
      alive = socket.isPaused;
      socket.ping();
      caller.send(helloFrame(store));
    },
    close,
    ended: () => {
      over = true;
      leave();
    },
  };
  return session;
}
