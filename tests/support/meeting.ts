/**
 * A relay on a free port and rooms to meet in, for tests over real sockets. Clock, chance and log come from here, so a test can
 * look at each; nothing of the relay, the wire or the provider is replaced.
 */
import { randomBytes } from "node:crypto";
import type { RoomKind, RoomName, TokenClaims } from "@sward/core";
import { roomPath, tokenType } from "@sward/core";
import type { Relay, RelayConfig, RelayEvent, Storage } from "@sward/relay";
import { createMemoryStorage, defaultConfig, startRelay } from "@sward/relay";
import { CompactSign, calculateJwkThumbprint, exportJWK, generateKeyPair } from "jose";
import { WebSocket as NodeWebSocket } from "ws";
import * as Y from "yjs";
import type { WireDeps } from "../../packages/client/src/wire/connection.ts";
import { openWire } from "../../packages/client/src/wire/wire.ts";

export const random = (bytes: number): Uint8Array => new Uint8Array(randomBytes(bytes));

export interface TestRelay extends Relay {
  readonly events: readonly RelayEvent[];
  /** The origin callers dial. */
  readonly origin: string;
}

export async function relayWith(set: Partial<RelayConfig> = {}, storage?: Storage): Promise<TestRelay> {
  const events: RelayEvent[] = [];
  const relay = await startRelay(defaultConfig({ port: 0, app: null, ...set }), {
    storage: storage ?? createMemoryStorage(`memory-${randomBytes(4).toString("hex")}`),
    now: Date.now,
    random,
    log: (event) => events.push(event),
  });
  return { ...relay, events, origin: `http://127.0.0.1:${relay.port}` };
}

export interface TestRoom {
  readonly name: RoomName;
  sign(claims: TokenClaims): Promise<string>;
}

/** A room nobody has seen, and its key; its tokens are made with a JOSE library. */
export async function newRoom(): Promise<TestRoom> {
  const { publicKey, privateKey } = await generateKeyPair("EdDSA", { crv: "Ed25519" });
  const jwk = await exportJWK(publicKey);
  const kid = await calculateJwkThumbprint(jwk);
  return {
    name: jwk.x as RoomName,
    sign: (claims) =>
      new CompactSign(new TextEncoder().encode(JSON.stringify(claims)))
        .setProtectedHeader({ alg: "EdDSA", typ: tokenType, kid })
        .sign(privateKey),
  };
}

/** A good token for one connection. */
export async function tokenFor(
  origin: string,
  room: TestRoom,
  kind: RoomKind,
  claims: Partial<TokenClaims> = {},
): Promise<string> {
  const asked = await fetch(`${origin}${roomPath(kind, room.name)}/nonce`);
  const { nonce, expires } = (await asked.json()) as { nonce: string; expires: number };
  return room.sign({ aud: origin, room: room.name, kind, nonce, exp: expires, ...claims });
}

export const wireDeps: WireDeps = {
  fetch,
  WebSocket: NodeWebSocket as unknown as typeof WebSocket,
  now: Date.now,
  random: Math.random,
  setTimeout: (run, after) => setTimeout(run, after),
  clearTimeout: (timer) => clearTimeout(timer as NodeJS.Timeout),
};

/** A document on a wire. */
export function wired(
  relay: string,
  room: TestRoom,
  kind: RoomKind = "ledger",
  doc = new Y.Doc(),
  deps: Partial<WireDeps> = {},
) {
  const wire = openWire({ relay, room: { kind, ...room }, doc, deps: { ...wireDeps, ...deps }, maxBackoff: 300 });
  return { doc, wire, entries: doc.getArray<Uint8Array>("entries") };
}

/** How long is waited for anything at all: what holds is seen at once, so only a crowded machine ever needs it. */
const PATIENCE = 60_000;

/** Waits until it is so; the error says what it was waiting for. */
export async function until(what: string, holds: () => boolean, atLeast = PATIENCE): Promise<void> {
  const milliseconds = Math.max(atLeast, PATIENCE);
  const end = Date.now() + milliseconds;
  while (!holds()) {
    if (Date.now() > end) throw new Error(`waited ${milliseconds} ms until ${what}`);
    await new Promise((done) => setTimeout(done, 5));
  }
}
