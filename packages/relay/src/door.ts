/**
 * Who asks for a WebSocket: let into a room, or turned away. Between the request and the room there is nothing but the WebSocket library.
 * Rejected: the web framework that answers all other requests, which makes a web request of this one, and of each message afterwards an
 * event with a copy of its bytes: a good part of what a relay had to do for a caller who came to read a thousand entries.
 *
 * A caller who may not enter a room is let in and then closed with a code (44xx): a browser cannot see the status of a refused
 * upgrade and would dial for ever. A token in the address is checked before the handshake ends, so nothing is kept for the unproven;
 * who has none may ask to be challenged (`challenge.ts`).
 */
import type { IncomingMessage } from "node:http";
import type { Duplex } from "node:stream";
import { challengeFrame, challengeQuery, closeCodes } from "@sward/core";
import type { WebSocket } from "ws";
import { WebSocketServer } from "ws";
import type { Session } from "./caller.ts";
import { closeSocket, openSession } from "./caller.ts";
import { challengeCaller } from "./challenge.ts";
import type { RelayConfig } from "./config.ts";
import type { Entrance } from "./entrance.ts";
import { roomKeyOf } from "./entrance.ts";
import type { Limit, RelayEvent } from "./events.ts";
import type { Addresses } from "./limits/addresses.ts";
import type { Budget } from "./limits/budget.ts";
import type { Metrics } from "./metrics.ts";
import type { Rooms } from "./rooms.ts";
import type { RoomKey, Storage } from "./storage.ts";
import { roomKeyText } from "./storage.ts";

export interface DoorDeps {
  readonly config: RelayConfig;
  readonly storage: Storage;
  readonly rooms: Rooms;
  /** Filled and emptied here; whoever made it pulses and closes what is in it. */
  readonly sessions: Set<Session>;
  readonly entrance: Entrance;
  readonly now: () => number;
  readonly log: (event: RelayEvent) => void;
  readonly metrics: Metrics;
  readonly addresses: Addresses;
  /** Bytes of history on their way to all callers. */
  readonly history: Budget;
  /** Whether the relay is letting everybody go. */
  readonly draining: () => boolean;
}

type Ending = { readonly code: number; readonly reason: string };
/** What is done with a caller who has a socket now. */
type Opened = (socket: WebSocket) => void;
/** The session of a caller; `enter` lets him into the room. */
type Begin = (socket: WebSocket, enter: () => Session) => Session;

const upgradable = (target: string): boolean => target.startsWith("/rooms/") && URL.canParse(target, "http://x");

/** Called with each request to upgrade a connection. */
export function createDoor(deps: DoorDeps): (request: IncomingMessage, stream: Duplex, head: Buffer) => void {
  // A frame is a little longer than the update in it.
  const sockets = new WebSocketServer({ noServer: true, maxPayload: deps.config.messageBytes + 64 });
  return (request, stream, head) => {
    if (upgradable(request.url ?? ""))
      return sockets.handleUpgrade(request, stream, head, judge(deps, request, stream));
    stream.on("error", () => undefined);
    stream.end("HTTP/1.1 404 Not Found\r\nConnection: close\r\nContent-Length: 0\r\n\r\n");
  };
}

function judge(deps: DoorDeps, request: IncomingMessage, stream: Duplex): Opened {
  const { entrance, log } = deps;
  const { pathname, searchParams } = new URL(request.url ?? "", "http://x");
  const turned = ({ code, reason }: Ending): void =>
    log({ type: "turned-away", room: pathname.slice(0, 100), code, reason });
  const turnAway = (ending: Ending): Opened => {
    turned(ending);
    return (socket) => {
      socket.on("error", () => undefined);
      closeSocket(socket, ending.code, ending.reason);
    };
  };
  const key = roomKeyOf(pathname);
  if (key === null) return turnAway({ code: closeCodes.noSuchRoom, reason: "no-such-room" });
  if (deps.draining()) return turnAway({ code: closeCodes.goingAway, reason: "relay-stopping" });
  const from = entrance.whence(request);
  const token = searchParams.get("token");
  if (token === null && searchParams.has(challengeQuery)) {
    if (!entrance.mayAsk(from)) return turnAway({ code: closeCodes.tryLater, reason: "address-crowded" });
    const challenge = challengeFrame(entrance.asked(key, request.headers.host));
    const check = (given: string) => entrance.check(given, key);
    return admit(deps, key, from, stream, (socket, enter) =>
      challengeCaller(socket, { challenge, stream, check, turned, enter }),
    );
  }
  const refused = entrance.check(token ?? undefined, key);
  return refused === null ? admit(deps, key, from, stream, (_socket, enter) => enter()) : turnAway(refused);
}

const admit =
  (deps: DoorDeps, key: RoomKey, address: string, stream: Duplex, begin: Begin): Opened =>
  (socket) => {
    const { config, storage, rooms, sessions, log, metrics, history, now } = deps;
    const { sent, received } = metrics;
    const limited = (limit: Limit): void => log({ type: "limited", room: roomKeyText(key), limit });
    socket.on("error", () => undefined);
    if (sessions.size >= config.connections) {
      limited("relay-connections");
      return closeSocket(socket, closeCodes.tryLater, "relay-crowded");
    }
    const leaveAddress = deps.addresses.enter(address);
    if (leaveAddress === null) {
      limited("address-connections");
      return closeSocket(socket, closeCodes.tryLater, "address-crowded");
    }
    metrics.opened();
    const enter = (): Session => {
      const entering = rooms.enter(key);
      entering.catch((cause) => log({ type: "room-unreadable", room: roomKeyText(key), cause: String(cause) }));
      const given = { stream, store: storage.id, limits: config, history, now, limited, sent, received };
      return openSession(socket, entering, given);
    };
    const session = begin(socket, enter);
    sessions.add(session);
    socket.on("message", (data: Buffer, binary) => {
      try {
        // A copy: what is kept of a message would keep the whole packet it came in.
        if (binary) session.receive(new Uint8Array(data));
        else session.close(closeCodes.badMessage, "text");
      } catch (cause) {
        log({ type: "fault", cause: String(cause) });
      }
    });
    socket.on("close", (code) => {
      metrics.closed(code);
      leaveAddress();
      session.ended();
      sessions.delete(session);
    });
  };
