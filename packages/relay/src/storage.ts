/**
 * Where a relay keeps what it was sent, and how it hears of what was stored: by itself or, where several relays share one store,
 * by another. Append-only on purpose: a store that writes snapshots can write an empty one over a full one, and no lock or clock
 * saves it. `tests/support/storage-contract.ts` is what every implementation must keep.
 *
 * A room takes nothing into its document but what its store told it, in the one order that the store gives. So every relay of one
 * store has the same document, and one that starts anew has it too. Rejected: applying what was written here at once and the rest
 * as it comes, which is the same until two callers claim one place, and then differs for ever.
 */
import type { RoomKind, RoomName } from "@sward/core";

export interface RoomKey {
  readonly kind: RoomKind;
  readonly room: RoomName;
}

/** Somebody who follows a room. `at` is where the room stands after it: a number that only grows. */
export interface RoomListener {
  /** Everything stored so far, in its order; called once, before anything else. What it throws, `follow` rejects with. */
  history(updates: readonly Uint8Array[], at: number): void;
  /** One write, whoever made it, after it was stored. Perhaps one that says again what was there. Must not throw. */
  stored(updates: readonly Uint8Array[], at: number): void;
  /** What somebody in the room said at this or another relay of this store. Must not throw. */
  said(state: Uint8Array): void;
}

export interface Storage {
  /** Made at random when this store was, or given anew by `renew`: a store with another id may have forgotten anything. */
  readonly id: string;
  /** Gives the store another id, so that whoever was told "stored" looks again. Durable when it resolves. */
  renew(): Promise<void>;
  /** Whether `replace` may be used to tidy a ledger; false for a log from which nothing can be taken. */
  readonly tidies: boolean;
  /** Every update of the room in the order in which they were appended; empty for a room never seen. Rejects if unreadable. */
  load(key: RoomKey): Promise<readonly Uint8Array[]>;
  /** History, then whatever is stored from then on, with nothing between them left out. Returns the way to stop. */
  follow(key: RoomKey, listener: RoomListener): Promise<() => void>;
  /**
   * Resolves once all of them survive the loss of power and whoever follows the room here has heard of them. Rejects: then none
   * or all of them may be there, never some; if they are, they will be heard of.
   */
  append(key: RoomKey, updates: readonly Uint8Array[]): Promise<void>;
  /**
   * Puts these in the place of everything the room has, at once and as durably as `append`, if the room still stands at `over`
   * (0: nothing was ever stored); else resolves with false, after the listener has heard what is new. For rosters, where what was
   * erased must go from the disk too, and for tidying. The caller answers for their saying all that should stay.
   */
  replace(key: RoomKey, updates: readonly Uint8Array[], over: number): Promise<boolean>;
  /** Tells whoever follows the room, here and at other relays of this store; kept nowhere, may be lost. Never throws. */
  say(key: RoomKey, state: Uint8Array): void;
  /** Every room that has anything, as they all were at one moment where the store can say so; for backup and inspection. */
  rooms(): AsyncIterable<{ readonly key: RoomKey; readonly updates: readonly Uint8Array[] }>;
  /** Writes something and reads it back; rejects if that fails. */
  probe(): Promise<void>;
  close(): Promise<void>;
}

/** One name for one room, wherever a string is wanted. */
export const roomKeyText = ({ kind, room }: RoomKey): string => `${kind}/${room}`;
