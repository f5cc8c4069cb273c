/**
 * One room: its document, who is in it, and the one order in which everything happens there. An update is screened, written
 * durably, applied, passed on and receipted, in this order, so nobody is ever told "stored" of something a crash can take, and
 * the document in memory never holds more than the disk. What waits while a write is under way is written together.
 *
 * Rejected: applying first and storing after a while (what most relays do: a crash takes what everybody thought was kept).
 */
import type { RoomKind, ScreenLimits, ScreenPolicy, StateVector, UpdateRefusal, Verdict } from "@sward/core";
import {
  askFrame,
  awarenessFrame,
  historyFrame,
  knownInStore,
  pagesOf,
  receiptFrame,
  refusalFrame,
  screenUpdate,
  updateFrame,
} from "@sward/core";
import * as Y from "yjs";
import type { RelayEvent } from "./events.ts";
import type { RoomKey, Storage } from "./storage.ts";
import { roomKeyText } from "./storage.ts";

/** Somebody in a room. Neither call may throw. */
export interface Caller {
  send(frame: Uint8Array): void;
  close(code: number, reason: string): void;
}

export interface RoomLimits {
  readonly screen: ScreenLimits;
  /** Bytes of all updates of one room of each kind. */
  readonly roomBytes: { readonly [K in RoomKind]: number };
  /** Bytes of one page of history. */
  readonly pageBytes: number;
}

export interface Room {
  /** Greets with a question for what we lack and a receipt for all we have. */
  join(caller: Caller): void;
  leave(caller: Caller): void;
  /** Answers with what the caller lacks, in pages; the last one is the one that y-websocket takes for the end. */
  ask(caller: Caller, vector: Uint8Array): void;
  /** Resolves when the update is dealt with; never rejects. */
  write(caller: Caller, update: Uint8Array, policy: ScreenPolicy): Promise<void>;
  awareness(state: Uint8Array): void;
  readonly callers: number;
  /** Resolves when nothing is being written and nothing waits. */
  settled(): Promise<void>;
}

interface Job {
  readonly caller: Caller;
  readonly update: Uint8Array;
  readonly policy: ScreenPolicy;
  readonly done: () => void;
}

/** How much is written together at most: the screening of one batch must not hold up other rooms. */
const batchUpdates = 64;
const batchBytes = 2 * 1024 * 1024;

/** Reads the room from storage. Rejects if it cannot be read, or holds what the screen would not let in. */
export async function openRoom(
  key: RoomKey,
  storage: Storage,
  limits: RoomLimits,
  log: (event: RelayEvent) => void,
): Promise<Room> {
  const doc = new Y.Doc();
  const known = knownInStore(doc.store);
  const callers = new Set<Caller>();
  const waiting: Job[] = [];
  let running: Promise<void> | null = null;
  let bytes = fill(doc, key, await storage.load(key));

  const stored = (): StateVector => Y.decodeStateVector(Y.encodeStateVector(doc));

  /** Screens the jobs as if those before them were applied already. */
  const screenBatch = (jobs: readonly Job[]): { job: Job; accepted: Uint8Array; verdict: Verdict }[] => {
    const ahead = new Map<number, number>();
    const view = {
      next: (client: number) => ahead.get(client) ?? known.next(client),
      get clients() {
        return known.clients + [...ahead.keys()].filter((client) => known.next(client) === 0).length;
      },
    };
    const taken = [];
    let size = bytes;
    for (const job of jobs) {
      const verdict = screenUpdate(job.update, view, { kind: key.kind, policy: job.policy, limits: limits.screen });
      answer(job, verdict);
      const { accepted } = verdict;
      if (accepted === null) continue;
      const limit = limits.roomBytes[key.kind];
      if (size + accepted.length > limit) {
        refuse(job.caller, { type: "room-full", bytes: size, limit });
        continue;
      }
      size += accepted.length;
      for (const [client, clock] of verdict.next) ahead.set(client, clock);
      taken.push({ job, accepted, verdict });
    }
    return taken;
  };

  const refuse = (caller: Caller, refusal: UpdateRefusal): void => {
    log({ type: "refused", room: roomKeyText(key), refusal });
    caller.send(refusalFrame(refusal));
  };

  const answer = ({ caller, policy }: Job, { refusals, gap }: Verdict): void => {
    for (const refusal of refusals) refuse(caller, refusal);
    if (gap === null || refusals.length > 0) return;
    // A page was made for what we have, so what it leans on will not come by asking again.
    if (policy === "salvage") refuse(caller, { type: "unconnected", ...gap });
    else caller.send(askFrame(Y.encodeStateVector(doc)));
  };

  /** Durable when it resolves. A roster is written anew, so that what was erased is gone; false: nothing changed. */
  const keep = async (updates: readonly Uint8Array[]): Promise<boolean> => {
    if (key.kind === "ledger") {
      await storage.append(key, updates);
      bytes += updates.reduce((sum, update) => sum + update.length, 0);
      return true;
    }
    const before = Y.encodeStateAsUpdate(doc);
    const copy = new Y.Doc();
    for (const update of [before, ...updates]) Y.applyUpdate(copy, update);
    const after = Y.encodeStateAsUpdate(copy);
    copy.destroy();
    if (Buffer.from(before).equals(after)) return false;
    await storage.replace(key, after);
    bytes = after.length;
    return true;
  };

  const runBatch = async (jobs: readonly Job[]): Promise<void> => {
    const taken = screenBatch(jobs);
    if (taken.length === 0 || !(await keep(taken.map(({ accepted }) => accepted)))) return;
    doc.transact(() => {
      for (const { accepted } of taken) Y.applyUpdate(doc, accepted);
    });
    const moved = new Map(taken.flatMap(({ verdict }) => [...verdict.next]));
    for (const { job, accepted } of taken) {
      const frame = updateFrame(accepted);
      for (const caller of callers) if (caller !== job.caller) caller.send(frame);
    }
    const receipt = receiptFrame(moved);
    for (const caller of callers) caller.send(receipt);
  };

  const run = async (): Promise<void> => {
    while (waiting.length > 0) {
      const jobs = waiting.splice(0, batchLength(waiting));
      try {
        await runBatch(jobs);
      } catch (cause) {
        log({ type: "not-stored", room: roomKeyText(key), cause: String(cause) });
        for (const { caller } of jobs) caller.close(1011, "not-stored");
      }
      for (const { done } of jobs) done();
    }
    running = null;
  };

  return {
    join: (caller) => {
      callers.add(caller);
      caller.send(askFrame(Y.encodeStateVector(doc)));
      caller.send(receiptFrame(stored()));
    },
    leave: (caller) => {
      callers.delete(caller);
    },
    ask: (caller, vector) => {
      const pages = pagesOf(Y.encodeStateAsUpdate(doc, vector), limits.pageBytes);
      for (const [index, page] of pages.entries()) {
        caller.send(index < pages.length - 1 ? updateFrame(page) : historyFrame(page));
      }
    },
    write: (caller, update, policy) =>
      new Promise((done) => {
        waiting.push({ caller, update, policy, done });
        running ??= run();
      }),
    awareness: (state) => {
      const frame = awarenessFrame(state);
      for (const caller of callers) caller.send(frame);
    },
    get callers() {
      return callers.size;
    },
    settled: async () => {
      while (running !== null) await running;
    },
  };
}

function batchLength(waiting: readonly Job[]): number {
  let bytes = 0;
  const end = waiting.findIndex(({ update }, index) => {
    bytes += update.length;
    return index >= batchUpdates || bytes > batchBytes;
  });
  return end === -1 ? waiting.length : Math.max(end, 1);
}

/** Applies what was stored, after screening it again: a damaged disk is no better than a stranger. Returns its bytes. */
function fill(doc: Y.Doc, { kind }: RoomKey, updates: readonly Uint8Array[]): number {
  const known = knownInStore(doc.store);
  const limits = { updateBytes: Number.MAX_SAFE_INTEGER, envelopeBytes: Number.MAX_SAFE_INTEGER, clients: 2 ** 32 };
  let bytes = 0;
  doc.transact(() => {
    for (const update of updates) {
      const { accepted, refusals, gap } = screenUpdate(update, known, { kind, policy: "whole", limits });
      if (refusals.length > 0 || gap !== null)
        throw new Error(`stored update refused: ${JSON.stringify(refusals[0] ?? gap)}`);
      if (accepted !== null) Y.applyUpdate(doc, accepted);
      bytes += update.length;
    }
  });
  return bytes;
}
