/**
 * Something only the club's own key may do, done with the words on paper: the root reads its own chain at the relay first, as every
 * device without a vault does, writes, and is gone when the relay has it. Its seed is kept nowhere.
 *
 * Rejected: writing from what this device holds of the root's chain (the root may have been at work elsewhere: its chain would fork).
 */
import type { BookState, Draft, Result } from "@sward/core";
import { fail, ok } from "@sward/core";
import type { Book } from "../book/book.ts";
import type { AppendFault } from "../book/faults.ts";
import { openMovingBook } from "../book/moving-book.ts";
import { rootOf, rootOptions } from "./found.ts";
import { bookPassOf } from "./pass.ts";
import type { RecoverDeps, RecoverFault } from "./recover.ts";
import { came } from "./recover.ts";

export type RootFault =
  | RecoverFault
  | AppendFault
  /** They are recovery words, but not this club's. */
  | { readonly type: "words-of-another-club" }
  /** Written, and the relay stopped answering before it had all of it. */
  | { readonly type: "root-not-stored" };

/** @param drafts made when the root has read everything @returns when it is all stored at the relay */
export async function actAsRoot(
  rootSeed: Uint8Array,
  own: Book,
  drafts: (state: BookState) => readonly Draft[],
  deps: Omit<RecoverDeps, "optionsFor">,
): Promise<Result<null, RootFault>> {
  const { root } = await rootOf(rootSeed);
  if ((root.id as string) !== own.id) return fail({ type: "words-of-another-club" });
  const { relay, clock, randomBytes } = deps;
  const book = await openMovingBook({ ...rootOptions(root, bookPassOf(own)), relay, clock, randomBytes });
  try {
    if (!(await came(book, () => book.caughtUp(), deps))) {
      return fail({ type: "recover-no-relay", connection: book.connection().type });
    }
    await book.settled();
    const saved = await book.append(drafts(book.state()));
    if (!saved.ok) return saved;
    const isDone = (): boolean =>
      book.lock().due === null && !book.lock().moving && saved.value.every((id) => book.custody(id) === "relay");
    return (await came(book, isDone, deps)) ? ok(null) : fail({ type: "root-not-stored" });
  } finally {
    await book.close();
  }
}
