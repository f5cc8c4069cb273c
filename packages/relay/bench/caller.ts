/**
 * One client for all servers, so that what is measured is the server: the y-protocols exchange over a WebSocket, with what each server
 * wants around it (a room's token for ours, the document's name before each message for another).
 */
import { once } from "node:events";
import type { RoomName } from "@sward/core";
import { challengeQuery, readChallenge, roomPath, tokenFrame, tokenType } from "@sward/core";
import { calculateJwkThumbprint } from "jose";
import * as decoding from "lib0/decoding";
import * as encoding from "lib0/encoding";
import { WebSocket } from "ws";
import * as Y from "yjs";

export type ServerName = "ours" | "hocuspocus" | "floor";

export interface BenchRoom {
  readonly name: string;
  /** Its thumbprint, which a device has since it has the key. */
  readonly kid: string;
  readonly key: CryptoKey;
}

export async function newRoom(): Promise<BenchRoom> {
  const pair = (await crypto.subtle.generateKey("Ed25519", true, ["sign", "verify"])) as CryptoKeyPair;
  const { x } = await crypto.subtle.exportKey("jwk", pair.publicKey);
  if (x === undefined) throw new Error("a public key");
  return { name: x, kid: await calculateJwkThumbprint({ kty: "OKP", crv: "Ed25519", x }), key: pair.privateKey };
}

export interface Message {
  readonly type: "ask" | "history" | "update" | "other";
  readonly bytes: Uint8Array;
  /** When it came, as performance.now(). */
  readonly at: number;
}

export interface BenchCaller {
  readonly socket: WebSocket;
  ask(vector: Uint8Array): void;
  update(update: Uint8Array): void;
  /** Set once to hear all that came and comes. */
  set onMessage(heard: (message: Message) => void);
  close(): Promise<void>;
}

/** Dials, and resolves when the server takes messages. */
export async function call(server: ServerName, port: number, room: BenchRoom): Promise<BenchCaller> {
  const socket = new WebSocket(addressOf(server, port, room), { perMessageDeflate: false });
  socket.on("error", () => undefined);
  if (server === "ours") await prove(socket, room);
  const named = server === "hocuspocus" ? room.name : null;
  const send = (type: number, inner: number, bytes: Uint8Array): void => {
    const encoder = encoding.createEncoder();
    if (named !== null) encoding.writeVarString(encoder, named);
    encoding.writeVarUint(encoder, type);
    encoding.writeVarUint(encoder, inner);
    encoding.writeVarUint8Array(encoder, bytes);
    socket.send(encoding.toUint8Array(encoder));
  };
  /** What came before anybody listened: a server may speak first. */
  const early: Message[] = [];
  let listener: ((message: Message) => void) | null = null;
  const caller: BenchCaller = {
    socket,
    ask: (vector) => send(0, 0, vector),
    update: (update) => send(0, 2, update),
    set onMessage(heard: (message: Message) => void) {
      listener = heard;
      for (const message of early.splice(0)) heard(message);
    },
    close: async () => {
      if (socket.readyState === WebSocket.CLOSED) return;
      const closed = once(socket, "close");
      socket.close();
      await closed;
    },
  };
  socket.on("message", (data: Buffer) => {
    const message = read(new Uint8Array(data), named !== null);
    if (listener === null) early.push(message);
    else listener(message);
  });
  if (socket.readyState !== WebSocket.OPEN) {
    await new Promise<void>((open, failed) => {
      socket.once("open", () => open());
      socket.once("close", (code) => failed(new Error(`closed with ${code}`)));
    });
  }
  if (named !== null) {
    // Sent once; with no check asked for, any token will do.
    send(2, 0, new TextEncoder().encode("bench"));
  }
  return caller;
}

function addressOf(server: ServerName, port: number, room: BenchRoom): string {
  const at = `ws://127.0.0.1:${port}`;
  if (server !== "ours") return `${at}/${server === "floor" ? room.name : ""}`;
  return `${at}${roomPath("ledger", room.name as RoomName)}?${challengeQuery}`;
}

/** Waits for the relay's challenge and answers it, as the app's own client does: one call of the platform's. */
async function prove(socket: WebSocket, room: BenchRoom): Promise<void> {
  const challenge = await new Promise<Buffer>((came, failed) => {
    socket.once("message", came);
    socket.once("close", (code) => failed(new Error(`closed with ${code}`)));
  });
  const asked = readChallenge(new Uint8Array(challenge));
  if (asked === null) throw new Error("no challenge");
  const claims = { aud: asked.relay, room: room.name, kind: "ledger", nonce: asked.nonce, exp: asked.expires };
  const input = [{ alg: "EdDSA", typ: tokenType, kid: room.kid }, claims]
    .map((part) => Buffer.from(JSON.stringify(part)).toString("base64url"))
    .join(".");
  const signature = await crypto.subtle.sign("Ed25519", room.key, Buffer.from(input));
  socket.send(tokenFrame(`${input}.${Buffer.from(signature).toString("base64url")}`));
}

function read(message: Uint8Array, named: boolean): Message {
  const at = performance.now();
  const decoder = decoding.createDecoder(message);
  if (named) decoding.readVarString(decoder);
  const type = decoding.readVarUint(decoder);
  // 4: the other server's name for an answer.
  if (type !== 0 && !(named && type === 4)) return { type: "other", bytes: message, at };
  const inner = decoding.readVarUint(decoder);
  const bytes = decoding.readVarUint8Array(decoder);
  return { type: inner === 0 ? "ask" : inner === 1 ? "history" : "update", bytes, at };
}

/** Bytes of one envelope, as one signed and sealed match makes. */
export const envelopeBytes = 359;

/** A writer with a document of its own; envelopes carry a running number. */
export function createWriter() {
  const doc = new Y.Doc();
  const entries = doc.getArray<Uint8Array>("entries");
  let n = 0;
  const envelope = (): Uint8Array => {
    const bytes = crypto.getRandomValues(new Uint8Array(envelopeBytes));
    bytes[0] = 1;
    new DataView(bytes.buffer).setUint32(5, n);
    n += 1;
    return bytes;
  };
  return {
    doc,
    get written() {
      return n;
    },
    /** The update that appends so many envelopes. */
    append(count: number): Uint8Array {
      let made: Uint8Array | null = null;
      doc.once("update", (update: Uint8Array) => {
        made = update;
      });
      doc.transact(() => entries.push(Array.from({ length: count }, envelope)));
      if (made === null) throw new Error("an update");
      return made;
    },
  };
}

/** The number of the envelope that is the only one in an update: it and an empty set of deletions end it. */
export const numberIn = (update: Uint8Array): number =>
  new DataView(update.buffer, update.byteOffset).getUint32(update.length - 1 - envelopeBytes + 5);
