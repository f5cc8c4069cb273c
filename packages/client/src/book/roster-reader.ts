/**
 * Reads what a roster holds: opened, checked to be about what its key says, and signed by somebody who may say it. A value comes from
 * the vault, from the document's store and from the relay; it is opened and its signature checked the first time.
 */
import type { BookId, KeyId, Result } from "@sward/core";
import type { EpochKeys } from "../keys/book-keys.ts";
import type { Verifier } from "../keys/verifier.ts";
import type { Breathe } from "./breathing.ts";
import { neverBreathe } from "./breathing.ts";
import type { Erasure, RosterFault, RosterRecord } from "./roster.ts";
import { readErasure, readRecord } from "./roster.ts";
import { openEnvelope } from "./seal.ts";

export interface RosterReader {
  /** Null for what cannot be opened or checked, now at least. */
  record(about: string, envelope: Uint8Array): Promise<RosterRecord | null>;
  erasure(about: string, envelope: Uint8Array): Promise<Erasure | null>;
  /** Keeps nothing of what was read about a subject. */
  forget(about: string): void;
}

export interface RosterReaderDeps {
  readonly book: BookId;
  readonly keysOf: (epoch: number) => EpochKeys | undefined;
  readonly verifier: Verifier;
  readonly mayWrite: (author: KeyId) => boolean;
  readonly mayErase: (author: KeyId) => boolean;
  readonly breathe?: Breathe;
}

interface Said<T> {
  readonly author: KeyId;
  readonly value: T;
}

/** What was good, by subject, with the envelope it was in. */
type Memory<T> = Map<string, { readonly envelope: Uint8Array; readonly said: Said<T> }>;

export function createRosterReader(deps: RosterReaderDeps): RosterReader {
  const { book, keysOf, verifier, mayWrite, mayErase, breathe = neverBreathe } = deps;
  const records: Memory<RosterRecord> = new Map();
  const erasures: Memory<Erasure> = new Map();

  async function read<T>(
    about: string,
    envelope: Uint8Array,
    memory: Memory<T>,
    decode: (jws: string) => Result<Said<T>, RosterFault>,
  ): Promise<Said<T> | null> {
    const before = memory.get(about);
    if (before !== undefined && isSame(before.envelope, envelope)) return before.said;
    const breath = breathe();
    if (breath !== null) await breath;
    const texts = await openEnvelope(book, keysOf, envelope);
    const jws = Array.isArray(texts) ? (texts as readonly string[])[0] : undefined;
    const said = jws === undefined ? null : decode(jws);
    if (jws === undefined || said?.ok !== true || !(await verifier.verify(jws, said.value.author))) return null;
    memory.set(about, { envelope, said: said.value });
    return said.value;
  }

  // Who may say it may change; what was said, and by whom, does not.
  const allowed = <T>(said: Said<T> | null, may: (author: KeyId) => boolean): T | null =>
    said !== null && may(said.author) ? said.value : null;

  return {
    async record(about, envelope) {
      return allowed(await read(about, envelope, records, (jws) => readRecord(jws, book, about)), mayWrite);
    },
    async erasure(about, envelope) {
      return allowed(await read(about, envelope, erasures, (jws) => readErasure(jws, book, about)), mayErase);
    },
    forget: (about) => void records.delete(about),
  };
}

export const isSame = (a: Uint8Array | undefined, b: Uint8Array): boolean =>
  a?.length === b.length && a.every((byte, at) => byte === b[at]);
