/** What can be wrong with a device's folder, as data; the sentences are in `messages-of-records.ts`. Apart, since a page reads it too. */
import type { BookId } from "@sward/core";

export type HomeFault =
  | { readonly type: "home-not-read"; readonly folder: string; readonly cause: string }
  /** `pass.json` is not a pass. */
  | { readonly type: "home-not-a-pass"; readonly folder: string }
  | { readonly type: "home-not-written"; readonly folder: string; readonly cause: string }
  /** Another device lives there. */
  | { readonly type: "home-taken"; readonly folder: string }
  | { readonly type: "home-in-use"; readonly folder: string }
  | {
      readonly type: "home-no-such-book";
      readonly folder: string;
      readonly book: string;
      readonly books: readonly BookId[];
    };
