/**
 * A caller written from `packages/relay/PROTOCOL.md` alone, by somebody who has seen nothing else of ours: it has `ws` for the socket,
 * Yjs for the document, and the platform's own cryptography. Where the document was not enough to write it, the document was mended.
 * A test holds it to these imports.
 */
import { createHash, generateKeyPairSync, sign } from "node:crypto";
import { WebSocket } from "ws";
import * as Y from "yjs";

// Notation

export function uint(n: number): number[] {
  return n < 128 ? [n] : [(n % 128) + 128, ...uint(Math.floor(n / 128))];
}
export const bytes = (b: Uint8Array): number[] => [...uint(b.length), ...b];

interface Reader {
  readonly from: Uint8Array;
  at: number;
}

function readUint(reader: Reader): number {
  let [value, weight] = [0, 1];
  for (;;) {
    const byte = reader.from[reader.at];
    if (byte === undefined) throw new Error("cut short");
    reader.at += 1;
    value += (byte % 128) * weight;
    if (byte < 128) return value;
    weight *= 128;
  }
}

function readBytes(reader: Reader): Uint8Array {
  const length = readUint(reader);
  const read = reader.from.slice(reader.at, reader.at + length);
  if (read.length < length) throw new Error("cut short");
  reader.at += length;
  return read;
}

export type Vector = Map<number, number>;

function readVector(from: Uint8Array): Vector {
  const reader = { from, at: 0 };
  const vector: Vector = new Map();
  for (let left = readUint(reader); left > 0; left -= 1) vector.set(readUint(reader), readUint(reader));
  return vector;
}

// Frames

export const ask = (vector: Uint8Array): Uint8Array => Uint8Array.from([0, 0, ...bytes(vector)]);
export const historyPage = (yupdate: Uint8Array): Uint8Array => Uint8Array.from([0, 1, ...bytes(yupdate)]);
export const update = (yupdate: Uint8Array): Uint8Array => Uint8Array.from([0, 2, ...bytes(yupdate)]);
export const awareness = (state: Uint8Array): Uint8Array => Uint8Array.from([1, ...bytes(state)]);
export const compare = (): Uint8Array => Uint8Array.from(uint(67));
export const tokenFrame = (token: string): Uint8Array =>
  Uint8Array.from([...uint(70), ...bytes(Buffer.from(token, "ascii"))]);

export type Heard =
  | { readonly type: "ask"; readonly vector: Vector; readonly encoded: Uint8Array }
  | { readonly type: "history" | "update"; readonly yupdate: Uint8Array }
  | { readonly type: "awareness"; readonly state: Uint8Array }
  | { readonly type: "hello"; readonly version: number; readonly store: string }
  | { readonly type: "receipt"; readonly vector: Vector }
  | { readonly type: "refusal"; readonly reason: { readonly type: string } }
  | { readonly type: "digest"; readonly vector: Vector; readonly sum: string }
  | { readonly type: "challenge"; readonly nonce: Nonce };

/** What a token is made of. */
export interface Nonce {
  readonly nonce: string;
  readonly relay: string;
  readonly expires: number;
  readonly others?: readonly string[];
}

const ascii = (b: Uint8Array): string => Buffer.from(b).toString("ascii");

/** Throws at what is no frame. */
export function readFrame(from: Uint8Array): Heard {
  const reader = { from, at: 0 };
  const heard = readOne(reader);
  if (reader.at !== from.length) throw new Error("bytes left over");
  return heard;
}

function readOne(reader: Reader): Heard {
  const type = readUint(reader);
  if (type === 0) {
    const step = readUint(reader);
    const body = readBytes(reader);
    if (step === 0) return { type: "ask", vector: readVector(body), encoded: body };
    return { type: step === 1 ? "history" : "update", yupdate: body };
  }
  if (type === 1) return { type: "awareness", state: readBytes(reader) };
  if (type === 64) return { type: "hello", version: readUint(reader), store: ascii(readBytes(reader)) };
  if (type === 65) return { type: "receipt", vector: readVector(readBytes(reader)) };
  if (type === 66) return { type: "refusal", reason: JSON.parse(ascii(readBytes(reader))) };
  if (type === 69) return { type: "challenge", nonce: JSON.parse(ascii(readBytes(reader))) };
  if (type !== 68) throw new Error(`no frame: ${type}`);
  return { type: "digest", vector: readVector(readBytes(reader)), sum: Buffer.from(readBytes(reader)).toString("hex") };
}

/** What the relay's digest should be if its document is this one, below this vector. Hexadecimal. */
export function sumOf(doc: Y.Doc, vector: Vector): string {
  const { structs } = Y.decodeUpdate(Y.encodeStateAsUpdate(doc));
  const whole = createHash("sha256");
  for (const [client, next] of [...vector].sort(([a], [b]) => a - b)) {
    let chain = Buffer.alloc(32);
    for (const struct of structs) {
      if (struct.id.client !== client || struct.id.clock >= next) continue;
      if (!(struct instanceof Y.Item) || !(struct.content instanceof Y.ContentBinary)) continue;
      const key = Buffer.from(keyOf(doc, struct), "ascii");
      const link = [...uint(struct.id.clock), ...bytes(key), ...bytes(struct.content.content)];
      chain = createHash("sha256").update(chain).update(Uint8Array.from(link)).digest();
    }
    whole.update(Uint8Array.from([...uint(client), ...uint(next)])).update(chain);
  }
  return whole.digest("hex");
}

/** An update names an item's key only where nothing stands before it. */
function keyOf(doc: Y.Doc, item: Y.Item): string {
  for (const [key, there] of doc.getMap("roster")._map) {
    for (let one: Y.Item | null = there; one !== null; one = one.left) if (Y.compareIDs(one.id, item.id)) return key;
  }
  return "";
}

// Rooms and tokens

export type Kind = "ledger" | "roster";

export interface Room {
  readonly name: string;
  /** A signature of the room's key, base64url. */
  sign(text: string): string;
}

export function makeRoom(): Room {
  const { publicKey, privateKey } = generateKeyPairSync("ed25519");
  const name = String(publicKey.export({ format: "jwk" }).x);
  return { name, sign: (text) => sign(null, Buffer.from(text, "ascii"), privateKey).toString("base64url") };
}

const encoded = (value: object): string => Buffer.from(JSON.stringify(value)).toString("base64url");

export function makeToken(room: Room, payload: object): string {
  // RFC 7638 for an OKP key: its required members in the order of their names, without spaces.
  const kid = createHash("sha256").update(`{"crv":"Ed25519","kty":"OKP","x":"${room.name}"}`).digest("base64url");
  const signed = `${encoded({ alg: "EdDSA", typ: "sward-token", kid })}.${encoded(payload)}`;
  return `${signed}.${room.sign(signed)}`;
}

// The caller

export interface ProtocolClient {
  readonly doc: Y.Doc;
  readonly heard: readonly Heard[];
  /** What is durably stored, as far as receipts say. */
  readonly stored: Vector;
  /** Whether a history was read to its end since it was last let in. */
  synced(): boolean;
  store(): string | null;
  /** The origin that it is at, or tries. */
  at(): string;
  /** How its connections ended, in order; 0 for a nonce that was not given. */
  readonly endings: readonly number[];
  /** How long it waited before it dialled again, milliseconds. */
  readonly waits: readonly number[];
  /** It was closed with a code that says not to come again. */
  over(): boolean;
  append(envelope: Uint8Array): void;
  send(frame: Uint8Array): void;
  close(): void;
}

const finalCodes = [1009, 4400, 4403, 4404];
const pageBytes = 512 * 1024;

/** How it enters: with a token in the address, for which it asks first, or with one for which it is asked. */
export type Way = "nonce" | "challenge";

/** `forge` changes a token's payload, to see what a relay says of it. */
export function startClient(
  origin: string,
  room: Room,
  kind: Kind = "ledger",
  forge: (payload: object) => object = (payload) => payload,
  way: Way = "nonce",
): ProtocolClient {
  const doc = new Y.Doc();
  const heard: Heard[] = [];
  const stored: Vector = new Map();
  const [endings, waits, made]: [number[], number[], Uint8Array[]] = [[], [], []];
  let origins = [origin];
  let [store, socket]: [string | null, WebSocket | null] = [null, null];
  let [synced, over, failures] = [false, false, 0];

  const send = (frame: Uint8Array): void => {
    if (socket?.readyState === WebSocket.OPEN) socket.send(frame);
  };
  doc.on("update", (yupdate: Uint8Array, from: unknown) => {
    made.push(yupdate);
    if (from !== "relay") send(update(yupdate));
  });
  /** What was taken in and written, in that order and in pages: each leans only on those before it. */
  const handOver = (vector: Uint8Array): void => {
    let page: Uint8Array[] = [];
    for (const one of made) {
      if (page.reduce((sum, { length }) => sum + length, one.length) > pageBytes && page.length > 0) {
        send(historyPage(Y.diffUpdate(Y.mergeUpdates(page), vector)));
        page = [];
      }
      page.push(one);
    }
    if (page.length > 0) send(historyPage(Y.diffUpdate(Y.mergeUpdates(page), vector)));
  };
  const take = (one: Heard): void => {
    heard.push(one);
    if (one.type === "hello") {
      if (one.version !== 1) throw new Error(`version ${one.version}`);
      // Another store: anything may have been forgotten.
      if (one.store !== store) stored.clear();
      store = one.store;
    }
    if (one.type === "receipt") for (const [client, next] of one.vector) stored.set(client, next);
    if (one.type === "ask") handOver(one.encoded);
    if (one.type !== "history" && one.type !== "update") return;
    Y.applyUpdate(doc, one.yupdate, "relay");
    if (one.type === "history") [synced, failures] = [true, 0];
  };
  const again = (): void => {
    if (over) return;
    const span = Math.min(30_000, 500 * 2 ** failures);
    const pause = span * (0.5 + Math.random() / 2);
    failures += 1;
    waits.push(pause);
    origins = [...origins.slice(1), origins[0] ?? origin];
    setTimeout(() => void dial(), pause).unref();
  };
  const dial = async (): Promise<void> => {
    if (over) return;
    synced = false;
    const [at = origin] = origins;
    const address = `${at.replace("http", "ws")}/rooms/${kind}/${room.name}`;
    if (way === "challenge") return connect(at, `${address}?challenge`);
    try {
      const asked = await fetch(`${at}/rooms/${kind}/${room.name}/nonce`);
      if (asked.status !== 200) throw new Error(`status ${asked.status}`);
      const token = tokenOf(at, (await asked.json()) as Nonce);
      if (token !== null) connect(at, `${address}?token=${token}`);
    } catch {
      endings.push(0);
      again();
    }
  };
  /** No token for a relay that answers with another name. */
  const tokenOf = (at: string, { nonce, relay, expires, others }: Nonce): string | null => {
    if (relay !== at) over = true;
    if (over) return null;
    origins = [...new Set([...origins, ...(others ?? [])])];
    return makeToken(room, forge({ aud: at, room: room.name, kind, nonce, exp: expires }));
  };
  const connect = (at: string, address: string): void => {
    const one = new WebSocket(address);
    const challenged = address.endsWith("?challenge");
    socket = one;
    one.on("error", () => undefined);
    one.on("open", () => {
      if (!challenged) send(ask(Y.encodeStateVector(doc)));
    });
    one.on("message", (data: Buffer) => {
      const frame = readFrame(new Uint8Array(data));
      take(frame);
      if (frame.type !== "challenge") return;
      const token = tokenOf(at, frame.nonce);
      if (token === null) return one.close();
      send(tokenFrame(token));
      // It need not wait for an answer.
      send(ask(Y.encodeStateVector(doc)));
    });
    one.on("close", (code) => {
      endings.push(code);
      if (finalCodes.includes(code)) over = true;
      again();
    });
  };
  void dial();
  return {
    doc,
    heard,
    stored,
    endings,
    waits,
    synced: () => synced,
    store: () => store,
    at: () => origins[0] ?? origin,
    over: () => over,
    append: (envelope) => doc.getArray<Uint8Array>("entries").push([envelope]),
    send,
    close: () => {
      over = true;
      socket?.terminate();
    },
  };
}
