/**
 * The last import of this device, so that it can be taken back as one, also after the page was loaded again. Its entries are one piece
 * of the device's own chain: the first and the last of them are remembered, and what lies between is read from the record.
 *
 * Taken back are its matches, and of the visitors and events that came with it those nothing else needs by now: a match entered since
 * would otherwise name somebody nobody knows.
 */
import type { Draft, EntryId, KeyId, KnownEntry } from "@sward/core";
import { byNumber } from "@sward/core";
import * as z from "zod/mini";
import type { ReadableBook } from "../entry/reading.ts";
import type { SmallStore } from "./remembered.ts";

const Kept = z.object({ first: z.string(), last: z.string(), games: z.int(), on: z.string(), name: z.string() });

export interface LastImport {
  readonly first: EntryId;
  readonly last: EntryId;
  readonly games: number;
  /** The calendar day it was saved. */
  readonly on: string;
  /** The file's, empty for what was pasted. */
  readonly name: string;
}

const keyOf = (device: KeyId): string => `sward/last-import/${device}`;

export const rememberImport = (store: SmallStore, device: KeyId, last: LastImport): void =>
  store.setItem(keyOf(device), JSON.stringify(last));

export const forgetImport = (store: SmallStore, device: KeyId): void => store.removeItem(keyOf(device));

export function recallImport(store: SmallStore, device: KeyId): LastImport | null {
  try {
    const read = Kept.safeParse(JSON.parse(store.getItem(keyOf(device)) ?? ""));
    if (!read.success) return null;
    return { ...read.data, first: read.data.first as EntryId, last: read.data.last as EntryId };
  } catch {
    return null;
  }
}

/** What takes an import back, latest first; empty when nothing of it stands. */
export function withdrawalsOf(
  book: Pick<ReadableBook, "state" | "counted" | "device" | "id">,
  { first, last }: Pick<LastImport, "first" | "last">,
  reason: string,
): readonly Draft[] {
  const own: KnownEntry[] = [];
  for (const { entry, origin } of book.counted()) {
    if (origin === book.id && entry.author === book.device) own.push(entry);
  }
  const from = own.find(({ id }) => id === first)?.seq;
  const to = own.find(({ id }) => id === last)?.seq;
  if (from === undefined || to === undefined) return [];
  const between = own.filter(({ seq }) => seq >= from && seq <= to);
  const imported = new Set(between.map(({ id }) => id));
  const { players, events, standing } = usedElsewhere(book, imported);
  const goes = (entry: KnownEntry): boolean => {
    if (entry.kind === "match-reported") return standing.has(entry.id);
    if (entry.kind === "player-joined") return !players.has(entry.body.player);
    return entry.kind === "event-opened" && !events.has(entry.body.event);
  };
  return between
    .filter(goes)
    .sort((a, b) => byNumber(b.seq, a.seq))
    .map(({ id }): Draft => ({ kind: "entry-withdrawn", body: { withdraws: id, reason } }));
}

/** Players and events of reports that are not of the import, and the reports of it that stand. */
function usedElsewhere({ state }: Pick<ReadableBook, "state">, imported: ReadonlySet<EntryId>) {
  const players = new Set<string>();
  const events = new Set<string>();
  const standing = new Set<EntryId>();
  for (const { reports, event } of state().matches.values()) {
    for (const { entry, facts } of reports) {
      if (imported.has(entry)) {
        standing.add(entry);
        continue;
      }
      for (const { player } of facts.sides.flat()) players.add(player);
      if (event !== null) events.add(event);
    }
  }
  return { players, events, standing };
}
