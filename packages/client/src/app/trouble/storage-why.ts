/**
 * Why a browser's storage would not do what was asked, from what it threw. Only its text is kept with a trouble, so the text is read:
 * names of DOM exceptions are the same in every browser (https://webidl.spec.whatwg.org/#idl-DOMException-error-names). Pure.
 */
export type StorageWhy =
  /** No room: the disk's, or this site's share of it. */
  | "full"
  /** A private window, or a browser told to keep nothing. */
  | "absent"
  /** Another tab holds it in an older form. */
  | "blocked"
  | "silent"
  | "other";

/** @param cause an error as text, its name first */
export function storageWhy(cause: string): StorageWhy {
  if (/quota|not enough space|no space|disk full|ENOSPC/i.test(cause)) return "full";
  if (/storage-absent|SecurityError/.test(cause)) return "absent";
  if (/storage-blocked/.test(cause)) return "blocked";
  return /storage-silent/.test(cause) ? "silent" : "other";
}
