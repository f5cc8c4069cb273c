/**
 * What a relay counts for its operator, in the text form that Prometheus reads. Everything is counted where it is already known (an event,
 * a call of the store, a socket that opens or closes), and nothing is counted by room or by address: that would be a list of who plays.
 */
import { Counter, collectDefaultMetrics, Gauge, Histogram, Registry } from "prom-client";
import type { RelayEvent } from "./events.ts";
import type { Storage } from "./storage.ts";

export interface Metrics {
  /** Takes note of what is logged. */
  note(event: RelayEvent): void;
  opened(): void;
  closed(code: number): void;
  received(bytes: number): void;
  sent(bytes: number): void;
  /** The same store, with its calls timed. */
  timed(storage: Storage): Storage;
  /** Everything, as text, and its content type. */
  text(): Promise<{ readonly body: string; readonly type: string }>;
}

export interface Measured {
  readonly rooms: () => number;
  readonly connections: () => number;
}

export function createMetrics({ rooms, connections }: Measured): Metrics {
  const registry = new Registry();
  const registers = [registry];
  collectDefaultMetrics({ register: registry });
  const name = (what: string): string => `sward_relay_${what}`;
  const counter = <L extends string = never>(what: string, help: string, labelNames: readonly L[] = []): Counter<L> =>
    new Counter({ name: name(what), help, labelNames, registers });
  const gauge = (what: string, help: string, value: () => number): void => {
    new Gauge({
      name: name(what),
      help,
      registers,
      collect() {
        this.set(value());
      },
    });
  };
  gauge("rooms", "Rooms in memory", rooms);
  gauge("connections", "Open connections", connections);
  const opened = counter("connections_opened_total", "Connections that were let in");
  const closed = counter("connections_closed_total", "Connections that ended, by close code", ["code"]);
  const turned = counter("turned_away_total", "Callers turned away, by reason", ["reason"]);
  const refused = counter("refused_total", "Updates refused, by what was wrong", ["type"]);
  const limited = counter("limited_total", "Times a limit was met, by limit", ["limit"]);
  const faults = counter("faults_total", "What should not happen, by event", ["event"]);
  /** Counted by themselves until somebody asks: a counter of that library costs as much as sending the message. */
  const since = { in: 0, out: 0 };
  new Counter({
    name: name("bytes_total"),
    help: "Bytes of frames, by direction",
    labelNames: ["direction"] as const,
    registers,
    collect() {
      for (const direction of ["in", "out"] as const) {
        this.inc({ direction }, since[direction]);
        since[direction] = 0;
      }
    },
  });
  const stored = counter("stored_updates_total", "Updates that are on disk");
  const seconds = new Histogram({
    name: name("store_seconds"),
    help: "How long a call of the store took",
    labelNames: ["call"] as const,
    buckets: [0.001, 0.0025, 0.005, 0.01, 0.025, 0.05, 0.1, 0.25, 0.5, 1, 2.5, 5],
    registers,
  });

  const timing = async <T>(call: string, run: () => Promise<T>): Promise<T> => {
    const end = seconds.startTimer({ call });
    try {
      return await run();
    } finally {
      end();
    }
  };

  return {
    note: (event) => {
      if (event.type === "turned-away") turned.inc({ reason: event.reason });
      else if (event.type === "refused") refused.inc({ type: event.refusal.type });
      else if (event.type === "limited") limited.inc({ limit: event.limit });
      else if (faulty.has(event.type)) faults.inc({ event: event.type });
    },
    opened: () => opened.inc(),
    closed: (code) => closed.inc({ code: String(code) }),
    received: (many) => {
      since.in += many;
    },
    sent: (many) => {
      since.out += many;
    },
    timed: (storage) => ({
      ...storage,
      // A spread would keep the id of this moment.
      get id() {
        return storage.id;
      },
      append: async (key, updates) => {
        await timing("append", () => storage.append(key, updates));
        stored.inc(updates.length);
      },
      replace: (key, updates, over) => timing("replace", () => storage.replace(key, updates, over)),
      follow: (key, follower) => timing("follow", () => storage.follow(key, follower)),
    }),
    text: async () => ({ body: await registry.metrics(), type: registry.contentType }),
  };
}

const faulty: ReadonlySet<RelayEvent["type"]> = new Set<RelayEvent["type"]>([
  "not-stored",
  "room-unreadable",
  "not-tidied",
  "fault",
]);
