/**
 * Where a relay keeps what it was sent. Append-only on purpose: a store that writes snapshots can write an empty one over a full
 * one, and no lock or clock saves it. `tests/support/storage-contract.ts` is what every implementation must keep.
 */
import type { RoomKind, RoomName } from "@sward/core";

export interface RoomKey {
  readonly kind: RoomKind;
  readonly room: RoomName;
}

export interface Storage {
  /** Made at random when this store was, and never again: a store with another id has forgotten everything. */
  readonly id: string;
  /** Every update of the room in the order in which they were appended; empty for a room never seen. Rejects if unreadable. */
  load(key: RoomKey): Promise<readonly Uint8Array[]>;
  /** Resolves once all of them survive the loss of power. Rejects: then none or all of them may be there, never some. */
  append(key: RoomKey, updates: readonly Uint8Array[]): Promise<void>;
  /**
   * Puts one update in the place of everything the room has, at once and as durably as `append`. Only for rosters, where what
   * was erased must go from the disk too. The caller answers for the update saying all that should stay.
   */
  replace(key: RoomKey, update: Uint8Array): Promise<void>;
  /** Writes something and reads it back; rejects if that fails. */
  probe(): Promise<void>;
  close(): Promise<void>;
}

/** One name for one room, wherever a string is wanted. */
export const roomKeyText = ({ kind, room }: RoomKey): string => `${kind}/${room}`;
