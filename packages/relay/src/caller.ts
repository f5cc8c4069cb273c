/**
 * One open WebSocket. It is paused until its room is read and while too much of what it sent waits to be written, so that
 * neither a slow disk nor a fast sender fills memory; and it is let go when it does not take what is sent to it.
 */
import type { Frame } from "@sward/core";
import { closeCodes, frameTypes, helloFrame, readFrame } from "@sward/core";
import type { WebSocket } from "ws";
import type { Caller, Room } from "./room.ts";
import type { Lease } from "./rooms.ts";

export interface CallerLimits {
  readonly unsentBytes: number;
  readonly roomConnections: number;
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

export function openSession(socket: WebSocket, entering: Promise<Lease>, store: string, limits: CallerLimits): Session {
  /** What arrived in the same packets as the handshake, before pausing took effect. */
  const early: Uint8Array[] = [];
  let lease: Lease | null = null;
  let over = false;
  let alive = true;
  let unwritten = 0;

  const close = (code: number, reason: string): void => {
    over = true;
    closeSocket(socket, code, reason);
  };
  const caller: Caller = {
    send: (frame) => {
      if (over) return;
      if (socket.bufferedAmount > limits.unsentBytes) close(closeCodes.tryLater, "too-slow");
      else socket.send(frame);
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
      if (got.room.callers >= limits.roomConnections) return close(closeCodes.tryLater, "room-crowded");
      got.room.join(caller);
      for (const message of early.splice(0)) session.receive(message);
      socket.resume();
    },
    () => close(closeCodes.relayFault, "room-unreadable"),
  );

  const leave = (): void => {
    lease?.room.leave(caller);
    lease?.release();
    lease = null;
  };

  const write = async (room: Room, frame: Extract<Frame, { update: Uint8Array }>): Promise<void> => {
    unwritten += frame.update.length;
    if (unwritten > unwrittenBytes) socket.pause();
    await room.write(caller, frame.update, frame.type === "history" ? "salvage" : "whole");
    unwritten -= frame.update.length;
    if (unwritten <= unwrittenBytes) socket.resume();
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
      const frame = readFrame(message);
      if (frame?.type === "ask") lease.room.ask(caller, frame.vector);
      else if (frame?.type === "history" || frame?.type === "update") void write(lease.room, frame);
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
