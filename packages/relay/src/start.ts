/**
 * A relay: one HTTP port with the app, the rooms, and a health check. Everything it uses of the world comes in as a parameter, so a
 * test starts three of them in one process with a clock of its own.
 */
import type { Server } from "node:http";
import type { AddressInfo } from "node:net";
import { createAdaptorServer } from "@hono/node-server";
import { closeCodes } from "@sward/core";
import { WebSocketServer } from "ws";
import { createApp } from "./app.ts";
import type { Session } from "./caller.ts";
import type { RelayConfig } from "./config.ts";
import type { RelayEvent } from "./events.ts";
import type { RoomLimits } from "./room.ts";
import { createRooms } from "./rooms.ts";
import type { Storage } from "./storage.ts";

export interface RelayDeps {
  /** Closed by the relay's `close`. */
  readonly storage: Storage;
  /** Milliseconds since 1970. */
  readonly now: () => number;
  readonly random: (bytes: number) => Uint8Array;
  readonly log: (event: RelayEvent) => void;
}

export interface Relay {
  readonly port: number;
  /** `http://<host>:<port>`, as reached from this machine. */
  readonly url: string;
  /** Lets everybody go, writes what waits, closes the store. */
  close(): Promise<void>;
}

/** Resolves once the relay listens; rejects if it cannot. */
export async function startRelay(config: RelayConfig, deps: RelayDeps): Promise<Relay> {
  const { storage, log } = deps;
  const limits: RoomLimits = {
    screen: { updateBytes: config.messageBytes, envelopeBytes: config.envelopeBytes, clients: config.clients },
    roomBytes: { ledger: config.ledgerBytes, roster: config.rosterBytes },
    pageBytes: Math.floor(config.messageBytes / 2),
  };
  const rooms = createRooms(storage, limits, config.idleMilliseconds, log);
  const sessions = new Set<Session>();
  const origins = [...config.origins];
  const app = createApp({ ...deps, config, rooms, sessions, origins });

  // A frame is a little longer than the update in it.
  const sockets = new WebSocketServer({ noServer: true, maxPayload: config.messageBytes + 64 });
  // `ws` declares its options as possibly undefined, which the adaptor's type does not allow for.
  const websocket = { server: sockets } as unknown as NonNullable<
    Parameters<typeof createAdaptorServer>[0]["websocket"]
  >;
  const server = createAdaptorServer({ fetch: app.fetch, websocket }) as Server;
  const port = await listen(server, config);
  const url = urlOf(config.host, port);
  if (origins.length === 0) origins.push(...new Set([url, `http://localhost:${port}`, `http://127.0.0.1:${port}`]));
  const pulse = setInterval(() => {
    for (const session of sessions) session.pulse();
  }, config.pulseMilliseconds);
  log({ type: "listening", url, store: storage.id });

  const close = async (): Promise<void> => {
    clearInterval(pulse);
    const closed = new Promise<void>((done) => server.close(() => done()));
    for (const session of sessions) session.close(closeCodes.goingAway, "relay-stopping");
    await rooms.settled();
    server.closeIdleConnections();
    setTimeout(() => server.closeAllConnections(), stoppingMilliseconds).unref();
    await closed;
    await storage.close();
    log({ type: "stopped" });
  };
  let closing: Promise<void> | null = null;
  return {
    port,
    url,
    close: () => {
      closing ??= close();
      return closing;
    },
  };
}

/** How long callers may take to say goodbye when the relay stops. */
const stoppingMilliseconds = 3000;

/** From this machine; "every address" is none that can be dialled. */
function urlOf(host: string, port: number): string {
  if (host === "0.0.0.0" || host === "::") return `http://localhost:${port}`;
  return `http://${host.includes(":") ? `[${host}]` : host}:${port}`;
}

const listen = (server: Server, { host, port }: RelayConfig): Promise<number> =>
  new Promise((done, failed) => {
    server.once("error", failed);
    server.listen(port, host, () => {
      server.off("error", failed);
      done((server.address() as AddressInfo).port);
    });
  });
