/**
 * One room: its document, who is in it, and the one order in which everything happens there. An update is screened, written
 * durably, applied, passed on and receipted, in this order, so nobody is ever told "stored" of something a crash can take, and
 * the document in memory never holds more than the disk. What waits while a write is under way is written together. What is
 * applied is what the store says was stored, in the store's order: by us, or by another relay that shares it.
 *
 * Rejected: applying first and storing after a while (what most relays do: a crash takes what everybody thought was kept).
 */
import type { RoomKind, ScreenLimits, ScreenPolicy, StateVector, UpdateRefusal, Verdict } from "@sward/core";
import { askFrame, awarenessFrame, receiptFrame, refusalFrame, screenUpdate } from "@sward/core";
import * as Y from "yjs";
import type { Contents } from "./contents.ts";
import { fillContents } from "./contents.ts";
import type { RoomDigest } from "./digest.ts";
import type { RelayEvent } from "./events.ts";
import { fillDocument, mergedState, noLimits } from "./fill.ts";
import type { Caller, Job } from "./jobs.ts";
import { batchLength } from "./jobs.ts";
import { createLedgerContents } from "./ledger-contents.ts";
import { tellNews } from "./news.ts";
import { createRosterContents } from "./roster-contents.ts";
import type { RoomKey, Storage } from "./storage.ts";
import { roomKeyText } from "./storage.ts";
import { isUntidy, tidyLedger } from "./tidy.ts";

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
  /** What a caller with this state lacks, in one page or more. */
  since(vector: Uint8Array): readonly Uint8Array[];
  /** The state here now; equal states, equal bytes. */
  vector(): Uint8Array;
  /** Of all that is here now; equal contents, equal digests. */
  digest(): Promise<RoomDigest>;
  /** Bytes of all updates. */
  readonly bytes: number;
  /** Resolves when the update is dealt with; never rejects. */
  write(caller: Caller, update: Uint8Array, policy: ScreenPolicy): Promise<void>;
  awareness(state: Uint8Array): void;
  readonly callers: number;
  /** Resolves when nothing is being written and nothing waits. */
  settled(): Promise<void>;
  /** Stops following the store; nobody may be in it any more. */
  close(): void;
}

/** An update on its way into the store, and what the screen said of it. */
interface Taken {
  readonly job: Job;
  readonly accepted: Uint8Array;
  readonly next: StateVector;
}

/** What the store was asked to keep and has not told us of yet. */
interface Underway {
  readonly taken: readonly Taken[];
  readonly written: readonly Uint8Array[];
  /** Another relay's write came first, so the verdicts may no longer hold. */
  overtaken: boolean;
}

/** Reads the room from storage. Rejects if it cannot be read, or holds what the screen would not let in. */
export async function openRoom(
  key: RoomKey,
  storage: Storage,
  limits: RoomLimits,
  log: (event: RelayEvent) => void,
): Promise<Room> {
  const roster = key.kind === "roster" ? createRosterContents(limits.pageBytes) : null;
  const contents: Contents = roster ?? createLedgerContents(limits.pageBytes);
  const { known } = contents;
  const callers = new Set<Caller>();
  const waiting: Job[] = [];
  let running: Promise<void> | null = null;
  let underway: Underway | null = null;
  let bytes = 0;
  /** Where the store's room stands, as far as we heard. */
  let at = 0;

  /** Screens the jobs as if those before them were applied already. */
  const screenBatch = (jobs: readonly Job[]): Taken[] => {
    const ahead = new Map<number, number>();
    const view = {
      next: (client: number) => ahead.get(client) ?? known.next(client),
      get clients() {
        return known.clients + [...ahead.keys()].filter((client) => known.next(client) === 0).length;
      },
    };
    const taken: Taken[] = [];
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
      taken.push({ job, accepted, next: verdict.next });
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
    else caller.send(askFrame(contents.vector()));
  };

  /** Durable and applied when it resolves. A roster is written anew, so that what was erased is gone. */
  const keep = async (taken: readonly Taken[]): Promise<void> => {
    const accepted = taken.map((one) => one.accepted);
    if (roster === null) {
      underway = { taken, written: accepted, overtaken: false };
      return storage.append(key, accepted);
    }
    for (;;) {
      const before = roster.state();
      const after = mergedState([before, ...accepted]);
      if (Buffer.from(before).equals(after)) return;
      underway = { taken, written: [after], overtaken: false };
      if (await storage.replace(key, [after], at)) return;
      // Another relay was first; its state is in the document by now.
    }
  };

  const runBatch = async (jobs: readonly Job[]): Promise<void> => {
    const taken = screenBatch(jobs);
    try {
      if (taken.length > 0) await keep(taken);
    } finally {
      underway = null;
    }
  };

  /** Screens what another relay stored: the first to claim a place has it, at every relay alike. */
  const foreign = (update: Uint8Array): Taken[] => {
    const { accepted, next, refusals } = screenUpdate(update, known, {
      kind: key.kind,
      policy: "salvage",
      limits: noLimits,
    });
    for (const refusal of refusals) log({ type: "refused", room: roomKeyText(key), refusal });
    return accepted === null ? [] : [{ job: nobody, accepted, next }];
  };

  const stored = (updates: readonly Uint8Array[], now: number): void => {
    at = now;
    const ours = underway !== null && sameBytes(underway.written, updates) ? underway : null;
    if (ours === null && underway !== null) underway.overtaken = true;
    const taken: Taken[] = [];
    const take = (one: Taken): void => {
      contents.apply(one.accepted, one.next);
      taken.push(one);
    };
    if (ours !== null) underway = null;
    const length = updates.reduce((sum, update) => sum + update.length, 0);
    bytes = key.kind === "ledger" ? bytes + length : length;
    // Each is screened against what those before it left.
    if (ours !== null && !ours.overtaken) ours.taken.forEach(take);
    else for (const update of updates) foreign(update).forEach(take);
    if (taken.length === 0) return;
    const passed = taken.map(({ job, accepted }) => ({ caller: job.caller, update: accepted }));
    tellNews(callers, passed, new Map(taken.flatMap(({ next }) => [...next])));
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

  let untidy: readonly Uint8Array[] = [];
  const stop = await storage.follow(key, {
    history: (updates, now) => {
      bytes = fillContents(contents, key.kind, updates);
      at = now;
      const tidies = key.kind === "ledger" && storage.tidies;
      if (tidies && isUntidy(updates.length, bytes, limits.pageBytes)) untidy = updates;
    },
    stored,
    said: (state) => {
      const frame = awarenessFrame(state);
      for (const caller of callers) caller.send(frame);
    },
  });
  if (untidy.length > 0) {
    const doc = new Y.Doc();
    try {
      fillDocument(doc, key.kind, untidy);
      const done = await tidyLedger(key, doc, at, storage, limits.pageBytes);
      if (done) log({ type: "tidied", room: roomKeyText(key), writes: untidy.length });
    } catch (cause) {
      log({ type: "not-tidied", room: roomKeyText(key), cause: String(cause) });
    }
    doc.destroy();
    untidy = [];
  }

  return {
    join: (caller) => {
      callers.add(caller);
      const vector = contents.vector();
      caller.send(askFrame(vector));
      caller.send(receiptFrame(Y.decodeStateVector(vector)));
    },
    leave: (caller) => {
      callers.delete(caller);
    },
    since: contents.since,
    vector: contents.vector,
    digest: contents.digest,
    get bytes() {
      return bytes;
    },
    write: (caller, update, policy) =>
      new Promise((done) => {
        waiting.push({ caller, update, policy, done });
        running ??= run();
      }),
    awareness: (state) => storage.say(key, state),
    get callers() {
      return callers.size;
    },
    settled: async () => {
      while (running !== null) await running;
    },
    close: () => {
      stop();
      contents.close();
    },
  };
}

/** Whose writes come from another relay. */
const nobody: Job = {
  caller: { send: () => undefined, close: () => undefined },
  update: new Uint8Array(),
  policy: "salvage",
  done: () => undefined,
};

const sameBytes = (one: readonly Uint8Array[], other: readonly Uint8Array[]): boolean =>
  one.length === other.length &&
  one.every((bytes, index) => Buffer.from(bytes).equals(other[index] ?? new Uint8Array()));
