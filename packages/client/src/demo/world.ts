/**
 * The demo clubs as things to be written: who there is, which devices, and what each device writes, in order. Keys and signatures
 * are made elsewhere; what depends on them (the id of a corrected entry, a device's public key, a signature on a card) is asked
 * for through `Known` when its turn comes. Sign a league's writings before its clubs': the clubs carry them.
 *
 * Rejected: finished entries kept as files (nobody could read or edit them).
 */
import type { BookId, Day, Draft, EntryId, PlayerId, PublicKey, Role } from "@sward/core";

/** `<club or league>/<device>`; the root key of a book is `<club or league>/root`. One device has one key in every book. */
export type DeviceRef = `${string}/${string}`;

/** Names a writing within its book: `<file>/<line's id>`. */
export type WritingRef = `${string}/${string}`;

/** What is known only once keys are made and entries signed. */
export interface Known {
  /** Of a writing of the same book that came earlier. */
  readonly entry: (ref: WritingRef) => EntryId;
  readonly key: (device: DeviceRef) => PublicKey;
  /** Of a club or league. */
  readonly book: (slug: string) => BookId;
}

export type Says =
  | { readonly how: "draft"; readonly draft: (known: Known) => Draft }
  /** Sign the player's card as it stands at this point of the book, up to and including the day. */
  | { readonly how: "signature"; readonly player: PlayerId; readonly upto: Day }
  /** Carry the entry that this writing of a league's book became. */
  | { readonly how: "carry"; readonly league: string; readonly carries: WritingRef };

export interface Writing {
  readonly ref: WritingRef;
  readonly device: DeviceRef;
  /** RFC 3339, UTC, to the second; rising through the book. */
  readonly at: string;
  readonly says: Says;
}

export interface DemoDevice {
  readonly ref: DeviceRef;
  readonly label: string;
  /** Key of the person whose device it is; null for one that belongs to the club. */
  readonly holder: string | null;
  readonly role: Role | "root";
}

/** Somebody a book speaks of, for its roster. */
export interface DemoPerson {
  readonly key: string;
  readonly player: PlayerId;
  readonly name: string;
  readonly short: string;
  readonly junior: boolean;
  readonly standing: "member" | "visitor";
  /** The slug of a demo club, or the name of another; null for a member. */
  readonly home: { readonly slug: string } | { readonly name: string } | null;
}

export interface DemoBook {
  readonly slug: string;
  readonly name: string;
  readonly rules: readonly { readonly rules: string; readonly from: Day }[];
  /** The root first. */
  readonly devices: readonly DemoDevice[];
  readonly people: readonly DemoPerson[];
  readonly writings: readonly Writing[];
}

export interface DemoLeague extends DemoBook {
  /** The clubs, and which of their devices write in the league's book. */
  readonly clubs: readonly { readonly slug: string; readonly devices: readonly DeviceRef[] }[];
}

export interface DemoWorld {
  readonly clubs: readonly DemoBook[];
  readonly leagues: readonly DemoLeague[];
}
