/** A new device's storage in this browser, for what is put there before its desk opens. */
import { browserBookOptions } from "../desk/browser.ts";
import type { OptionsFor } from "../desk/settle.ts";

export const storageHere: OptionsFor = (device, book) =>
  browserBookOptions(device, book, null, { givenUp: () => undefined, putBack: () => undefined });
