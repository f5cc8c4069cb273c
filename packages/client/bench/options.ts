/** How the benches open a book: one device, no relay, as many entries to an envelope as an import has. */
import type { BookId } from "@sward/core";
import { createMemoryDocStore } from "../src/book/doc-store.ts";
import type { BookOptions } from "../src/book/options.ts";
import { systemClock, systemRandom } from "../src/desk/platform.ts";
import type { Signer } from "../src/keys/signer.ts";
import { secret } from "./signed.ts";

/** What is not in `more` is in memory. */
export const benchOptions = (
  book: BookId,
  device: Signer,
  more: Pick<BookOptions, "vault"> & Partial<BookOptions>,
): BookOptions => ({
  book,
  device,
  epochs: [{ epoch: 0, secret }],
  ledgerStore: createMemoryDocStore(),
  rosterStore: createMemoryDocStore(),
  relay: null,
  clock: systemClock,
  randomBytes: systemRandom,
  entriesPerBlock: 200,
  ...more,
});
