/**
 * What can be wrong with a record file, and why one was not written, as data; the sentences are in `messages.ts`. `line` counts from
 * 1, the manifest being line 1. A file with a fault is refused whole: half a record would be a false one.
 */
import type { BookId, EntryId, KeyId, LinkFault, PlayerId } from "@sward/core";

export type RecordFault =
  | { readonly type: "record-empty"; readonly line: 1 }
  | { readonly type: "record-blank-line"; readonly line: number }
  /** Not a JSON string and nothing else. */
  | { readonly type: "record-not-json"; readonly line: number }
  | { readonly type: "record-not-jws"; readonly line: number }
  /** A JWS, but not of an entry, or an entry with something in it that cannot be: `path` says what. */
  | { readonly type: "record-not-entry"; readonly line: number; readonly path: string }
  /** It says something in another way than the one way there is to say it. */
  | { readonly type: "record-not-canonical"; readonly line: number }
  | { readonly type: "record-too-long"; readonly line: number; readonly length: number }
  /** Line 1 is no manifest. */
  | { readonly type: "record-manifest-missing"; readonly line: 1 }
  | { readonly type: "record-manifest-bad"; readonly line: 1; readonly path: string }
  | { readonly type: "record-manifest-forged"; readonly line: 1 }
  | { readonly type: "record-version"; readonly line: 1; readonly v: number }
  | { readonly type: "record-other-book"; readonly line: number; readonly book: BookId; readonly of: BookId }
  | { readonly type: "record-twice"; readonly line: number; readonly first: number }
  /** `line` is where the file ends. */
  | {
      readonly type: "record-truncated";
      readonly line: number;
      readonly expected: number;
      readonly found: number;
      readonly missing: number;
    }
  /** `line` is the first one too many. */
  | { readonly type: "record-too-many"; readonly line: number; readonly expected: number; readonly found: number }
  /** Something behind the last line feed. */
  | { readonly type: "record-unended"; readonly line: number }
  /** No entry of the file states the key that signed the line. */
  | { readonly type: "record-key-unknown"; readonly line: number; readonly key: KeyId }
  /** `kind` is what the entry says it is. */
  | { readonly type: "record-forged"; readonly line: number; readonly key: KeyId; readonly kind: string }
  /** Every entry is genuine, and they are not those that were signed for. */
  | { readonly type: "record-digest"; readonly line: 1 }
  /** Without the book's opening nobody is admitted to anything. */
  | { readonly type: "record-no-opening"; readonly line: 1; readonly book: BookId };

/** Why a record that holds was not taken into another club's book. */
export type TakingFault =
  | { readonly type: "taking-into-league" }
  /** The record is of the very book it was brought to. */
  | { readonly type: "taking-own-book" }
  /** Not one player's record, but a club's whole book. */
  | { readonly type: "taking-whole-book"; readonly name: string }
  | { readonly type: "taking-of-league"; readonly name: string }
  | { readonly type: "taking-nobody"; readonly player: PlayerId }
  /** `as` is known here as somebody else than the record's player, or cannot be. */
  | {
      readonly type: "taking-other-player";
      readonly player: PlayerId;
      readonly as: PlayerId;
      readonly why: LinkFault;
    }
  | { readonly type: "taking-entry-too-long"; readonly entry: EntryId }
  | { readonly type: "taking-too-long"; readonly parts: number; readonly most: number };

/** Why a slip was not written, read or taken in. */
export type SlipFault =
  /** No result is in it, or was asked for. */
  | { readonly type: "slip-nothing" }
  | { readonly type: "slip-into-league" }
  | { readonly type: "slip-own-book" }
  /** None of its reports counts where it was written. */
  | { readonly type: "slip-unconfirmed"; readonly reports: number }
  /** Nobody of this club played, as far as the two books say. */
  | { readonly type: "slip-nobody"; readonly name: string }
  | {
      readonly type: "slip-other-player";
      readonly player: PlayerId;
      readonly is: PlayerId;
      readonly why: LinkFault;
    };

export type ExportFault =
  | { readonly type: "export-no-opening"; readonly book: BookId }
  | { readonly type: "export-unknown-player"; readonly player: PlayerId }
  /** No entry of the book states this device's key: nobody could check what it signs. */
  | { readonly type: "export-device-unknown"; readonly device: KeyId };
