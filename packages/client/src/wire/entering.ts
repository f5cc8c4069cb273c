/**
 * The way into a room: dials, is challenged by the relay, and answers on the same connection, which saves the request for a nonce (on a
 * phone that is a connection of its own, with all its trips). Where that does not work it asks for a nonce first, as every relay knows:
 * the answer to that request also says what is amiss, which a failed WebSocket does not.
 *
 * Rejected: asking for a nonce first and being told there that there is a quicker way. A new device would find out too late.
 */
import type { Result } from "@sward/core";
import { challengeQuery, closeCodes, fail, ok, readChallenge, roomPath, tokenFrame } from "@sward/core";
import type { WireRoom } from "./connection.ts";
import type { FreshToken, TokenFault } from "./token.ts";
import { fetchToken, tokenFor } from "./token.ts";

/** A token to dial with, or a socket on which it was given already. */
export type Entered = FreshToken | { readonly socket: WebSocket; readonly others: readonly string[] };

export type EnteringFault =
  | TokenFault
  /** The relay closed the connection before it was asked to, with this code. */
  | { readonly type: "ended"; readonly code: number; readonly reason: string };

export interface EnteringDeps {
  readonly fetch: typeof fetch;
  readonly WebSocket: typeof WebSocket;
}

/** Relays that did not challenge, for as long as it lives. What has the socket then must listen at once. */
export function createEntering(room: WireRoom, deps: EnteringDeps) {
  const plain = new Set<string>();
  return async (origin: string, signal: AbortSignal): Promise<Result<Entered, EnteringFault>> => {
    const entered = plain.has(origin) ? null : await answerChallenge(origin, room, deps.WebSocket, signal);
    if (entered === "knows-of-none") plain.add(origin);
    if (entered !== null && entered !== "knows-of-none") return entered;
    if (signal.aborted) return fail({ type: "unreachable" });
    return fetchToken(origin, room, deps.fetch, signal);
  };
}

/** Null: there was no answer at all. */
async function answerChallenge(
  origin: string,
  room: WireRoom,
  WebSocketClass: typeof WebSocket,
  signal: AbortSignal,
): Promise<Result<Entered, EnteringFault> | "knows-of-none" | null> {
  const address = `${origin.replace(/^http/, "ws")}${roomPath(room.kind, room.name)}?${challengeQuery}`;
  const socket = new WebSocketClass(address);
  socket.binaryType = "arraybuffer";
  const hangUp = (): void => socket.close();
  signal.addEventListener("abort", hangUp);
  // An error is followed by the close that says as much.
  socket.onerror = () => undefined;
  let first: ((message: Uint8Array) => void) | null = null;
  const ended = new Promise<{ code: number; reason: string }>((end) => {
    socket.onclose = ({ code, reason }) => end({ code, reason });
  });
  const came = new Promise<Uint8Array>((come) => {
    first = come;
  });
  socket.onmessage = ({ data }: MessageEvent<ArrayBuffer>) => first?.(new Uint8Array(data));
  const answer = await Promise.race([came, ended]);
  if (!(answer instanceof Uint8Array)) {
    signal.removeEventListener("abort", hangUp);
    if (answer.code === closeCodes.staleToken) return "knows-of-none";
    return isSaid(answer.code) ? fail({ type: "ended", ...answer }) : null;
  }
  const asked = readChallenge(answer);
  const token = asked === null ? null : await Promise.race([tokenFor(origin, room, asked), ended]);
  signal.removeEventListener("abort", hangUp);
  if (token !== null && "code" in token) return fail({ type: "ended", ...token });
  if (asked === null || token === null || !token.ok) {
    socket.close();
    return token === null || token.ok ? "knows-of-none" : token;
  }
  socket.send(tokenFrame(token.value) as Uint8Array<ArrayBuffer>);
  return ok({ socket, others: asked.others ?? [] });
}

/** Whether a code was sent; the others are what a socket says of itself when it never got so far. */
const isSaid = (code: number): boolean => code !== 1005 && code !== 1006;
