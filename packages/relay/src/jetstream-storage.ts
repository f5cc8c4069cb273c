/**
 * NATS JetStream as the store that several relays share: a replicated, append-only log. Any relay may serve any room, and keeps
 * nothing of its own: what it holds in memory is what the log told it, in the log's order.
 *
 *     <name>.store            in the ledgers' stream, the store's id, the last one counts: the first to say one has made the store
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
import { createFollowers } from "./followers.ts";
import type { Log, LogMessage } from "./jetstream-log.ts";
import { makeStream, openLog } from "./jetstream-log.ts";
import { createJoiner, encodeRecord } from "./log-record.ts";
import type { RoomKey, Storage } from "./storage.ts";

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
  const followers = createFollowers();
  const longest = (connection.info?.max_payload ?? 1024 * 1024) - headRoom;
  const subjectOf = ({ kind, room }: RoomKey): string => `${name}.${kind}.${room}`;

  /** Empty until it is known. `former`: the one that we replaced ourselves. */
  let id = "";
  let former = "";
  const isOurId = (data: Uint8Array): boolean => [id, former].includes(Buffer.from(data).toString("utf8"));

  const hearer = (kind: RoomKind): ((message: LogMessage) => void) => {
    const joiner = createJoiner();
    return ({ subject, seq, data }) => {
      const key = keyOf(subject, kind);
      if (subject === idSubject && id !== "" && !isOurId(data)) gone("the store was given another id");
      if (key === null) return;
      // Also of rooms that nobody follows: somebody may when the second half of a record comes.
      const updates = attempted(() => joiner.take(data)?.updates) ?? [];
      if (followers.has(key)) followers.tell(key, updates, seq);
    };
  };
  const logs: { readonly [K in RoomKind]: Log } = {
    ledger: await openLog(js, manager, streams.ledger, hearer("ledger")),
    roster: await openLog(js, manager, streams.roster, hearer("roster")),
  };
  id = await storeId(logs.ledger, idSubject, random);

  connection.subscribe(`${name}.said.*.*`, {
    callback: (failed, { subject, data }) => {
      const [, , kind, room] = subject.split(".");
      if (failed === null && (kind === "ledger" || kind === "roster"))
        followers.say({ kind, room: room as RoomName }, new Uint8Array(data));
    },
  });
  watch(connection, gone, async () => (await idIn(logs.ledger, idSubject)) === id);

  /** All that counts of a room, where it stands, and the message with which that begins (0: with the first). */
  const read = async (key: RoomKey) => {
    const joiner = createJoiner();
    const seqs = [0];
    let updates: Uint8Array[] = [];
    let begins = 0;
    for await (const { seq, data } of logs[key.kind].read(subjectOf(key))) {
      seqs.push(seq);
      const record = joiner.take(data);
      if (record?.form === "replaces") {
        updates = [];
        begins = seqs.length - 1 > record.parts ? (seqs.at(-record.parts) ?? 0) : 0;
      }
      updates.push(...(record?.updates ?? []));
    }
    return { updates, at: seqs.at(-1) ?? 0, begins };
  };
  /** What a relay that died in the middle of replacing left to be erased. */
  const readAndTidy = async (key: RoomKey) => {
    const room = await read(key);
    if (room.begins > 0) await logs[key.kind].erase(subjectOf(key), room.begins);
    return room;
  };

  const write = async (key: RoomKey, form: "adds" | "replaces", updates: readonly Uint8Array[], over?: number) => {
    const subject = subjectOf(key);
    const parts = encodeRecord({ form, updates }, longest);
    const hash = createHash("sha256").update(`${subject} ${over ?? "-"} `);
    for (const part of parts) hash.update(part);
    const record = hash.digest("base64url");
    let first = 0;
    let stands = over;
    for (const [index, part] of parts.entries()) {
      const seq = await logs[key.kind].publish(subject, part, `${record}/${index}`, stands);
      if (seq === null) return null;
      if (index === 0) first = seq;
      if (stands !== undefined) stands = seq;
      if (index === parts.length - 1) return { first, last: seq };
    }
    return null;
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
      return id;
    },
    renew: async () => {
      const made = madeId(random);
      former = made;
      await logs.ledger.publish(idSubject, Buffer.from(made, "utf8"), made);
      [id, former] = [made, id];
    },
    tidies: false,
    load: async (key) => (await read(key)).updates,
    follow: (key, listener) => followers.follow(key, listener, () => readAndTidy(key)),
    append: async (key, updates) => {
      const written = await write(key, "adds", updates);
      if (written === null) throw new Error("not stored");
      await logs[key.kind].reached(written.last);
    },
    replace: async (key, updates, over) => {
      const log = logs[key.kind];
      const written = await write(key, "replaces", updates, over);
      if (written === null) {
        await log.reached(await log.last(subjectOf(key)));
        return false;
      }
      await log.erase(subjectOf(key), written.first);
      await log.reached(written.last);
      return true;
    },
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
          const { updates } = await read(key);
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

/** The last that was given, null for none. */
async function idIn(log: Log, subject: string): Promise<string | null> {
  let id: string | null = null;
  for await (const { data } of log.read(subject)) id = Buffer.from(data).toString("utf8");
  return id;
}

const madeId = (random: (bytes: number) => Uint8Array): string => Buffer.from(random(16)).toString("base64url");

/** The first to say one has made the store. */
async function storeId(log: Log, subject: string, random: (bytes: number) => Uint8Array): Promise<string> {
  const made = madeId(random);
  await log.publish(subject, Buffer.from(made, "utf8"), made, 0);
  const id = await idIn(log, subject);
  if (id === null) throw new Error("the store has no id");
  return id;
}

/** Looks again whenever the connection was lost. A server that cannot say is not one that says no. */
function watch(connection: NatsConnection, gone: (cause: string) => void, same: () => Promise<boolean>): void {
  const run = async (): Promise<void> => {
    for await (const { type } of connection.status()) {
      if (type !== "reconnect") continue;
      const answer = await same().catch((cause: unknown) => !/stream not found/.test(String(cause)));
      if (!answer) gone("the store is another one than it was");
    }
  };
  void run();
}
