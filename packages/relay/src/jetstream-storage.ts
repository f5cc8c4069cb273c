/**
 * NATS JetStream as the store that several relays share: a replicated, append-only log. Any relay may serve any room, and keeps
 * nothing of its own: what it holds in memory is what the log told it, in the log's order.
 *
 *     <name>.store            in the ledgers' stream, the store's id (`jetstream-identity.ts`)
 *     <name>.ledger.<room>    what was appended (`log-record.ts`)
 *     <name>.roster.<room>    the present state; the one before is overwritten and removed with the write that follows it
 *     <name>.said.<kind>.<room>   what is said and not kept: no stream
 *
 * A message's id is the hash of room and record, so a write that is tried again because its receipt was lost is there once. That holds
 * while JetStream remembers ids (two minutes). Later a repetition would be kept a second time and does no harm: what a room has
 * already is screened out of what it hears, and of what it reads. The envelope's own hash would be wrong: one envelope handed over
 * again stands in another place of the document, and leaving it out would strand whatever leans on that place.
 */
import { createHash } from "node:crypto";
import { jetstream, jetstreamManager } from "@nats-io/jetstream";
import type { NatsConnection } from "@nats-io/transport-node";
import type { RoomKind, RoomName } from "@sward/core";
import type { Follower, History } from "./followers.ts";
import { createFollowers } from "./followers.ts";
import type { StoreIdentity } from "./jetstream-identity.ts";
import { openIdentity } from "./jetstream-identity.ts";
import type { Log, LogMessage } from "./jetstream-log.ts";
import { makeStream, openLog } from "./jetstream-log.ts";
import type { JoinedRecord, LogRecord } from "./log-record.ts";
import { createJoiner, encodeRecord } from "./log-record.ts";
import type { Standing } from "./standing.ts";
import { createStanding } from "./standing.ts";
import type { RoomKey, RoomListener, Storage } from "./storage.ts";

export interface JetStreamOptions {
  /** Open; closed by the store's `close`. It must not echo. */
  readonly connection: NatsConnection;
  /** Of the streams and subjects: letters, digits and `-`. Stores of different names at one server do not know each other. */
  readonly name: string;
  /** How many servers keep a copy: 1, 3 or 5. Only for streams that are made now. */
  readonly replicas: number;
  readonly random: (bytes: number) => Uint8Array;
  /** The store was taken away or exchanged for another: this process knows nothing that still holds, and must end. */
  readonly gone: (cause: string) => void;
}

/** What a message may have of the server's limit, beside its headers. */
const headRoom = 2048;

/** Opens or makes the store; rejects if there is no server, or the streams are set to forget. */
export async function openJetStreamStorage(options: JetStreamOptions): Promise<Storage> {
  const { connection, name, replicas, random, gone } = options;
  const manager = await jetstreamManager(connection, { checkAPI: false, timeout: 5000 });
  const streams = { ledger: `${name}-ledger`, roster: `${name}-roster` };
  const idSubject = `${name}.store`;
  const probeSubject = `${name}.probe`;
  const shared = { replicas };
  const ofLedger = [`${name}.ledger.*`, idSubject];
  const ofRoster = [`${name}.roster.*`, probeSubject];
  await makeStream(manager, { stream: streams.ledger, subjects: ofLedger, final: true, ...shared });
  await makeStream(manager, { stream: streams.roster, subjects: ofRoster, final: false, ...shared });

  const js = jetstream(connection);
  const followers = createFollowers<JoinedRecord>();
  const longest = (connection.info?.max_payload ?? 1024 * 1024) - headRoom;
  const subjectOf = ({ kind, room }: RoomKey): string => `${name}.${kind}.${room}`;

  let identity: StoreIdentity | null = null;
  const hearer = (kind: RoomKind): ((message: LogMessage) => void) => {
    const joiner = createJoiner();
    return ({ subject, seq, data }) => {
      const key = keyOf(subject, kind);
      if (subject === idSubject) void identity?.check();
      if (key === null) return;
      // Also of rooms that nobody follows: somebody may when the second half of a record comes.
      const record = attempted(() => joiner.take(data, seq));
      if (record && followers.has(key)) followers.tell(key, record, seq);
    };
  };
  const logs: { readonly [K in RoomKind]: Log } = {
    ledger: await openLog(js, manager, streams.ledger, hearer("ledger")),
    roster: await openLog(js, manager, streams.roster, hearer("roster")),
  };
  const known = await openIdentity(logs.ledger, idSubject, random, gone);
  identity = known;

  connection.subscribe(`${name}.said.*.*`, {
    callback: (failed, { subject, data }) => {
      const [, , kind, room] = subject.split(".");
      if (failed === null && (kind === "ledger" || kind === "roster"))
        followers.say({ kind, room: room as RoomName }, new Uint8Array(data));
    },
  });
  watch(connection, known.check);

  /** Every whole record of a room, whether it counts or not. */
  const read = async (key: RoomKey): Promise<History<JoinedRecord>> => {
    const joiner = createJoiner();
    const writes: JoinedRecord[] = [];
    let at = 0;
    for await (const { seq, data } of logs[key.kind].read(subjectOf(key))) {
      const record = joiner.take(data, seq);
      if (record !== null) writes.push(record);
      at = seq;
    }
    return { writes, at };
  };
  /** Erases what a relay that died in the middle of replacing left. */
  const readAndTidy = async (key: RoomKey) => {
    const room = await read(key);
    const { begins } = counting(room.writes, createStanding());
    const [earliest] = room.writes;
    if (begins > (earliest?.first ?? 0)) await logs[key.kind].erase(subjectOf(key), begins);
    return room;
  };

  const write = async (key: RoomKey, record: LogRecord): Promise<{ readonly first: number; readonly last: number }> => {
    const subject = subjectOf(key);
    const parts = encodeRecord(record, longest);
    const hash = createHash("sha256").update(`${subject} `);
    for (const part of parts) hash.update(part);
    const id = hash.digest("base64url");
    const seqs: number[] = [];
    for (const [index, part] of parts.entries()) {
      const seq = await logs[key.kind].publish(subject, part, `${id}/${index}`);
      if (seq === null) throw new Error("not stored");
      seqs.push(seq);
    }
    return { first: Math.min(...seqs), last: Math.max(...seqs) };
  };

  /** Writes, and listens for whether it came first. */
  const replace = async (key: RoomKey, updates: readonly Uint8Array[], over: number): Promise<boolean> => {
    const log = logs[key.kind];
    const standing = createStanding();
    const heard = new Map<number, boolean>();
    const stop = await followers.follow(
      key,
      {
        history: (writes) => counting(writes, standing),
        stored: (record, seq) => heard.set(seq, standing.take(record, seq)),
        said: () => undefined,
      },
      () => read(key),
    );
    try {
      if (standing.at() === over) {
        const written = await write(key, { form: "replaces", over, updates });
        await log.reached(written.last);
        // Not heard here: it was there before we began, from a try whose answer was lost.
        if (heard.get(written.last) === true) {
          await log.erase(subjectOf(key), written.first);
          return true;
        }
      }
      await log.reached(standing.at());
      return false;
    } finally {
      stop();
    }
  };

  const probe = async (): Promise<void> => {
    const written = Buffer.from(random(16));
    const seq = await logs.roster.publish(probeSubject, written, written.toString("hex"));
    const got = await manager.streams.getMessage(streams.roster, { last_by_subj: probeSubject });
    // Another relay may have asked at the same time.
    if (seq === null || got === null || (got.seq === seq && !written.equals(got.data)) || got.seq < seq)
      throw new Error("the store does not give back what it was given");
    await logs.roster.erase(probeSubject, seq);
  };

  return {
    get id() {
      return known.id();
    },
    renew: known.renew,
    tidies: false,
    load: async (key) => counting((await read(key)).writes, createStanding()).updates,
    follow: (key, listener) => followers.follow(key, whatCounts(listener), () => readAndTidy(key)),
    append: async (key, updates) => {
      const written = await write(key, { form: "adds", over: 0, updates });
      await logs[key.kind].reached(written.last);
    },
    replace,
    say: (key, state) => {
      followers.say(key, state);
      attempted(() => connection.publish(`${name}.said.${key.kind}.${key.room}`, state));
    },
    rooms: async function* () {
      for (const kind of ["ledger", "roster"] as const) {
        const subjects_filter = `${name}.${kind}.*`;
        const { state } = await manager.streams.info(streams[kind], { subjects_filter });
        for (const subject of Object.keys(state.subjects ?? {}).sort()) {
          const key = keyOf(subject, kind);
          if (key === null) continue;
          const { updates } = counting((await read(key)).writes, createStanding());
          if (updates.length > 0) yield { key, updates };
        }
      }
    },
    probe,
    close: async () => {
      for (const log of Object.values(logs)) log.stop();
      await connection.close();
    },
  };
}

/** What counts of these, and the number of the first message of it. */
function counting(writes: readonly JoinedRecord[], standing: Standing): { updates: Uint8Array[]; begins: number } {
  let updates: Uint8Array[] = [];
  let begins = 0;
  for (const record of writes) {
    if (!standing.take(record, record.last)) continue;
    if (record.form === "replaces") [updates, begins] = [[], record.first];
    updates.push(...record.updates);
  }
  return { updates, begins };
}

/** Tells a room of what counts and of nothing else. */
function whatCounts(listener: RoomListener): Follower<JoinedRecord> {
  const standing = createStanding();
  return {
    history: (writes) => listener.history(counting(writes, standing).updates, standing.at()),
    stored: (record, seq) => {
      if (standing.take(record, seq)) listener.stored(record.updates, standing.at());
    },
    said: (state) => listener.said(state),
  };
}

function keyOf(subject: string, kind: RoomKind): RoomKey | null {
  const [, of, room] = subject.split(".");
  return of === kind && room !== undefined ? { kind, room: room as RoomName } : null;
}

function attempted<T>(what: () => T): T | undefined {
  try {
    return what();
  } catch {
    return undefined;
  }
}

/** Looks again whenever the connection was lost. */
function watch(connection: NatsConnection, look: () => Promise<void>): void {
  const run = async (): Promise<void> => {
    for await (const { type } of connection.status()) if (type === "reconnect") await look();
  };
  void run();
}
