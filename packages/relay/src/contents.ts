/**
 * What a room holds in memory while somebody is in it. Two forms behind one face, since the two kinds of room are asked for different
 * things: a ledger only grows (`ledger-contents.ts`), a roster must forget (`roster-contents.ts`).
 */
import type { Known, RoomKind, StateVector } from "@sward/core";
import { screenUpdate } from "@sward/core";
import type { RoomDigest } from "./digest.ts";
import { noLimits } from "./fill.ts";

export interface Contents {
  readonly known: Known;
  /** Takes in what the screen let through, and where it said each client then stands. */
  apply(accepted: Uint8Array, next: StateVector): void;
  /** The encoded state vector; equal states, equal bytes. */
  vector(): Uint8Array;
  /** What a caller with this state lacks, in one page or more, each to be applied after those before it. */
  since(vector: Uint8Array): readonly Uint8Array[];
  digest(): Promise<RoomDigest>;
  /** Gives back the memory. */
  close(): void;
}

/**
 * What was stored, after screening it again: a damaged disk is no better than a stranger. Returns the bytes of the updates. Throws at one
 * that the screen would not let in; the contents are of no use then.
 */
export function fillContents(contents: Contents, kind: RoomKind, updates: readonly Uint8Array[]): number {
  let bytes = 0;
  for (const update of updates) {
    const verdict = screenUpdate(update, contents.known, { kind, policy: "whole", limits: noLimits });
    const { accepted, next, refusals, gap } = verdict;
    if (refusals.length > 0 || gap !== null)
      throw new Error(`stored update refused: ${JSON.stringify(refusals[0] ?? gap)}`);
    if (accepted !== null) contents.apply(accepted, next);
    bytes += update.length;
  }
  return bytes;
}
