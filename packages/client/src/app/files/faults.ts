/** What is wrong with a line of a file, and in which field: plain data, the sentences are in `words/files.ts`. */
import type { Day, Format, PlayerId } from "@sward/core";
import type { FieldName } from "./fields.ts";

/** Those that say all with the field and its text. */
export type PlainFaultType =
  | "no-date"
  | "not-a-date"
  | "date-order-open"
  | "date-is-a-number"
  | "not-a-time"
  | "no-name"
  | "name-too-long"
  | "three-in-a-cell"
  | "uneven-sides"
  | "player-twice"
  | "no-handicap"
  | "handicap-moves"
  | "not-a-handicap"
  | "no-score"
  | "not-a-score"
  | "score-is-a-date"
  | "not-an-ending"
  | "not-a-play"
  | "not-a-format"
  | "not-an-occasion"
  | "no-occasion"
  | "not-yes-or-no"
  | "not-a-number"
  | "event-open"
  | "game-twice"
  | "games-missing"
  | "too-many-that-day"
  | "match-disagrees";

export type LineFault = {
  /** Where to look, and what may be typed anew. */
  readonly field: FieldName;
  /** What stands there. */
  readonly text: string;
} & (
  | { readonly type: PlainFaultType }
  | { readonly type: "future-date"; readonly today: Day }
  | { readonly type: "name-unknown"; readonly offers: readonly PlayerId[] }
  | { readonly type: "name-of-several"; readonly offers: readonly PlayerId[] }
  | { readonly type: "handicap-not-in-table"; readonly rules: string }
  | { readonly type: "score-cannot-be"; readonly format: Format }
  | { readonly type: "event-not-on-day"; readonly from: Day; readonly to: Day }
);

export type LineFaultType = LineFault["type"];
