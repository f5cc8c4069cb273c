/**
 * A caller who dials with no token but asks to be challenged: the connection itself brings the nonce and takes the token, which saves the
 * request before it, on a phone often with a connection of its own. The checks are those of a token in the address.
 *
 * Until its token is good such a caller costs a socket and a timer: it is told nothing of the room, the room is not read, and one frame of
 * it is looked at. What it sends beyond that is not gathered: one whose token did not come with its first few thousand bytes is cut off,
 * before a message of the usual length could be put together.
 */
import type { Duplex } from "node:stream";
import { closeCodes, readToken } from "@sward/core";
import type { WebSocket } from "ws";
import type { Session } from "./caller.ts";
import { closeSocket } from "./caller.ts";
import type { Turned } from "./token.ts";

export interface ChallengeDeps {
  /** The frame that is sent at once. */
  readonly challenge: Uint8Array;
  /** What the socket reads from. */
  readonly stream: Duplex;
  /** Null: it is good, and spent. */
  readonly check: (token: string) => Turned | null;
  readonly turned: (ending: Turned) => void;
  /** Called once, when the token was good. */
  readonly enter: () => Session;
}

/** How long a caller may take to sign. */
const signingMilliseconds = 10_000;
/** A token's frame with what WebSockets put around it; what follows it in the same packets is no longer counted. */
const mostBytes = 4096;

export function challengeCaller(socket: WebSocket, deps: ChallengeDeps): Session {
  let inside: Session | null = null;
  let over = false;
  let bytes = 0;

  const settle = (): void => {
    clearTimeout(late);
    deps.stream.off("data", count);
  };
  const close = (code: number, reason: string): void => {
    over = true;
    settle();
    if (inside !== null) inside.close(code, reason);
    else closeSocket(socket, code, reason);
  };
  const turnAway = (turned: Turned): void => {
    if (over) return;
    deps.turned(turned);
    close(turned.code, turned.reason);
  };
  /** Hears of each packet after the socket has taken it. */
  const count = (packet: Uint8Array): void => {
    bytes += packet.length;
    if (bytes <= mostBytes || inside !== null) return;
    over = true;
    settle();
    socket.terminate();
  };
  const missing = (): void => turnAway({ code: closeCodes.staleToken, reason: "token-missing" });
  const late = setTimeout(missing, signingMilliseconds);
  late.unref();
  deps.stream.on("data", count);
  socket.send(deps.challenge);

  return {
    receive: (message) => {
      if (inside !== null) return inside.receive(message);
      if (over) return;
      const token = readToken(message);
      if (token === null) return close(closeCodes.badMessage, "no-token");
      const turned = deps.check(token);
      if (turned !== null) return turnAway(turned);
      settle();
      inside = deps.enter();
    },
    pulse: () => inside?.pulse(),
    close,
    ended: () => {
      over = true;
      settle();
      inside?.ended();
    },
  };
}
