/** A WebSocket and what came over it: for callers that a wire would never be. */
import type { Frame, RoomKind } from "@sward/core";
import { readFrame, roomPath } from "@sward/core";
import { WebSocket } from "ws";
import type { TestRoom } from "./meeting.ts";
import { tokenFor, until } from "./meeting.ts";

export interface PlainCaller {
  readonly frames: readonly Frame[];
  /** Null while open. */
  readonly closed: () => { readonly code: number; readonly reason: string } | null;
  readonly socket: WebSocket;
  send(frame: Uint8Array): void;
  close(): Promise<void>;
}

/** Dials any address of a relay; resolves when the socket is open or closed. */
export async function dial(origin: string, path: string): Promise<PlainCaller> {
  const socket = new WebSocket(origin.replace("http", "ws") + path);
  const frames: Frame[] = [];
  let closed: { code: number; reason: string } | null = null;
  socket.on("message", (data: Buffer) => {
    const frame = readFrame(new Uint8Array(data));
    if (frame === null) throw new Error(`the relay sent what is no frame: ${data.toString("hex")}`);
    frames.push(frame);
  });
  socket.on("error", () => undefined);
  socket.on("close", (code, reason) => {
    closed = { code, reason: reason.toString() };
  });
  await until("open or closed", () => socket.readyState !== WebSocket.CONNECTING);
  return {
    frames,
    closed: () => closed,
    socket,
    send: (frame) => socket.send(frame),
    close: async () => {
      socket.close();
      await until("closed", () => closed !== null);
    },
  };
}

/** Enters a room with a good token. */
export async function enter(origin: string, room: TestRoom, kind: RoomKind = "ledger"): Promise<PlainCaller> {
  const caller = await dial(origin, `${roomPath(kind, room.name)}?token=${await tokenFor(origin, room, kind)}`);
  await until("greeted", () => caller.frames.some(({ type }) => type === "receipt"));
  return caller;
}

/** How a dialled address ends. */
export async function ending(origin: string, path: string): Promise<{ code: number; reason: string } | null> {
  const caller = await dial(origin, path);
  await until(`closed: ${path}`, () => caller.closed() !== null);
  if (caller.frames.length > 0) throw new Error("a caller who was turned away was told something");
  return caller.closed();
}
