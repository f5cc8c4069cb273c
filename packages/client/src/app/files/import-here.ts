/** The import of each device of this browser, kept while the page is open. */
import type { KeyId } from "@sward/core";
import type { Desk } from "../../desk/desk.ts";
import { randomId } from "../../desk/platform.ts";
import { words } from "../words.ts";
import type { Importing } from "./importing.ts";
import { createImporting } from "./importing.ts";
import { nextTurn } from "./slices.ts";

const held = new Map<KeyId, { readonly desk: Desk; readonly importing: Importing }>();

/** Made anew when the desk was closed and opened again: the books it reads are other ones. */
export function importAt(desk: Desk): Importing {
  const { device } = desk.club;
  const known = held.get(device);
  if (known?.desk === desk) return known.importing;
  const importing = createImporting({
    desk,
    store: localStorage,
    randomId,
    pause: nextTurn,
    unnamed: words.nameUnknown,
  });
  held.set(device, { desk, importing });
  return importing;
}
