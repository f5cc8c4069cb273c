/**
 * The roster of an open book: the document, what it says once opened and checked, and this device's own copy in the vault, which
 * is shown before the document is there and put back when a relay has lost it.
 */
import type { BookId, KeyId } from "@sward/core";
import * as Y from "yjs";
import type { EpochKeys } from "../keys/book-keys.ts";
import type { Verifier } from "../keys/verifier.ts";
import type { BookOptions } from "./options.ts";
import { openRoomWire } from "./room-wire.ts";
import type { RosterRecord, RosterSubject } from "./roster.ts";
import { readRecord, rosterMap, signRecord } from "./roster.ts";
import { openEnvelope, seal } from "./seal.ts";
import type { RosterCopy } from "./vault.ts";

export interface Roster {
  readonly book: BookId;
  get(about: RosterSubject): RosterRecord | undefined;
  all(): ReadonlyMap<string, RosterRecord>;
  /** The same as they are kept, sealed and signed: for a device that is to have them without a relay. */
  envelopes(): RosterCopy;
  /** Writes names; durable on this device when it resolves. */
  write(records: ReadonlyMap<RosterSubject, RosterRecord>): Promise<void>;
  /** Tries values again that could not be checked before: a key or an admission may have come. */
  recheck(): void;
  pause(): void;
  resume(): void;
  close(): Promise<void>;
}

export interface RosterDeps {
  readonly options: BookOptions;
  readonly epoch: EpochKeys;
  readonly keysOf: (epoch: number) => EpochKeys | undefined;
  readonly verifier: Verifier;
  readonly mayWrite: (author: KeyId) => boolean;
  readonly changed: () => void;
  /** The vault would not take what arrived. */
  readonly failed: (cause: string) => void;
}

export async function openRoster(deps: RosterDeps): Promise<Roster> {
  const { options, epoch, verifier } = deps;
  const { book, vault, device } = options;
  const doc = new Y.Doc();
  const map = rosterMap(doc);
  const records = new Map<string, RosterRecord>();
  const kept = new Map(await vault.loadRoster());
  /** Subjects whose value was not taken, and may be later. */
  const doubtful = new Set<string>();
  let queue: Promise<unknown> = Promise.resolve();

  const inTurn = (run: () => Promise<void>): Promise<void> => {
    const turn = queue.then(run);
    queue = turn.catch((cause) => deps.failed(String(cause)));
    return turn;
  };

  async function read(about: string, envelope: Uint8Array): Promise<RosterRecord | null> {
    const texts = await openEnvelope(book, deps.keysOf, envelope);
    const jws = Array.isArray(texts) ? (texts as readonly string[])[0] : undefined;
    if (jws === undefined) return null;
    const record = readRecord(jws, book, about);
    if (!record.ok || !deps.mayWrite(record.value.author)) return null;
    return (await verifier.verify(jws, record.value.author)) ? record.value.value : null;
  }

  async function take(subjects: Iterable<string>): Promise<void> {
    const fresh = new Map<string, Uint8Array>();
    let changed = false;
    for (const about of subjects) {
      const envelope = map.get(about) ?? kept.get(about);
      if (envelope === undefined) continue;
      const record = await read(about, envelope);
      if (record === null) {
        doubtful.add(about);
        continue;
      }
      doubtful.delete(about);
      records.set(about, record);
      changed = true;
      if (kept.get(about) !== envelope) fresh.set(about, envelope);
    }
    if (changed) deps.changed();
    if (fresh.size === 0) return;
    await vault.saveRoster(fresh);
    for (const [about, envelope] of fresh) kept.set(about, envelope);
  }

  const put = (envelopes: Iterable<readonly [string, Uint8Array]>): void =>
    doc.transact(() => {
      for (const [about, envelope] of envelopes) map.set(about, Uint8Array.from(envelope));
    });

  await inTurn(() => take(kept.keys()));
  map.observe((event) => {
    const keys = [...event.keysChanged] as string[];
    if (!event.transaction.local) void inTurn(() => take(keys)).catch(() => undefined);
  });
  const wire = openRoomWire(options, { kind: "roster", signer: epoch.rosterRoom, doc, dial: false });
  let wasSynced = false;
  wire?.subscribe(() => {
    const state = wire.state();
    const synced = state.type === "live" && state.synced;
    if (synced && !wasSynced) void inTurn(putBack).catch(() => undefined);
    wasSynced = synced;
  });

  /** A relay that was wiped, or a document that was, gets the values again that only this device still has. */
  async function putBack(): Promise<void> {
    const missing = [...kept].filter(([about]) => !map.has(about));
    if (missing.length > 0) put(missing);
  }

  let paused = false;
  void inTurn(async () => {
    const { sound } = await options.rosterStore.attach(doc);
    await take(sound ? map.keys() : []);
    if (!paused) wire?.resume();
  }).catch(() => undefined);

  return {
    book,
    get: (about) => records.get(about),
    all: () => records,
    envelopes: () => new Map(kept),
    write: (changes) =>
      inTurn(async () => {
        const envelopes = new Map<string, Uint8Array>();
        for (const [about, value] of changes) {
          const jws = await signRecord(device, book, about, value, options.clock.timestamp());
          envelopes.set(about, await seal(book, epoch, [jws], options.randomBytes));
        }
        await vault.saveRoster(envelopes);
        for (const [about, value] of changes) records.set(about, value);
        for (const [about, envelope] of envelopes) kept.set(about, envelope);
        put(envelopes);
        deps.changed();
      }),
    recheck() {
      if (doubtful.size > 0) void inTurn(() => take([...doubtful])).catch(() => undefined);
    },
    pause() {
      paused = true;
      wire?.pause();
    },
    resume() {
      paused = false;
      wire?.resume();
    },
    async close() {
      await wire?.close();
      await queue;
      await options.rosterStore.close();
      doc.destroy();
    },
  };
}
