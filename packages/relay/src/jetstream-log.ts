/**
 * One NATS JetStream stream as a log of rooms: set up, written with receipts, read by room, and listened to. Two streams make a store.
 *
 * Layout: one stream for all ledgers and one for all rosters, a subject for each room, one listener for each stream and process. A
 * room that nobody is in is a few bytes in the server's index, ten thousand of them the same as ten; entering one costs a short-lived
 * consumer that reads its subject. Rejected: a stream for each room (each is a replicated group with files, timers and elections of
 * its own) and a consumer for each open room (thousands to make anew, one after the other, when a server is lost).
 *
 * The ledgers' stream denies removal of anything by anybody but who removes it whole; it forgets by neither age nor number, and when it
 * is full it takes no more instead of dropping the oldest.
 */
import { setTimeout as pause } from "node:timers/promises";
import type { ConsumerMessages, JetStreamClient, JetStreamManager, MsgRequest } from "@nats-io/jetstream";
import { DeliverPolicy, DiscardPolicy, JetStreamApiCodes, JetStreamApiError, StorageType } from "@nats-io/jetstream";

export interface LogMessage {
  readonly subject: string;
  readonly seq: number;
  readonly data: Uint8Array;
}

export interface StreamSettings {
  readonly stream: string;
  readonly subjects: readonly string[];
  readonly replicas: number;
  /** Nothing in it can be removed. */
  readonly final: boolean;
}

export interface Log {
  /** The number of the last message that was heard. */
  at(): number;
  /** Resolves when everything up to this number has been heard; rejects if that takes too long. */
  reached(seq: number): Promise<void>;
  /** Resolves with the message's number once a majority of the replicas has it; null if the subject's last number is not `over`. */
  publish(subject: string, data: Uint8Array, id: string, over?: number): Promise<number | null>;
  /** The number of the subject's last message, 0 for none; never an older one than was heard. */
  last(subject: string): Promise<number>;
  /** Every message of the subject up to its last one, in order. */
  read(subject: string): AsyncGenerator<LogMessage>;
  /** Overwrites and removes what the subject had before this number. */
  erase(subject: string, before: number): Promise<void>;
  stop(): void;
}

/** How long a leader may be missing before a write is given up: an election of JetStream takes four to nine seconds. */
const patience = 15_000;
const betweenTries = 200;
/** How often it is looked whether we hear what there is. */
const betweenLooks = 4000;
/** How far back listening begins, so that a record is whole of which another relay is just writing the second half. */
const lookBack = 256;
/** Messages and milliseconds of one request to the server; the second says how soon a lost server is noticed. */
const asking = { max_messages: 500, expires: 3000, idle_heartbeat: 1000 };

/** Makes the stream if there is none; rejects if there is another than we need. */
export async function makeStream(jsm: JetStreamManager, settings: StreamSettings): Promise<void> {
  const { stream, subjects, replicas, final } = settings;
  const found = await again(() => jsm.streams.info(stream).catch(orNull(JetStreamApiCodes.StreamNotFound)));
  if (found !== null) {
    const { retention, max_age, max_msgs, max_msgs_per_subject, discard, deny_delete, storage } = found.config;
    const keeps = retention === "limits" && max_age === 0 && max_msgs < 0 && max_msgs_per_subject < 0;
    if (!keeps || discard !== DiscardPolicy.New || storage !== StorageType.File || deny_delete !== final)
      throw new Error(`the stream ${stream} is there, but set to forget: see OPERATING.md`);
    return;
  }
  const rest = { storage: StorageType.File, discard: DiscardPolicy.New, deny_delete: final, deny_purge: final };
  await again(() => jsm.streams.add({ name: stream, subjects: [...subjects], num_replicas: replicas, ...rest }));
}

/** Begins to listen; `hear` gets every message from now on, in order and once, and must not throw. */
export async function openLog(
  js: JetStreamClient,
  jsm: JetStreamManager,
  stream: string,
  hear: (message: LogMessage) => void,
): Promise<Log> {
  let at = 0;
  let stopped = false;
  let messages: ConsumerMessages | null = null;
  const waiting = new Set<{ readonly seq: number; readonly done: () => void }>();

  const heard = (message: LogMessage): void => {
    if (message.seq <= at) return;
    hear(message);
    at = message.seq;
    for (const one of waiting) if (one.seq <= at) one.done();
  };
  const listen = async (): Promise<void> => {
    while (!stopped) {
      try {
        const from = { deliver_policy: DeliverPolicy.StartSequence, opt_start_seq: at + 1 };
        const consumer = await js.consumers.get(stream, from);
        messages = await consumer.consume(asking);
        for await (const message of messages) heard(message);
      } catch {
        // Whoever waits for a message gives up by himself; here we only come again.
      }
      if (!stopped) await pause(betweenTries);
    }
  };
  const lastOfAll = async (): Promise<number> => (await again(() => jsm.streams.info(stream))).state.last_seq;
  const last = async (subject: string): Promise<number> => {
    // A server that has just been elected may know less than we do.
    await again(async () => {
      if ((await lastOfAll()) < at) throw new Error("the leader of the stream is behind");
    });
    const found = await again(() => jsm.streams.getMessage(stream, { last_by_subj: subject }));
    return found?.seq ?? 0;
  };
  /** A listener that hears nothing although there is something to hear is let go, and another takes its place. */
  const watch = setInterval(async () => {
    const before = at;
    const info = await jsm.streams.info(stream).catch(() => null);
    if (info === null) return;
    await pause(betweenLooks / 4);
    if (info.state.last_seq > at && at === before) messages?.stop();
  }, betweenLooks);
  watch.unref();
  at = Math.max(0, (await lastOfAll()) - lookBack);
  void listen();

  return {
    at: () => at,
    last,
    reached: (seq) => {
      if (seq <= at) return Promise.resolve();
      return new Promise((done, failed) => {
        const late = setTimeout(() => {
          waiting.delete(one);
          failed(new Error("what was stored was not heard of in good time"));
        }, patience);
        const one = {
          seq,
          done: () => {
            clearTimeout(late);
            waiting.delete(one);
            done();
          },
        };
        waiting.add(one);
      });
    },
    publish: (subject, data, id, over) =>
      again(async () => {
        const expect = over === undefined ? { streamName: stream } : { streamName: stream, lastSubjectSequence: over };
        return (await js.publish(subject, data, { msgID: id, timeout: 3000, expect })).seq;
      }).catch(orNull(JetStreamApiCodes.StreamWrongLastSequence)),
    read: async function* (subject) {
      const end = await last(subject);
      if (end === 0) return;
      const consumer = await again(() =>
        js.consumers.get(stream, { filter_subjects: subject, deliver_policy: DeliverPolicy.All }),
      );
      const reading = await consumer.consume(asking);
      try {
        for await (const { seq, data } of reading) {
          yield { subject, seq, data };
          if (seq >= end) return;
        }
        throw new Error("the log ended before its last message");
      } finally {
        await reading.close();
        await consumer.delete().catch(() => undefined);
      }
    },
    erase: async (subject, before) => {
      let [failed, cause]: [number, unknown] = [0, null];
      for (;;) {
        const old = await again(() => jsm.streams.getMessage(stream, firstOf(subject)));
        if (old === null || old.seq >= before) return;
        if (old.seq === failed) throw cause;
        // A try whose answer was lost, or another relay, may have removed it already: whether it is there is what counts.
        await again(() => jsm.streams.deleteMessage(stream, old.seq, true)).catch((why: unknown) => {
          [failed, cause] = [old.seq, why];
        });
      }
    },
    stop: () => {
      stopped = true;
      clearInterval(watch);
      messages?.stop();
    },
  };
}

/** The library's type leaves this question to servers that answer for the leader; the leader answers it too. */
const firstOf = (subject: string): MsgRequest => ({ seq: 1, next_by_subj: subject }) as unknown as MsgRequest;

/** Tries until it works, as long as another try can help. */
async function again<T>(attempt: () => Promise<T>): Promise<T> {
  const until = performance.now() + patience;
  for (;;) {
    try {
      return await attempt();
    } catch (cause) {
      // The server understood, and will say the same again; 503 is what it says while there is no leader.
      const final = cause instanceof JetStreamApiError && (cause.status !== 503 || full.has(cause.code));
      if (final || performance.now() > until) throw cause;
    }
    await pause(betweenTries);
  }
}

/** Said with 503 too: a limit of the stream, of the account, or of the disk is reached. */
const full: ReadonlySet<number> = new Set([10_023, 10_047, 10_077]);

const orNull =
  (code: number) =>
  (cause: unknown): null => {
    if (cause instanceof JetStreamApiError && cause.code === code) return null;
    throw cause;
  };
