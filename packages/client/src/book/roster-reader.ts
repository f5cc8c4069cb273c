/** Reads what a roster holds: opened, checked to be about what its key says, and signed by somebody who may say it. */
import type { BookId, KeyId, Result } from "@sward/core";
import type { EpochKeys } from "../keys/book-keys.ts";
import type { Verifier } from "../keys/verifier.ts";
import type { Erasure, RosterFault, RosterRecord } from "./roster.ts";
import { readErasure, readRecord } from "./roster.ts";
import { openEnvelope } from "./seal.ts";

export interface RosterReader {
  /** Null for what cannot be opened or checked, now at least. */
  record(about: string, envelope: Uint8Array): Promise<RosterRecord | null>;
  erasure(about: string, envelope: Uint8Array): Promise<Erasure | null>;
}

export interface RosterReaderDeps {
  readonly book: BookId;
  readonly keysOf: (epoch: number) => EpochKeys | undefined;
  readonly verifier: Verifier;
  readonly mayWrite: (author: KeyId) => boolean;
  readonly mayErase: (author: KeyId) => boolean;
}

type Signed<T> = Result<{ readonly author: KeyId; readonly value: T }, RosterFault>;

export function createRosterReader({ book, keysOf, verifier, mayWrite, mayErase }: RosterReaderDeps): RosterReader {
  async function read<T>(
    envelope: Uint8Array,
    decode: (jws: string) => Signed<T>,
    may: (author: KeyId) => boolean,
  ): Promise<T | null> {
    const texts = await openEnvelope(book, keysOf, envelope);
    const jws = Array.isArray(texts) ? (texts as readonly string[])[0] : undefined;
    if (jws === undefined) return null;
    const signed = decode(jws);
    if (!signed.ok || !may(signed.value.author)) return null;
    return (await verifier.verify(jws, signed.value.author)) ? signed.value.value : null;
  }
  return {
    record: (about, envelope) => read(envelope, (jws) => readRecord(jws, book, about), mayWrite),
    erasure: (about, envelope) => read(envelope, (jws) => readErasure(jws, book, about), mayErase),
  };
}
