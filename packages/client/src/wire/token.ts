/**
 * Proof of holding a room's key, for one connection: ask the relay for a nonce, sign it together with the relay's own address.
 * The token's life is counted on the relay's clock, so a device whose clock is wrong can still connect.
 */
import type { Result } from "@sward/core";
import { fail, NonceReply, ok, roomPath } from "@sward/core";
import type { WireFault, WireRoom } from "./connection.ts";

export type TokenFault =
  | WireFault
  /** The relay goes by another name than the one dialled: a token for it would be good somewhere else. */
  | { readonly type: "other-name"; readonly relay: string }
  | { readonly type: "cannot-sign"; readonly cause: string };

export interface FreshToken {
  readonly token: string;
  /** Other relays where the room can be entered. */
  readonly others: readonly string[];
}

/** A fresh token for one connection to `origin`. */
export async function fetchToken(
  origin: string,
  room: WireRoom,
  fetch: typeof globalThis.fetch,
  signal: AbortSignal,
): Promise<Result<FreshToken, TokenFault>> {
  const asked = await askNonce(`${origin}${roomPath(room.kind, room.name)}/nonce`, fetch, signal);
  if (!asked.ok) return asked;
  const token = await tokenFor(origin, room, asked.value);
  return token.ok ? ok({ token: token.value, others: asked.value.others ?? [] }) : token;
}

/** What answers a nonce that came from `origin`. */
export async function tokenFor(
  origin: string,
  room: WireRoom,
  { nonce, relay, expires }: NonceReply,
): Promise<Result<string, TokenFault>> {
  if (relay !== origin) return fail({ type: "other-name", relay });
  try {
    return ok(await room.sign({ aud: origin, room: room.name, kind: room.kind, nonce, exp: expires }));
  } catch (cause) {
    return fail({ type: "cannot-sign", cause: String(cause) });
  }
}

async function askNonce(
  url: string,
  fetch: typeof globalThis.fetch,
  signal: AbortSignal,
): Promise<Result<NonceReply, WireFault>> {
  let response: Response;
  try {
    response = await fetch(url, { signal, cache: "no-store" });
  } catch {
    return fail({ type: "unreachable" });
  }
  if (!response.ok) return fail({ type: "http", status: response.status });
  const body: unknown = await response.json().catch(() => null);
  const reply = NonceReply.safeParse(body);
  return reply.success ? ok(reply.data) : fail({ type: "not-a-relay" });
}
