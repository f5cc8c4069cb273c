/**
 * The floor: what no relay of Yjs documents can do without. Takes an update, writes it durably, applies it, passes it on. No token, no
 * screen, no limit, no receipt, and no other care.
 */
import { createServer } from "node:http";
import type { AddressInfo } from "node:net";
import * as decoding from "lib0/decoding";
import * as encoding from "lib0/encoding";
import type { WebSocket } from "ws";
import { WebSocketServer } from "ws";
import * as sync from "y-protocols/sync";
import * as Y from "yjs";
import { openDurableLog } from "./durable-log.ts";
import { folderGiven, serveParent } from "./server-process.ts";

interface Room {
  readonly doc: Y.Doc;
  readonly sockets: Set<WebSocket>;
}

const { folder, port } = folderGiven();
const log = await openDurableLog(folder);
const rooms = new Map<string, Promise<Room>>();

async function open(name: string): Promise<Room> {
  const doc = new Y.Doc();
  for (const update of await log.read(name)) Y.applyUpdate(doc, update);
  return { doc, sockets: new Set() };
}

function frame(type: number, bytes: Uint8Array): Uint8Array {
  const encoder = encoding.createEncoder();
  encoding.writeVarUint(encoder, 0);
  encoding.writeVarUint(encoder, type);
  encoding.writeVarUint8Array(encoder, bytes);
  return encoding.toUint8Array(encoder);
}

async function take(name: string, room: Room, from: WebSocket, message: Uint8Array): Promise<void> {
  const decoder = decoding.createDecoder(message);
  if (decoding.readVarUint(decoder) !== 0) return;
  const type = decoding.readVarUint(decoder);
  const bytes = decoding.readVarUint8Array(decoder);
  if (type === sync.messageYjsSyncStep1) {
    from.send(frame(sync.messageYjsSyncStep2, Y.encodeStateAsUpdate(room.doc, bytes)));
    return;
  }
  if (bytes.length <= 2) return;
  await log.append(name, bytes);
  Y.applyUpdate(room.doc, bytes);
  const passed = frame(sync.messageYjsUpdate, bytes);
  for (const socket of room.sockets) if (socket !== from) socket.send(passed);
}

const server = createServer();
new WebSocketServer({ server }).on("connection", (socket, request) => {
  const name = request.url ?? "";
  const opening = rooms.get(name) ?? open(name);
  rooms.set(name, opening);
  const entered = opening.then((room) => {
    room.sockets.add(socket);
    socket.send(frame(sync.messageYjsSyncStep1, Y.encodeStateVector(room.doc)));
  });
  socket.on("error", () => undefined);
  socket.on("message", (data: Buffer) => {
    // Not one after another: what comes while a write is under way shares the next one, and the log resolves in order.
    void opening.then((room) => take(name, room, socket, new Uint8Array(data))).catch(() => undefined);
  });
  socket.on("close", () => {
    void entered.then(async () => {
      const room = await opening;
      room.sockets.delete(socket);
      if (room.sockets.size === 0 && rooms.get(name) === opening) rooms.delete(name);
    });
  });
});
server.listen(port, "127.0.0.1", () =>
  serveParent((server.address() as AddressInfo).port, async () => {
    server.close();
    await log.close();
  }),
);
