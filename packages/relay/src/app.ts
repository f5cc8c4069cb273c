/**
 * What answers on a relay's port: nonces, rooms, health, and the app.
 *
 * A caller who may not enter a room is let in and then closed with a code (44xx): a browser cannot see the status of a refused
 * upgrade and would dial for ever. The check itself is done before the handshake ends, so nothing is kept for the unproven.
 */
import type { HttpBindings } from "@hono/node-server";
import { upgradeWebSocket } from "@hono/node-server";
import { getConnInfo } from "@hono/node-server/conninfo";
import { closeCodes, RoomKind, RoomName } from "@sward/core";
import type { Context } from "hono";
import { Hono } from "hono";
import type { WSEvents } from "hono/ws";
import type { WebSocket } from "ws";
import { serveAppFile } from "./app-files.ts";
import type { Session } from "./caller.ts";
import { closeSocket, openSession } from "./caller.ts";
import type { RelayConfig } from "./config.ts";
import type { Limit, RelayEvent } from "./events.ts";
import type { Addresses } from "./limits/addresses.ts";
import { addressOf } from "./limits/addresses.ts";
import type { Budget } from "./limits/budget.ts";
import type { Metrics } from "./metrics.ts";
import type { Rooms } from "./rooms.ts";
import type { RoomKey, Storage } from "./storage.ts";
import { roomKeyText } from "./storage.ts";
import { createDoorkeeper } from "./token.ts";

export interface AppParts {
  readonly config: RelayConfig;
  readonly storage: Storage;
  readonly rooms: Rooms;
  /** Filled and emptied here; whoever made it pulses and closes what is in it. */
  readonly sessions: Set<Session>;
  /** What this relay is called; may be filled in once the port is known. */
  readonly origins: readonly string[];
  readonly now: () => number;
  readonly random: (bytes: number) => Uint8Array;
  readonly log: (event: RelayEvent) => void;
  readonly metrics: Metrics;
  readonly addresses: Addresses;
  /** Bytes of history on their way to all callers. */
  readonly history: Budget;
  /** Whether the relay is letting everybody go. */
  readonly draining: () => boolean;
}

/** How long one health answer is good for: asking often must not write often. */
const healthMilliseconds = 1000;

export function createApp(parts: AppParts): Hono {
  const { config, rooms, sessions, origins, log } = parts;
  const doorkeeper = createDoorkeeper(parts);
  const app = new Hono();

  app.onError((cause, c) => {
    log({ type: "fault", cause: String(cause) });
    return c.text("The relay failed to answer.\n", 500);
  });

  app.on(["GET", "POST"], "/rooms/:kind/:room/nonce", (c) => {
    forAnyOrigin(c);
    const key = roomKeyOf(c.req.path);
    if (key === null) return c.json({ fault: "no-such-room" }, 404);
    if (!mayDial(parts, c)) return c.json({ fault: "too-often" }, 429, { "retry-after": "10" });
    const others = config.others.length === 0 ? {} : { others: config.others };
    return c.json({ ...doorkeeper.nonce(key), relay: nameFor(origins, c.req.header("host")), ...others });
  });

  app.get(
    "/rooms/*",
    upgradeWebSocket(
      async (c) => {
        const key = roomKeyOf(c.req.path);
        if (key === null) return turnAway(c, { code: closeCodes.noSuchRoom, reason: "no-such-room" }, log);
        if (parts.draining()) return turnAway(c, { code: closeCodes.goingAway, reason: "relay-stopping" }, log);
        const turned = await doorkeeper.check(c.req.query("token"), key, origins);
        return turned === null ? admit(parts, key, c) : turnAway(c, turned, log);
      },
      { onError: (cause) => log({ type: "fault", cause: String(cause) }) },
    ),
  );

  const health = createHealth(parts);
  app.get("/health", async (c) => {
    forAnyOrigin(c);
    const ok = !parts.draining() && (await health());
    const facts = { ok, store: parts.storage.id, rooms: rooms.inMemory, connections: sessions.size };
    return c.json(facts, ok ? 200 : 503);
  });

  app.get("*", async (c) => {
    const path = new URL(c.req.url).pathname;
    if (config.app === null) return c.text("Not found.\n", 404);
    return serveAppFile(config.app, path, c.req.header("accept-encoding"));
  });
  return app;
}

/** An app that came from one relay may use another; nothing here depends on cookies. */
function forAnyOrigin(c: Context): void {
  c.header("access-control-allow-origin", "*");
  c.header("cache-control", "no-store");
}

function roomKeyOf(path: string): RoomKey | null {
  const [, rooms, kind, room, nonce, ...more] = path.split("/");
  const read = { kind: RoomKind.safeParse(kind), room: RoomName.safeParse(room) };
  if (rooms !== "rooms" || !read.kind.success || !read.room.success) return null;
  if (more.length > 0 || (nonce !== undefined && nonce !== "nonce")) return null;
  return { kind: read.kind.data, room: read.room.data };
}

/** The name under which we were called, if it is one of ours. What a caller says of us is never believed beyond that. */
const nameFor = (origins: readonly string[], host: string | undefined): string =>
  origins.find((origin) => new URL(origin).host === host) ?? origins[0] ?? "";

type Ending = { readonly code: number; readonly reason: string };

function turnAway(c: Context, { code, reason }: Ending, log: AppParts["log"]): WSEvents {
  log({ type: "turned-away", room: c.req.path.slice(0, 100), code, reason });
  return { onOpen: (_event, { raw }) => closeSocket(raw as unknown as WebSocket, code, reason) };
}

/** The address of a caller, as far as it is known. */
const whence = ({ config }: AppParts, c: Context): string =>
  addressOf(getConnInfo(c).remote.address, c.req.header("x-forwarded-for"), config.proxies);

function mayDial(parts: AppParts, c: Context): boolean {
  const may = parts.addresses.mayDial(whence(parts, c));
  if (!may) parts.log({ type: "limited", room: "", limit: "address-dials" });
  return may;
}

function admit(parts: AppParts, key: RoomKey, c: Context): WSEvents {
  const { config, storage, rooms, sessions, log, metrics } = parts;
  const limited = (limit: Limit): void => log({ type: "limited", room: roomKeyText(key), limit });
  const address = whence(parts, c);
  const stream = (c.env as HttpBindings).incoming.socket;
  let session: Session | null = null;
  let leaveAddress: (() => void) | null = null;
  return {
    onOpen: (_event, { raw }) => {
      const socket = raw as unknown as WebSocket;
      if (sessions.size >= config.connections) {
        limited("relay-connections");
        return closeSocket(socket, closeCodes.tryLater, "relay-crowded");
      }
      leaveAddress = parts.addresses.enter(address);
      if (leaveAddress === null) {
        limited("address-connections");
        return closeSocket(socket, closeCodes.tryLater, "address-crowded");
      }
      metrics.opened();
      const entering = rooms.enter(key);
      entering.catch((cause) => log({ type: "room-unreadable", room: roomKeyText(key), cause: String(cause) }));
      const { history, now } = parts;
      const { sent, received } = metrics;
      session = openSession(socket, entering, {
        stream,
        store: storage.id,
        limits: config,
        history,
        now,
        limited,
        sent,
        received,
      });
      sessions.add(session);
    },
    onMessage: ({ data }) => {
      if (data instanceof ArrayBuffer) session?.receive(new Uint8Array(data));
      else session?.close(closeCodes.badMessage, "text");
    },
    onClose: ({ code }) => {
      if (session !== null) metrics.closed(code);
      leaveAddress?.();
      session?.ended();
      if (session !== null) sessions.delete(session);
    },
  };
}

/** A real write and a real read, shared by all who ask within a second. */
function createHealth({ storage, now, log }: AppParts): () => Promise<boolean> {
  let until = 0;
  let answer: Promise<boolean> = Promise.resolve(false);
  return () => {
    if (now() < until) return answer;
    until = now() + healthMilliseconds;
    answer = storage.probe().then(
      () => true,
      (cause) => {
        log({ type: "fault", cause: String(cause) });
        return false;
      },
    );
    return answer;
  };
}
