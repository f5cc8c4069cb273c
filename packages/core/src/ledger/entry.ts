/**
 * An entry as core sees it: decoded, its form checked, its id computed. Whether the signature holds is checked by whoever
 * hands it in (checking needs asynchronous platform crypto, which core may not name) and whether it counts is decided by
 * `authority`. An entry of a later version or an unknown kind is still an entry: it holds its place in its author's chain.
 */
import type { BookId, EntryId, KeyId } from "../ids.ts";
import type { Bodies, Kind } from "./kinds.ts";

export interface EntryHead {
  readonly id: EntryId;
  readonly author: KeyId;
  readonly book: BookId;
  readonly seq: number;
  readonly prev: EntryId | null;
  /** The author's clock, for people only. */
  readonly at: string;
}

/** An entry this version understands. */
export type KnownEntry = {
  readonly [K in Kind]: EntryHead & { readonly understood: true; readonly kind: K; readonly body: Bodies[K] };
}[Kind];

/** Kept, passed on, its place in the chain held; counts for nothing here. */
export type ForeignEntry = EntryHead & { readonly understood: false; readonly kind: string; readonly v: number };

export type Entry = KnownEntry | ForeignEntry;

export type EntryOf<K extends Kind> = Extract<KnownEntry, { kind: K }>;
