/**
 * The roster of an open book: what its document (`roster-doc.ts`) says once opened and checked, and this device's own copy in the vault,
 * which is shown before the document is there (`later-roster-doc.ts`) and put back when a relay has lost it.
 *
 * A name that was erased (`roster.ts`) goes from the vault in one write with the erasure itself, then from the document, and then the
 * document's store is written anew, since Yjs and the store beneath it keep what was said before. A mark in the vault stands from the
 * first of these to the last, so that a device that dies between finishes when it next starts.
 */
import type { BookId, KeyId, Result } from "@sward/core";
import { fail, ok } from "@sward/core";
import type { EpochKeys } from "../keys/book-keys.ts";
import type { Verifier } from "../keys/verifier.ts";
import type { EraseFault } from "./faults.ts";
import type { FormerRosters } from "./former-rosters.ts";
import { laterRosterDoc } from "./later-roster-doc.ts";
import type { BookOptions } from "./options.ts";
import type { Erasure, ErasureReason, RosterRecord, RosterSubject } from "./roster.ts";
import { erasedSubject, erasureKey, signErasure, signRecord } from "./roster.ts";
import { createRosterReader, isSame } from "./roster-reader.ts";
import { seal } from "./seal.ts";
import type { RosterCopy } from "./vault.ts";

export interface Roster {
  readonly book: BookId;
  get(about: RosterSubject): RosterRecord | undefined;
  all(): ReadonlyMap<string, RosterRecord>;
  /** That somebody's name was erased from this book, for ever. */
  erased(about: RosterSubject): Erasure | undefined;
  erasures(): ReadonlyMap<string, Erasure>;
  /** All of it as it is kept, sealed and signed: for a device that is to have it without a relay. */
  envelopes(): RosterCopy;
  /** Writes names; durable on this device when it resolves. Rejects for a name that was erased. */
  write(records: ReadonlyMap<RosterSubject, RosterRecord>): Promise<void>;
  /** Erases names, all or none, for good; durable on this device when it resolves well. There is no way back. */
  erase(subjects: readonly RosterSubject[], reason: ErasureReason): Promise<Result<null, EraseFault>>;
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
  readonly mayErase: (author: KeyId) => boolean;
  readonly changed: () => void;
  /** The vault would not take what arrived. */
  readonly failed: (cause: string) => void;
}

/** In the vault's copy and nowhere else: the document's store may still have bytes of a name that was erased. */
const UNSWEPT = "here/unswept";
const yes = Uint8Array.of(1);
const no = Uint8Array.of(0);

/** @param copy of the vault; not among what is kept, for it has what will be erased */
export async function openRoster(deps: RosterDeps, copy: Promise<RosterCopy>): Promise<Roster> {
  const { options, epoch } = deps;
  const { book, vault, device } = options;
  const reader = createRosterReader({ ...deps, ...options });
  const records = new Map<string, RosterRecord>();
  const erasures = new Map<string, Erasure>();
  const kept = new Map(await copy);
  let unswept = kept.get(UNSWEPT)?.[0] === 1;
  kept.delete(UNSWEPT);
  /** Keys whose value was not taken, and may be later. */
  const doubtful = new Set<string>();
  /** The document's store was given what had been erased before, and may have written it down. */
  let stained = false;
  let wasSynced = false;
  let former: FormerRosters | null = null;
  let queue: Promise<unknown> = Promise.resolve();

  const inTurn = <T>(run: () => Promise<T>): Promise<T> => {
    const turn = queue.then(run);
    queue = turn.catch((cause) => deps.failed(String(cause)));
    return turn;
  };

  const later = laterRosterDoc({
    options,
    epoch,
    inTurn,
    changed(keys) {
      void inTurn(() => {
        // Somebody else may have deleted it again by now; the store has both.
        stained ||= keys.some(({ key, isGone }) => !isGone && erasures.has(key));
        return take(keys.map(({ key }) => key));
      }).catch(() => undefined);
    },
    met(synced) {
      if (synced && !wasSynced) void inTurn(putBack).catch(() => undefined);
      wasSynced = synced;
    },
    attached(doc, { sound, rows }) {
      // The device may have died before it swept what had arrived.
      stained = erasures.size > 0 && (rows > 1 || !sound);
      return take(sound ? doc.keys() : []);
    },
  });

  async function takeErasure(key: string, about: string, fresh: Map<string, Uint8Array>): Promise<void> {
    for (const envelope of [later.doc()?.get(key), kept.get(key)]) {
      const erasure = envelope === undefined ? null : await reader.erasure(about, envelope);
      if (envelope === undefined || erasure === null) continue;
      doubtful.delete(key);
      erasures.set(about, erasure);
      if (!isSame(kept.get(key), envelope)) fresh.set(key, envelope);
      return;
    }
    doubtful.add(key);
  }

  async function takeName(about: string, fresh: Map<string, Uint8Array>): Promise<boolean> {
    const envelope = later.doc()?.get(about) ?? kept.get(about);
    if (erasures.has(about)) doubtful.delete(about);
    if (envelope === undefined || erasures.has(about)) return false;
    const record = await reader.record(about, envelope);
    if (record === null) {
      doubtful.add(about);
      return false;
    }
    doubtful.delete(about);
    records.set(about, record);
    if (!isSame(kept.get(about), envelope)) fresh.set(about, envelope);
    return true;
  }

  function forget(about: string): void {
    records.delete(about);
    reader.forget(about);
  }

  async function take(keys: Iterable<string>): Promise<void> {
    const fresh = new Map<string, Uint8Array>();
    const names: string[] = [];
    const before = erasures.size;
    for (const key of keys) {
      const about = erasedSubject(key);
      if (about === null) names.push(key);
      else await takeErasure(key, about, fresh);
    }
    let changed = erasures.size > before;
    for (const about of names) if (await takeName(about, fresh)) changed = true;
    const gone = [...erasures.keys()].filter((about) => kept.has(about));
    for (const about of erasures.keys()) forget(about);
    if (changed) deps.changed();
    await keep(fresh, gone);
    await sweep();
  }

  /** On the disk before it counts as kept; with the first word of an erasure goes the mark that it is not done yet. */
  async function keep(fresh: ReadonlyMap<string, Uint8Array>, gone: readonly string[]): Promise<void> {
    if (fresh.size + gone.length === 0) return;
    const erases = [...fresh.keys()].some((key) => erasedSubject(key) !== null) || gone.length > 0;
    await vault.saveRoster(erases ? new Map([...fresh, [UNSWEPT, yes]]) : fresh, gone);
    unswept ||= erases;
    for (const about of gone) kept.delete(about);
    for (const [key, envelope] of fresh) kept.set(key, envelope);
  }

  /** Whatever the document still has of erased names goes, out of its store's files too. */
  async function sweep(): Promise<void> {
    const there = later.doc();
    if (there === null) return;
    const named = [...erasures.keys()].filter((about) => there.get(about) !== undefined);
    if (named.length === 0 && !unswept && !stained) return;
    if (!unswept) await vault.saveRoster(new Map([[UNSWEPT, yes]]));
    unswept = true;
    stained = false;
    there.remove(named);
    await there.rewrite();
    await vault.saveRoster(new Map([[UNSWEPT, no]]));
    unswept = false;
    if (wasSynced) await clearFormer();
  }

  /** Seldom needed, so not among what a start has to fetch. */
  async function clearFormer(): Promise<void> {
    if (erasures.size === 0 || options.epochs.length < 2) return;
    former ??= (await import("./former-rosters.ts")).createFormerRosters(options, epoch);
    former.clear([...erasures.keys()]);
  }

  const sealed = (jws: string): Promise<Uint8Array> => seal(book, epoch, [jws], options.randomBytes);

  await inTurn(() => take(kept.keys()));

  /**
   * A relay that was wiped, or a document that was, gets the values again that only this device still has; and an erasure over which
   * somebody has written what nobody can read.
   */
  async function putBack(): Promise<void> {
    const missing: [string, Uint8Array][] = [];
    for (const [key, envelope] of kept) {
      const there = later.doc()?.get(key);
      const about = erasedSubject(key);
      if (there === undefined || (about !== null && (await reader.erasure(about, there)) === null)) {
        missing.push([key, envelope]);
      }
    }
    if (missing.length > 0) later.put(missing);
    await clearFormer();
  }

  later.attach();

  async function write(changes: ReadonlyMap<RosterSubject, RosterRecord>): Promise<void> {
    const envelopes = new Map<string, Uint8Array>();
    for (const [about, value] of changes) {
      const jws = await signRecord(device, book, about, value, options.clock.timestamp());
      envelopes.set(about, await sealed(jws));
    }
    await vault.saveRoster(envelopes);
    for (const [about, value] of changes) records.set(about, value);
    for (const [about, envelope] of envelopes) kept.set(about, envelope);
    later.put(envelopes);
    deps.changed();
  }

  async function erase(subjects: readonly RosterSubject[], reason: ErasureReason): Promise<Result<null, EraseFault>> {
    if (!deps.mayErase(device.id)) return fail({ type: "may-not-erase" });
    const envelopes = new Map<string, Uint8Array>();
    const at = options.clock.timestamp();
    for (const about of subjects) {
      envelopes.set(erasureKey(about), await sealed(await signErasure(device, book, about, reason, at)));
    }
    try {
      await keep(envelopes, subjects);
    } catch (cause) {
      return fail({ type: "not-erased", cause: String(cause) });
    }
    for (const about of subjects) {
      erasures.set(about, { by: device.id, at, reason });
      forget(about);
    }
    later.put(envelopes);
    deps.changed();
    // It is done, and a store that fails now is swept at the next start.
    await sweep().catch((cause: unknown) => deps.failed(String(cause)));
    return ok(null);
  }

  const isErased = (about: RosterSubject): boolean => erasures.has(about);

  return {
    book,
    get: (about) => records.get(about),
    all: () => records,
    erased: (about) => erasures.get(about),
    erasures: () => erasures,
    envelopes: () => new Map(kept),
    async write(changes) {
      if ([...changes.keys()].some(isErased)) throw new Error("a name that was erased is not taken again");
      await later.read();
      await inTurn(() => write(new Map([...changes].filter(([about]) => !isErased(about)))));
    },
    async erase(subjects, reason) {
      await later.read();
      return inTurn(() => erase(subjects, reason));
    },
    recheck() {
      if (doubtful.size > 0) void inTurn(() => take([...doubtful])).catch(() => undefined);
    },
    pause: later.pause,
    resume: later.resume,
    async close() {
      await later.hangUp();
      await queue;
      await former?.close();
      // One that was never opened too: when the room is left, a store that is closed is wiped.
      await options.rosterStore.close();
      later.destroy();
    },
  };
}
