/**
 * What was chosen for a kind of file, for the next of the kind: what its columns hold, the order of its dates, and what its lines do
 * not say. A convenience and not part of the record, so it is in the browser's own storage.
 *
 * The file edge: another version may have written what is read back.
 */
import { Format, Occasion, Play } from "@sward/core";
import * as z from "zod/mini";
import type { DateOrder } from "./days.ts";
import { fieldNames } from "./fields.ts";
import type { Defaults } from "./lines.ts";
import type { Columns } from "./matching.ts";

const Kept = z.object({
  columns: z.array(z.nullable(z.enum(fieldNames))),
  order: z.nullable(z.enum(["day-first", "month-first"])),
  play: Play(),
  format: Format(),
  occasion: z.nullable(Occasion()),
});
const KeptKinds = z.array(z.tuple([z.string(), Kept]));

export interface KeptChoices {
  readonly columns: Columns;
  readonly order: DateOrder | null;
  readonly defaults: Omit<Defaults, "date">;
}

/** What is needed of the browser's storage. */
export type SmallStore = Pick<Storage, "getItem" | "setItem" | "removeItem">;

/** Kinds of file that are remembered, the last used first. */
const MOST_KINDS = 12;

const keyOf = (device: string): string => `sward/files/${device}`;

export function recallChoices(store: SmallStore, device: string, kind: string): KeptChoices | null {
  const found = readKinds(store, device).find(([name]) => name === kind)?.[1];
  if (found === undefined) return null;
  const { columns, order, play, format, occasion } = found;
  return { columns, order, defaults: { play, format, occasion } };
}

export function rememberChoices(store: SmallStore, device: string, kind: string, kept: KeptChoices): void {
  const others = readKinds(store, device).filter(([name]) => name !== kind);
  const { columns, order, defaults } = kept;
  const { play, format, occasion } = defaults;
  const all = [[kind, { columns, order, play, format, occasion }], ...others].slice(0, MOST_KINDS);
  store.setItem(keyOf(device), JSON.stringify(all));
}

function readKinds(store: SmallStore, device: string): readonly (readonly [string, z.infer<typeof Kept>])[] {
  try {
    const read = KeptKinds.safeParse(JSON.parse(store.getItem(keyOf(device)) ?? ""));
    return read.success ? read.data : [];
  } catch {
    return [];
  }
}
