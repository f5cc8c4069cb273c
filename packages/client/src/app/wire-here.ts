/** The wire of a page: it finds again, after the page was loaded anew, which other relays the one that served it has told of. */
import * as z from "zod/mini";
import type { OpenWire, OtherRelays } from "../wire/connection.ts";
import { openWire as open } from "../wire/wire.ts";

const Kept = z.array(z.string());
const keyOf = (relay: string): string => `sward/relays/${relay}`;

const others: OtherRelays = {
  known: (relay) => {
    try {
      const read = Kept.safeParse(JSON.parse(localStorage.getItem(keyOf(relay)) ?? "[]"));
      return read.success ? read.data : [];
    } catch {
      return [];
    }
  },
  learned: (relay, origins) => {
    try {
      localStorage.setItem(keyOf(relay), JSON.stringify(origins));
    } catch {
      // No room, or storage denied: the next connection tells us again.
    }
  },
};

export const openWire: OpenWire = (options) => open({ ...options, deps: { ...options.deps, others } });
