/**
 * What one struct of a room may look like, whatever else is there. A ledger holds nothing but envelopes put at the end of one
 * array; a roster nothing but envelopes under keys of one map, and the remains of those that were erased. Everything else Yjs
 * can express is refused by not being on this list.
 */
import type { Place, UpdateRefusal } from "./refusal.ts";
import type { RoomKind } from "./room.ts";
import { roomRoots } from "./room.ts";
import type { Struct } from "./update.ts";

/** First byte of every envelope: the version of its format. */
export const envelopeVersion = 1;
/** Format byte, epoch (4), nonce (12), tag (16) and a little sealed text: nothing shorter can be opened. */
export const shortestEnvelope = 40;

/** How much one screened update may ask of us. */
export interface ScreenLimits {
  /** Bytes of one update or one page of a longer one. */
  readonly updateBytes: number;
  /** Bytes of one envelope; a block of an import is the largest there is. */
  readonly envelopeBytes: number;
  /** Yjs client ids in one document: each makes every later transaction slower. */
  readonly clients: number;
}

export const screenLimits: ScreenLimits = { updateBytes: 1024 * 1024, envelopeBytes: 256 * 1024, clients: 4096 };

/** Longest run of erased roster values that is taken as one struct. */
const longestErased = 65_536;

/** Why this struct has no place in a room of this kind, or null. */
export function structFault(struct: Struct, kind: RoomKind, limits: ScreenLimits): UpdateRefusal | null {
  const place: Place = { client: struct.client, clock: struct.clock };
  if (struct.form !== "item") return { type: "foreign-struct", struct: struct.form, ...place };
  const erased = kind === "roster" && struct.content === "deleted" && struct.length <= longestErased;
  if (struct.content !== "binary" && !erased) return { type: "foreign-content", content: struct.content, ...place };
  if (struct.parent === "item") return { type: "foreign-parent", parent: "item", ...place };
  if (struct.parent !== "origin" && struct.parent.root !== roomRoots[kind]) {
    return { type: "foreign-parent", parent: "root", ...place };
  }
  if (kind === "ledger" && struct.keyed) return { type: "keyed", ...place };
  if (kind === "roster" && (!struct.keyed || (struct.parent !== "origin" && struct.key === null))) {
    return { type: "bad-key", ...place };
  }
  // Appending has nothing to its right, and so has the newest value of a key: see the property test of honest traffic.
  if (struct.rightOrigin !== null) return { type: "not-at-the-end", ...place };
  return erased ? null : envelopeFault(struct, place, limits);
}

function envelopeFault({ bytes, firstByte }: Struct, place: Place, limits: ScreenLimits): UpdateRefusal | null {
  if (bytes < shortestEnvelope) return { type: "bad-envelope", fault: "short", bytes, ...place };
  if (bytes > limits.envelopeBytes) return { type: "bad-envelope", fault: "long", bytes, ...place };
  if (firstByte !== envelopeVersion) return { type: "bad-envelope", fault: "version", bytes, ...place };
  return null;
}
