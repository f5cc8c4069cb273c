/** What a book is opened with: everything that is not logic comes in here, so that tests and platforms can hand in their own. */
import type { BookId, Day, PublicKey } from "@sward/core";
import type { Epoch } from "../keys/book-keys.ts";
import type { Ed25519 } from "../keys/ed25519.ts";
import type { Signer } from "../keys/signer.ts";
import type { OpenWire, WireDeps } from "../wire/connection.ts";
import type { Breathe } from "./breathing.ts";
import type { Checkpoint } from "./checkpoint.ts";
import type { DocStore } from "./doc-store.ts";
import type { SharedKeyMark } from "./own-chain.ts";
import type { ReadsBeside } from "./reads-beside.ts";
import type { Vault } from "./vault.ts";

export interface Clock {
  /** RFC 3339 UTC to the second, for `at`. */
  timestamp(): string;
  /** The reader's calendar day. */
  today(): Day;
}

export interface BookOptions {
  readonly book: BookId;
  readonly device: Signer;
  /** The device's key was made here and now, so nothing signed with it can be anywhere else. False if not given. */
  readonly freshKey?: boolean;
  /** At least one. */
  readonly epochs: readonly Epoch[];
  /** The epoch whose room is dialled and whose key seals what is written; the highest if not given. */
  readonly room?: PublicKey;
  /** Nothing is written before the room has been read, though the vault is not empty. False if not given. */
  readonly readsFirst?: boolean;
  /** Where it is remembered that the device's key is in use elsewhere; only while the book is open, if not given. */
  readonly sharedKey?: SharedKeyMark;
  readonly vault: Vault;
  /** What this code kept of another start; everything is worked out anew, if not given. */
  readonly checkpoint?: () => Promise<Checkpoint | null>;
  readonly ledgerStore: DocStore;
  /** Of a further volume of the ledger, by the name of its room; kept nowhere, if not given. */
  readonly volumeStore?: (room: PublicKey) => DocStore;
  /** Client ids in one volume of the ledger before it is closed. */
  readonly clientsPerVolume?: number;
  readonly rosterStore: DocStore;
  /** Null: this device meets no relay. */
  readonly relay: { readonly url: string; readonly open: OpenWire; readonly deps: WireDeps } | null;
  readonly clock: Clock;
  readonly randomBytes: (count: number) => Uint8Array;
  /** Where a screen waits: lets it have its turn during long work. Never, if not given. */
  readonly breathe?: Breathe;
  /** Where a screen shows what was saved: resolves when it has been drawn. Nobody waits for it, if not given. */
  readonly drawn?: () => Promise<void>;
  /** What signatures are checked with; the platform's own or the library, if not given. */
  readonly curve?: () => Promise<Ed25519>;
  /** Reads large arrivals in another thread; they are read here, if not given or not to be had. */
  readonly readsBeside?: () => Promise<ReadsBeside>;
  /** Most entries sealed into one envelope. */
  readonly entriesPerBlock: number;
}
