/** Why a draft was not saved, as data; the sentences are in `messages.ts`. Whatever it says, nothing has changed. */
import type { Day, Kind, MatchFault, PlayerId, Role } from "@sward/core";

export type AppendFault =
  /** The form of the draft: `path` names the field. */
  | { readonly type: "bad-draft"; readonly kind: Kind; readonly path: string }
  | { readonly type: "bad-match"; readonly match: MatchFault }
  | { readonly type: "future-date"; readonly field: string; readonly date: Day; readonly today: Day }
  | { readonly type: "unknown-player"; readonly player: PlayerId }
  | { readonly type: "handicap-not-in-table"; readonly handicap: number; readonly rules: string }
  /** This device's role does not allow it, or it is not admitted, or it is barred. */
  | { readonly type: "may-not"; readonly kind: Kind; readonly role: Role | "root" | "none" | "barred" }
  /** The device came with nothing of its own and has not read yet what the relay has of it. */
  | { readonly type: "not-caught-up" }
  /** An entry of this device's key arrived that it did not write. */
  | { readonly type: "used-elsewhere" }
  /** Two entries of this device have one place in its chain. */
  | { readonly type: "forked"; readonly seq: number }
  /** The device's own storage would not take it. */
  | { readonly type: "not-saved"; readonly cause: string };

/** Why entries that were handed in were not taken: not one of them was. */
export type TakeFault =
  /** So many are not entries of this book, not signed by who they say, or signed by somebody nobody has named. */
  | { readonly type: "entries-not-taken"; readonly refused: number; readonly of: number }
  | Extract<AppendFault, { readonly type: "not-saved" }>;

/** Why a device may write nothing for now. */
export type HaltFault = Extract<AppendFault, { readonly type: "not-caught-up" | "used-elsewhere" | "forked" }>;

/** Why names were not erased: not one of them was. */
export type EraseFault =
  /** Only a handicapper's device, or the club's own key, erases a name. */
  | { readonly type: "may-not-erase" }
  /** The device's own storage would not take it. */
  | { readonly type: "not-erased"; readonly cause: string };
