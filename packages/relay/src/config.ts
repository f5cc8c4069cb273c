/**
 * What an operator may set, read once from the environment. Every fault is listed at once, with the name of the variable and
 * what was expected, and a variable of ours that we do not know is a fault too: a misspelt limit is no limit.
 */
import type { Result } from "@sward/core";
import { fail, ok, screenLimits } from "@sward/core";
import * as z from "zod";
import type { LogLevel } from "./log-levels.ts";
import { logLevels } from "./log-levels.ts";

export interface RelayConfig {
  readonly host: string;
  /** 0: any free port. */
  readonly port: number;
  /** Folder of the store, and of the socket that commands come to. */
  readonly data: string;
  /** Servers of the store that several relays share; null: this relay has a store of its own in `data`. */
  readonly nats: NatsConfig | null;
  /** Folder of the built app, or null to serve none. */
  readonly app: string | null;
  /** What the relay is called from outside, as `https://relay.example`; empty: by its local names only. */
  readonly origins: readonly string[];
  /** Other relays of the same store, which callers are told of; each by the name it has outside. */
  readonly others: readonly string[];
  /** Bytes of one WebSocket message. */
  readonly messageBytes: number;
  readonly envelopeBytes: number;
  readonly ledgerBytes: number;
  readonly rosterBytes: number;
  readonly connections: number;
  readonly roomConnections: number;
  /** Yjs client ids in one room. */
  readonly clients: number;
  /** Bytes that may wait for a slow caller before it is let go. */
  readonly unsentBytes: number;
  /** Connections and dials (with nonces, a minute) of one address. */
  readonly addressConnections: number;
  readonly addressDials: number;
  /** Proxies of the operator between callers and the relay: so many addresses at the end of X-Forwarded-For are believed. */
  readonly proxies: number;
  /** Of one connection; ten seconds' worth may come at once. */
  readonly messagesPerSecond: number;
  readonly bytesPerSecond: number;
  /** Of one room, whoever sends it; ten seconds' worth may come at once. */
  readonly roomBytesPerSecond: number;
  /** Rooms read from the store at the same time. */
  readonly readings: number;
  /** Bytes of history on their way to all callers together. */
  readonly historyBytes: number;
  /** Port on this machine that gives figures, or null. */
  readonly metricsPort: number | null;
  /** Files of a certificate and its key, or null: without TLS, behind something that has it. */
  readonly tls: { readonly certFile: string; readonly keyFile: string } | null;
  readonly logLevel: LogLevel;
  /** How long an empty room stays in memory. */
  readonly idleMilliseconds: number;
  /** How often a sign of life is sent; y-websocket gives up after 30 seconds without one. */
  readonly pulseMilliseconds: number;
}

export interface NatsConfig {
  readonly servers: readonly string[];
  /** Of the streams and subjects; relays of one name share one store. */
  readonly name: string;
  /** How many servers keep each entry; only for a store that is made now. */
  readonly replicas: number;
  /** File with the token that the servers ask for, or null. */
  readonly tokenFile: string | null;
  /** File with the certificate of the authority behind the servers' own, or null. */
  readonly caFile: string | null;
}

export interface ConfigFault {
  readonly variable: string;
  readonly expected: string;
}

const MiB = 1024 * 1024;

const whole = (least: number, most: number, otherwise: number) =>
  z
    .string()
    .regex(/^\d{1,15}$/)
    .transform(Number)
    .refine((value) => value >= least && value <= most)
    .default(otherwise)
    .describe(`a whole number from ${least} to ${most}`);

/** Scheme and host alone, as a browser sends it. */
const isOrigin = (text: string): boolean =>
  URL.canParse(text) && /^https?:$/.test(new URL(text).protocol) && new URL(text).origin === text;

const isNatsServer = (text: string): boolean =>
  URL.canParse(text) && /^(nats|tls):$/.test(new URL(text).protocol) && new URL(text).username === "";

const listed = (text: string): string[] =>
  text
    .split(",")
    .map((part) => part.trim())
    .filter((part) => part !== "");

const Environment = z.strictObject({
  HOST: z.string().min(1).default("127.0.0.1").describe("a host name or address to listen on"),
  PORT: whole(0, 65_535, 8787),
  DATA: z.string().min(1).default(".data/relay").describe("a folder"),
  APP: z.string().default("packages/client/dist").describe("a folder, or nothing"),
  ORIGINS: z
    .string()
    .default("")
    .transform(listed)
    .refine((origins) => origins.every(isOrigin))
    .describe("origins with commas between them, such as https://relay.example"),
  OTHERS: z
    .string()
    .default("")
    .transform(listed)
    .refine((origins) => origins.length <= 16 && origins.every(isOrigin))
    .describe("up to 16 origins with commas between them, such as https://relay-2.example"),
  NATS: z
    .string()
    .default("")
    .transform(listed)
    .refine((servers) => servers.every(isNatsServer))
    .describe(
      "NATS servers with commas between them, such as nats://10.0.0.1:4222, or nothing; a token goes in a file",
    ),
  NATS_NAME: z
    .string()
    .regex(/^[a-z0-9-]{1,32}$/)
    .default("sward")
    .describe("1 to 32 small letters, digits and -"),
  NATS_REPLICAS: z.enum(["1", "3", "5"]).default("3").transform(Number).describe("1, 3 or 5"),
  NATS_TOKEN_FILE: z.string().default("").describe("a file, or nothing"),
  NATS_CA_FILE: z.string().default("").describe("a file, or nothing"),
  MESSAGE_BYTES: whole(64 * 1024, 64 * MiB, screenLimits.updateBytes),
  ENVELOPE_BYTES: whole(1024, 16 * MiB, screenLimits.envelopeBytes),
  LEDGER_BYTES: whole(1024, 2 ** 40, 256 * MiB),
  ROSTER_BYTES: whole(1024, 2 ** 30, 8 * MiB),
  CONNECTIONS: whole(1, 100_000, 2000),
  ROOM_CONNECTIONS: whole(1, 10_000, 200),
  CLIENTS: whole(1, 100_000, screenLimits.clients),
  UNSENT_BYTES: whole(64 * 1024, 2 ** 40, 128 * MiB),
  ADDRESS_CONNECTIONS: whole(1, 100_000, 500),
  ADDRESS_DIALS: whole(10, 1_000_000, 1200),
  PROXIES: whole(0, 10, 0),
  MESSAGES_PER_SECOND: whole(10, 100_000, 200),
  BYTES_PER_SECOND: whole(64 * 1024, 2 ** 30, 4 * MiB),
  ROOM_BYTES_PER_SECOND: whole(64 * 1024, 2 ** 30, 8 * MiB),
  READINGS: whole(1, 1000, 8),
  HISTORY_BYTES: whole(MiB, 2 ** 40, 512 * MiB),
  METRICS_PORT: z
    .string()
    .regex(/^\d{0,5}$/)
    .transform((text) => (text === "" ? null : Number(text)))
    .refine((port) => port === null || (port > 0 && port < 65_536))
    .default(null)
    .describe("a port from 1 to 65535, or nothing"),
  TLS_CERT_FILE: z.string().default("").describe("a file, or nothing; with TLS_KEY_FILE"),
  TLS_KEY_FILE: z.string().default("").describe("a file, or nothing; with TLS_CERT_FILE"),
  LOG: z
    .enum(logLevels)
    .default("info")
    .describe(`one of ${logLevels.join(", ")}`),
  IDLE_SECONDS: whole(0, 86_400, 60),
  PULSE_SECONDS: whole(1, 25, 20),
});

const prefix = "SWARD_RELAY_";

/** Reads the variables that begin with `SWARD_RELAY_`; no others are looked at. */
export function readConfig(
  environment: Readonly<Record<string, string | undefined>>,
): Result<RelayConfig, ConfigFault[]> {
  const ours = Object.entries(environment).filter(([name, value]) => name.startsWith(prefix) && value !== undefined);
  const read = Environment.safeParse(
    Object.fromEntries(ours.map(([name, value]) => [name.slice(prefix.length), value])),
  );
  if (!read.success) return fail(read.error.issues.flatMap(faultsOf));
  const set = read.data;
  const half = tlsHalfSet(set);
  if (half !== null) return fail([half]);
  return ok({
    host: set.HOST,
    port: set.PORT,
    data: set.DATA,
    nats: natsOf(set),
    app: set.APP === "" ? null : set.APP,
    origins: set.ORIGINS,
    others: set.OTHERS,
    messageBytes: set.MESSAGE_BYTES,
    envelopeBytes: set.ENVELOPE_BYTES,
    ledgerBytes: set.LEDGER_BYTES,
    rosterBytes: set.ROSTER_BYTES,
    connections: set.CONNECTIONS,
    roomConnections: set.ROOM_CONNECTIONS,
    clients: set.CLIENTS,
    unsentBytes: set.UNSENT_BYTES,
    addressConnections: set.ADDRESS_CONNECTIONS,
    addressDials: set.ADDRESS_DIALS,
    proxies: set.PROXIES,
    messagesPerSecond: set.MESSAGES_PER_SECOND,
    bytesPerSecond: set.BYTES_PER_SECOND,
    roomBytesPerSecond: set.ROOM_BYTES_PER_SECOND,
    readings: set.READINGS,
    historyBytes: set.HISTORY_BYTES,
    metricsPort: set.METRICS_PORT,
    tls: set.TLS_CERT_FILE === "" ? null : { certFile: set.TLS_CERT_FILE, keyFile: set.TLS_KEY_FILE },
    logLevel: set.LOG,
    idleMilliseconds: set.IDLE_SECONDS * 1000,
    pulseMilliseconds: set.PULSE_SECONDS * 1000,
  });
}

/** A certificate without its key, or a key without its certificate, would be no TLS at all. */
function tlsHalfSet({ TLS_CERT_FILE, TLS_KEY_FILE }: z.infer<typeof Environment>): ConfigFault | null {
  if ((TLS_CERT_FILE === "") === (TLS_KEY_FILE === "")) return null;
  const missing = TLS_CERT_FILE === "" ? "TLS_CERT_FILE" : "TLS_KEY_FILE";
  return { variable: prefix + missing, expected: "a file, since the other of the two is set" };
}

function natsOf(set: z.infer<typeof Environment>): NatsConfig | null {
  if (set.NATS.length === 0) return null;
  const file = (path: string): string | null => (path === "" ? null : path);
  return {
    servers: set.NATS,
    name: set.NATS_NAME,
    replicas: set.NATS_REPLICAS,
    tokenFile: file(set.NATS_TOKEN_FILE),
    caFile: file(set.NATS_CA_FILE),
  };
}

/** Each variable, what it may be, and what it is when it is not set; for the reference. */
export function settings(): { readonly name: string; readonly expected: string; readonly otherwise: string }[] {
  const unset = Environment.parse({}) as Readonly<Record<string, unknown>>;
  return Object.entries(Environment.shape).map(([name, { description }]) => {
    const value = unset[name] ?? "";
    return { name, expected: description ?? "", otherwise: Array.isArray(value) ? value.join(",") : String(value) };
  });
}

/** The configuration of an empty environment, with some of it set otherwise. */
export function defaultConfig(set: Partial<RelayConfig> = {}): RelayConfig {
  const read = readConfig({});
  if (!read.ok) throw new Error("the defaults are not valid");
  return { ...read.value, ...set };
}

function faultsOf(issue: z.core.$ZodIssue): ConfigFault[] {
  if (issue.code === "unrecognized_keys") {
    const known = Object.keys(Environment.shape)
      .map((name) => prefix + name)
      .join(", ");
    return issue.keys.map((name) => ({ variable: prefix + name, expected: `one of ${known}` }));
  }
  const name = String(issue.path[0]) as keyof typeof Environment.shape;
  return [{ variable: prefix + name, expected: Environment.shape[name].description ?? "another value" }];
}
