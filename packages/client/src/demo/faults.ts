/**
 * What can be wrong with the demo clubs' files, as data that names the place. They are edited by hand, so reading goes on after
 * a fault and all of them come back at once; a world is made only when there is none. Rejected: stopping at the first (ten slips
 * would take ten runs).
 */
import type { MatchFault } from "@sward/core";

/** Lines are counted from 1, the header being line 1. */
export interface Place {
  readonly file: string;
  readonly line: number;
  readonly column: string;
}

/** The form a cell should have had. */
export type Wanted =
  | "day"
  | "start-time"
  | "key"
  | "text"
  | "handicap"
  | "index"
  | "number"
  | "play"
  | "format"
  | "occasion"
  | "standing"
  | "side"
  | "scores"
  | "ended"
  | "yes-or-empty"
  | "slots";

export type Named = "club" | "device" | "player" | "event" | "fixture" | "slot" | "line";

export type DemoFault =
  | { readonly type: "demo-no-clubs" }
  | { readonly type: "demo-file-missing"; readonly file: string }
  /** Not JSON, or a member that should not be there, is missing or cannot be read: `member` is its path, empty for the whole. */
  | { readonly type: "demo-json"; readonly file: string; readonly member: string }
  | { readonly type: "demo-column-missing"; readonly file: string; readonly line: number; readonly column: string }
  /** Quotes that do not close, a cell too many or too few, or a line break inside a cell. */
  | { readonly type: "demo-broken-line"; readonly file: string; readonly line: number }
  | (Place & { readonly type: "demo-value"; readonly value: string; readonly wanted: Wanted })
  | (Place & { readonly type: "demo-unknown"; readonly what: Named; readonly key: string })
  | (Place & { readonly type: "demo-twice"; readonly what: Named; readonly key: string })
  /** The device's role allows no such entry. */
  | (Place & { readonly type: "demo-may-not-write"; readonly device: string })
  | (Place & { readonly type: "demo-match-cannot-be"; readonly fault: MatchFault })
  /** The end of something before its beginning, a correction entered before what it corrects. */
  | (Place & { readonly type: "demo-too-early"; readonly than: string });
