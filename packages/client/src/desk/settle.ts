/**
 * A new device's storage before its desk first opens: the record that came with its pass, checked as everything that arrives is. So a
 * device that has met no relay yet can still show the club and write. What is put in here goes to a relay again when one is met, which
 * costs room and no harm: the same entry twice is one entry. Rejected: carrying over where each entry lies at the relay (one that the
 * giver could not read yet would then be passed over for ever).
 */
import type { Result } from "@sward/core";
import { ok } from "@sward/core";
import { openBook } from "../book/book.ts";
import type { TakeFault } from "../book/faults.ts";
import type { BookOptions } from "../book/options.ts";
import type { RosterCopy } from "../book/vault.ts";
import type { Signer } from "../keys/signer.ts";
import { createSigner } from "../keys/signer.ts";
import type { BookPass, Pass } from "./pass.ts";
import { seedOf } from "./pass.ts";

/** The book of a device with that device's own storage, and with a relay where it is to meet one. */
export type OptionsFor = (device: Signer, book: BookPass) => Promise<BookOptions>;

export interface CarriedRecord {
  /** Signed entries of the club's book. */
  readonly entries: readonly string[];
  /** Its roster, as another device of the club has it. */
  readonly names: RosterCopy;
}

/** Durable when it resolves well. */
export async function settleDevice(
  pass: Pass,
  { entries, names }: CarriedRecord,
  optionsFor: OptionsFor,
): Promise<Result<null, TakeFault>> {
  const options = await optionsFor(await createSigner(seedOf(pass)), pass.club);
  if (names.size > 0) await options.vault.saveRoster(names);
  const book = await openBook({ ...options, freshKey: true });
  try {
    const taken = await book.takeEntries(entries);
    return taken.ok ? ok(null) : taken;
  } finally {
    await book.close();
  }
}
