/** What is wrong with a form, and at which field: plain data, the sentences are in `words-entry.ts`. */
import type { Day, Format } from "@sward/core";
import type { Ending, Seat } from "./form.ts";

/** Ids of fields, which are also the ids of their elements. */
export type Field =
  | "date"
  | "start"
  | "occasion"
  | "event"
  | "same"
  | `player-${Seat}`
  | `off-${Seat}`
  | `score-${number}-${0 | 1}`;

export type FormFault = { readonly field: Field } & (
  | { readonly type: "no-date" }
  | { readonly type: "not-a-date"; readonly text: string }
  | { readonly type: "future-date"; readonly date: Day; readonly today: Day }
  | { readonly type: "not-a-time"; readonly text: string }
  | { readonly type: "no-occasion" }
  | { readonly type: "event-not-on-day"; readonly title: string; readonly from: Day; readonly to: Day }
  | { readonly type: "no-player" }
  | { readonly type: "nobody-by-that-name"; readonly text: string }
  | { readonly type: "player-twice"; readonly name: string }
  | { readonly type: "no-handicap"; readonly name: string }
  | { readonly type: "not-a-handicap"; readonly text: string }
  | { readonly type: "handicap-not-in-table"; readonly handicap: number; readonly rules: string }
  | { readonly type: "no-score" }
  | { readonly type: "not-a-score"; readonly text: string }
  | {
      readonly type: "score-cannot-be";
      readonly score: readonly [number, number];
      readonly format: Format;
      readonly ending: Ending;
    }
  | { readonly type: "same-match-unanswered" }
);
