/**
 * A wire carries one document to one room at one relay, and says how that stands. The state of a connection is a value that
 * screens can show, not a set of events: whoever looks late sees the same as whoever looked all along. Rejected: exposing the
 * y-websocket provider, which retries with a token that is no longer good and calls a socket that only opened "connected".
 */

import type { RoomKind, RoomName, TokenClaims, UpdateRefusal } from "@sward/core";
import type * as Y from "yjs";

/** Why the last try failed. `http` is the answer to the nonce request, `closed` the websocket's close code. */
export type WireFault =
  | { readonly type: "unreachable" }
  | { readonly type: "http"; readonly status: number }
  | { readonly type: "not-a-relay" }
  | { readonly type: "no-answer"; readonly after: number }
  | { readonly type: "closed"; readonly code: number }
  /** Something of ours threw while a frame was handled; the text is for a bug report. */
  | { readonly type: "defect"; readonly cause: string };

export type Connection =
  /** Paused by us; no attempt is made. */
  | { readonly type: "offline" }
  /** `next`: milliseconds from the change to this state until the next try, or null while one is under way. */
  | {
      readonly type: "connecting";
      readonly attempt: number;
      readonly next: number | null;
      readonly fault: WireFault | null;
    }
  /** `synced`: everything the relay had when we joined has been read. */
  | { readonly type: "live"; readonly synced: boolean }
  /** The relay, or we, decided that trying again changes nothing. `resume()` tries again all the same. */
  | { readonly type: "refused"; readonly code: number; readonly reason: string }
  | { readonly type: "closed" };

/** A room and the proof of holding its key. `sign` returns a compact JWS over exactly these claims. */
export interface WireRoom {
  readonly kind: RoomKind;
  readonly name: RoomName;
  sign(claims: TokenClaims): Promise<string>;
}

/**
 * Something that was not taken over. `by: "relay"`: the relay refused what we sent, so this document must be rebuilt under a
 * new client id and filled from the vault. `by: "us"`: the relay sent something we did not apply; our document is unharmed.
 */
export interface WireRefusal {
  readonly by: "relay" | "us";
  readonly refusal: UpdateRefusal;
}

/** What the wire applies to the document has the wire itself as transaction origin. */
export interface Wire {
  state(): Connection;
  /** Yjs client id -> next clock durably stored at the relay. Empty until the relay's first receipt, and after a wiped relay. */
  stored(): ReadonlyMap<number, number>;
  /** The id of the relay's store (made at random when its folder was), null before the first hello. A new one: it was wiped. */
  storeId(): string | null;
  /** The last refusals, oldest first, at most 100. */
  refusals(): readonly WireRefusal[];
  /** Client ids under which this document wrote since it was opened, and somebody else does too (`own-places.ts`). Ledgers only. */
  taken(): ReadonlySet<number>;
  /** Called after each change of `state()`, `refusals()`, `taken()` or `storeId()`; returns the way to stop. Must not throw. */
  subscribe(listener: () => void): () => void;
  /** Called after each change of `stored()`; returns the way to stop. Must not throw. */
  onStored(listener: (stored: ReadonlyMap<number, number>) => void): () => void;
  /** Says something to whoever is in the room at this moment, at most `longestSaying` bytes. Kept nowhere, lost without a word. */
  say(bytes: Uint8Array): void;
  /** Called with what others in the room say, and with what we said ourselves; returns the way to stop. Must not throw. */
  onSaid(listener: (bytes: Uint8Array) => void): () => void;
  /** Goes offline and stays so until `resume()`. */
  pause(): void;
  /** Dials at once: after `pause()`, after `refused`, or instead of waiting for the next try. */
  resume(): void;
  /** Ends the wire for good; resolves when the socket is closed. Does not touch the document. */
  close(): Promise<void>;
}

/** The other relays that a relay told of, kept where a page that is loaded again finds them. */
export interface OtherRelays {
  /** Origins to try when `relay` does not answer. */
  known(relay: string): readonly string[];
  learned(relay: string, origins: readonly string[]): void;
}

/** The platform, handed in. `random` is in [0, 1); `now` is milliseconds since 1970. */
export interface WireDeps {
  /** Nothing is kept beyond the life of the wire when there is none. */
  readonly others?: OtherRelays;
  readonly fetch: typeof fetch;
  readonly WebSocket: typeof WebSocket;
  readonly now: () => number;
  readonly random: () => number;
  readonly setTimeout: (run: () => void, after: number) => unknown;
  readonly clearTimeout: (timer: unknown) => void;
}

export interface WireOptions {
  /** The relay's origin as dialled, `http://` or `https://`, no path. The others that it names are dialled when it fails. */
  readonly relay: string;
  readonly room: WireRoom;
  readonly doc: Y.Doc;
  readonly deps: WireDeps;
  /** The longest wait between tries, in milliseconds; 30,000 if not given. */
  readonly maxBackoff?: number;
  /** False: begins offline and waits for `resume()`. True if not given. */
  readonly dial?: boolean;
}

export type OpenWire = (options: WireOptions) => Wire;
