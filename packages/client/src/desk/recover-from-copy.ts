/**
 * A club found again with its words and a copy of its record, across the room from the one member's device that is left, with neither
 * relay nor network. The words give the root key, which admits this device as handicapper; what the copy holds is checked entry by entry
 * like everything that arrives. The device fills the next relay it meets.
 *
 * The root goes on from its last entry in the copy. Had it signed another since, there would be two of one place, and what the root signs
 * from there on would not count: hence the newest copy there is, and the relay where one still answers (`desk/recover.ts`).
 */
import type { Draft, Result } from "@sward/core";
import { fail, ok } from "@sward/core";
import type { AppendFault, TakeFault } from "../book/faults.ts";
import { openMovingBook } from "../book/moving-book.ts";
import type { ClubCopy } from "./club-copy.ts";
import type { FirstDevice, FoundDeps } from "./found.ts";
import { deviceRecord, newDevice, rootOf, rootOptions } from "./found.ts";
import { bookPassOf } from "./pass.ts";
import type { RecoveredClub } from "./recover.ts";
import { settleDevice } from "./settle.ts";

export type CopyRecoverFault =
  /** The copy is of a club with other words. */
  { readonly type: "copy-of-another-club" } | AppendFault | TakeFault;

export async function recoverFromCopy(
  rootSeed: Uint8Array,
  first: FirstDevice,
  copy: ClubCopy,
  deps: FoundDeps,
): Promise<Result<RecoveredClub, CopyRecoverFault>> {
  const { root, club } = await rootOf(rootSeed);
  if (copy.book !== club.book) return fail({ type: "copy-of-another-club" });
  const { clock, randomBytes } = deps;
  const options = rootOptions(root, club);
  if (copy.names.size > 0) await options.vault.saveRoster(copy.names);
  const book = await openMovingBook({ ...options, relay: null, clock, randomBytes });
  try {
    const taken = await book.takeEntries(copy.entries);
    if (!taken.ok) return taken;
    await book.settled();
    const { name, entries, as } = book.state();
    if (as === null) return fail({ type: "copy-of-another-club" });
    const { device, pass } = await newDevice(first.label, bookPassOf(book), randomBytes);
    const admission: Draft = { kind: "device-admitted", body: { device: device.key, role: "handicapper" } };
    const saved = await book.append([admission]);
    if (!saved.ok) return saved;
    await book.roster.write(new Map([[device.id, deviceRecord(first)]]));
    const carried = { entries: [...book.entries()].map(({ jws }) => jws), names: book.roster.envelopes() };
    const settled = await settleDevice(pass, carried, deps.optionsFor);
    return settled.ok ? ok({ as, name, pass, entries }) : settled;
  } finally {
    await book.close();
  }
}
