/**
 * A relay: one HTTP port with the app, the rooms, and a health check. Everything it uses of the world comes in as a parameter, so a
 * test starts three of them in one process with a clock of its own.
 */
import type { Server } from "node:http";
import type { AddressInfo } from "node:net";
import { createAdaptorServer } from "@hono/node-server";
import { closeCodes } from "@sward/core";
import { createApp } from "./app.ts";
import type { Session } from "./caller.ts";
import type { RelayConfig } from "./config.ts";
import { createDoor } from "./door.ts";
import { createEntrance } from "./entrance.ts";
import type { RelayEvent } from "./events.ts";
import { createAddresses } from "./limits/addresses.ts";
import { createBudget } from "./limits/budget.ts";
import type { Metrics } from "./metrics.ts";
import { createMetrics } from "./metrics.ts";
import { encrypted, serveMetrics } from "./ports.ts";
import type { RoomLimits } from "./room.ts";
import type { Rooms, RoomsLimits } from "./rooms.ts";
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
  /** For whoever runs the relay: the rooms and what they take. */
  readonly rooms: Rooms;
  readonly limits: RoomLimits;
  /** Lets everybody go, who then come again: after the store was given another id. */
  letGo(): void;
  /** Lets everybody go, writes what waits, closes the store. */
  close(): Promise<void>;
}

/** Resolves once the relay listens; rejects if it cannot. */
export async function startRelay(config: RelayConfig, deps: RelayDeps): Promise<Relay> {
  const limits: RoomsLimits = {
    screen: { updateBytes: config.messageBytes, envelopeBytes: config.envelopeBytes, clients: config.clients },
    roomBytes: { ledger: config.ledgerBytes, roster: config.rosterBytes },
    pageBytes: Math.floor(config.messageBytes / 2),
    roomBytesPerSecond: config.roomBytesPerSecond,
    readings: config.readings,
  };
  const sessions = new Set<Session>();
  const metrics: Metrics = createMetrics({ rooms: () => rooms.inMemory, connections: () => sessions.size });
  const log = (event: RelayEvent): void => {
    metrics.note(event);
    deps.log(event);
  };
  const storage = metrics.timed(deps.storage);
  const rooms = createRooms(storage, limits, config.idleMilliseconds, log);
  const origins = [...config.origins];
  let stopping = false;
  const draining = (): boolean => stopping;
  const addresses = createAddresses({ connections: config.addressConnections, dials: config.addressDials }, deps.now);
  const entrance = createEntrance({ ...deps, log, config, origins, addresses });
  const shared = { config, storage, rooms, sessions, entrance, now: deps.now, log, draining };
  const app = createApp(shared);
  const door = createDoor({ ...shared, metrics, addresses, history: createBudget(config.historyBytes) });
  const server = createAdaptorServer({ fetch: app.fetch, ...(await encrypted(config)) }) as Server;
  server.on("upgrade", door);
  const figures = config.metricsPort === null ? null : await serveMetrics(metrics, config.metricsPort);
  const port = await listen(server, config);
  const url = urlOf(config, port);
  if (origins.length === 0)
    origins.push(
      ...new Set([url, ...["localhost", "127.0.0.1"].map((host) => `${new URL(url).protocol}//${host}:${port}`)]),
    );
  const pulse = setInterval(() => {
    for (const session of sessions) session.pulse();
  }, config.pulseMilliseconds);
  log({ type: "listening", url, store: storage.id });

  const close = async (): Promise<void> => {
    clearInterval(pulse);
    const closed = new Promise<void>((done) => server.close(() => done()));
    stopping = true;
    log({ type: "draining", connections: sessions.size });
    await drain(sessions);
    await rooms.settled();
    figures?.close();
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
    rooms,
    limits,
    letGo: () => {
      for (const session of sessions) session.close(closeCodes.goingAway, "store-renewed");
    },
    close: () => {
      closing ??= close();
      return closing;
    },
  };
}

/** Lets everybody go a few at a time: all at once would be back all at once, at a relay that is already busy. */
async function drain(sessions: ReadonlySet<Session>): Promise<void> {
  const all = [...sessions];
  for (let from = 0; from < all.length; from += sliceOfSessions) {
    if (from > 0) await new Promise((waited) => setTimeout(waited, sliceMilliseconds));
    for (const session of all.slice(from, from + sliceOfSessions))
      session.close(closeCodes.goingAway, "relay-stopping");
  }
}

const sliceOfSessions = 50;
const sliceMilliseconds = 100;

/** How long callers may take to say goodbye when the relay stops. */
const stoppingMilliseconds = 3000;

/** From this machine; "every address" is none that can be dialled. */
function urlOf({ host, tls }: RelayConfig, port: number): string {
  const scheme = tls === null ? "http" : "https";
  if (host === "0.0.0.0" || host === "::") return `${scheme}://localhost:${port}`;
  return `${scheme}://${host.includes(":") ? `[${host}]` : host}:${port}`;
}

const listen = (server: Server, { host, port }: RelayConfig): Promise<number> =>
  new Promise((done, failed) => {
    server.once("error", failed);
    server.listen(port, host, () => {
      server.off("error", failed);
      done((server.address() as AddressInfo).port);
    });
  });
