/**
 * A club found again with nothing but its words: they give the root key and the rooms (`desk/found.ts`), a relay or any member's device
 * in touch with one has the record. The root reads its own chain first, as every device without a vault does, then admits this device's
 * new key as handicapper; the device itself then joins as any other.
 *
 * The admission counts as done when the relay has it: until then it is only in a page that may be closed. Rejected: going on as root
 * (the seed would have to stay on the device).
 *
 * A club whose secret was changed after a bar lies in another room. The words lead to the first one, where the way on is kept
 * (`book/signposts.ts`), with a box for the root in it.
 */
import type { Draft, Result } from "@sward/core";
import { fail, ok } from "@sward/core";
import type { Book } from "../book/book.ts";
import type { AppendFault, TakeFault } from "../book/faults.ts";
import { openMovingBook } from "../book/moving-book.ts";
import type { BookOptions } from "../book/options.ts";
import type { Connection } from "../wire/connection.ts";
import type { FirstDevice, FoundDeps } from "./found.ts";
import { deviceRecord, newDevice, rootOf, rootOptions } from "./found.ts";
import type { Pass } from "./pass.ts";
import { bookPassOf } from "./pass.ts";
import { settleDevice } from "./settle.ts";

export type RecoverFault =
  /** The relay was not met in good time. */
  | { readonly type: "recover-no-relay"; readonly connection: Connection["type"] }
  /** It was met, and holds nothing of a club with these words. */
  | { readonly type: "recover-nothing-there" }
  /** The admission of this device did not get as far as the relay. */
  | { readonly type: "recover-not-stored" }
  | AppendFault
  | TakeFault;

export interface RecoverDeps extends FoundDeps {
  readonly relay: NonNullable<BookOptions["relay"]>;
  /** How long the relay may be silent, in milliseconds. */
  readonly patience: number;
}

export interface RecoveredClub {
  /** What the words were of. */
  readonly as: "club" | "league";
  readonly name: string;
  readonly pass: Pass;
  /** How many entries the relay had. */
  readonly entries: number;
}

export async function recoverClub(
  rootSeed: Uint8Array,
  first: FirstDevice,
  deps: RecoverDeps,
): Promise<Result<RecoveredClub, RecoverFault>> {
  const { root, club } = await rootOf(rootSeed);
  const { relay, clock, randomBytes } = deps;
  const book = await openMovingBook({ ...rootOptions(root, club), relay, clock, randomBytes });
  try {
    if (!(await came(book, () => book.caughtUp(), deps))) {
      return fail({ type: "recover-no-relay", connection: book.connection().type });
    }
    await book.settled();
    const { name, entries, as } = book.state();
    if (as === null) return fail({ type: "recover-nothing-there" });
    const { device, pass } = await newDevice(first.label, bookPassOf(book), deps.randomBytes);
    const admission: Draft = { kind: "device-admitted", body: { device: device.key, role: "handicapper" } };
    const saved = await book.append([admission]);
    if (!saved.ok) return saved;
    await book.roster.write(new Map([[device.id, deviceRecord(first)]]));
    const names = book.roster.envelopes();
    const isStored = (): boolean => saved.value.every((id) => book.custody(id) === "relay");
    if (!(await came(book, isStored, deps))) return fail({ type: "recover-not-stored" });
    // Names have no receipt: should this one not have got there, the device itself puts it there.
    const settled = await settleDevice(pass, { entries: [], names }, deps.optionsFor);
    if (!settled.ok) return settled;
    return ok({ as, name, pass, entries });
  } finally {
    await book.close();
  }
}

/** False when nothing at all has happened for as long as one is ready to wait. */
export function came(
  book: Book,
  holds: () => boolean,
  { relay, patience }: Pick<RecoverDeps, "relay" | "patience">,
): Promise<boolean> {
  const { setTimeout, clearTimeout } = relay.deps;
  return new Promise((resolve) => {
    let timer: unknown = null;
    let stop = (): void => undefined;
    const end = (result: boolean): void => {
      clearTimeout(timer);
      stop();
      resolve(result);
    };
    const wait = (): void => {
      clearTimeout(timer);
      timer = setTimeout(() => end(holds()), patience);
    };
    stop = book.subscribe(() => {
      if (holds()) end(true);
      // A long record being checked is not a silent relay; a connection that fails again and again is.
      else if (book.progress() !== null) wait();
    });
    wait();
    if (holds()) end(true);
  });
}
