/** What can be wrong with a command line or a file given to it, as data; the sentences are in `messages.ts`. */
import type { BookId, Day, Format } from "@sward/core";

export type CliFault =
  /** What the command-line parser itself refuses: an unknown option, one missing, a value not among the choices. */
  | { readonly type: "command-line"; readonly command: string; readonly problem: string }
  | { readonly type: "rules-unknown"; readonly rules: string; readonly known: readonly string[] }
  /** Not a whole number. */
  | { readonly type: "not-a-handicap"; readonly given: string }
  | { readonly type: "not-an-index"; readonly given: string }
  /** A card cannot begin at a handicap the rule set does not have. */
  | { readonly type: "start-unknown-handicap"; readonly rules: string; readonly handicap: number }
  | { readonly type: "file-not-read"; readonly path: string; readonly cause: string }
  | { readonly type: "file-not-written"; readonly path: string; readonly cause: string }
  | { readonly type: "not-a-player-id"; readonly given: string }
  /** A record is signed by a device; a file cannot sign. */
  | { readonly type: "export-needs-device"; readonly file: string }
  | {
      readonly type: "import-other-book";
      readonly book: BookId;
      readonly name: string;
      readonly ofPlayer: boolean;
    };

/** What can be wrong with what `sward league` is given. */
export type LeagueCliFault =
  | { readonly type: "not-a-day"; readonly given: string }
  | { readonly type: "league-rules-unknown"; readonly rules: string; readonly known: readonly string[] }
  /** A table is made from a whole league's book. */
  | { readonly type: "league-record-wanted"; readonly as: "club" | "league"; readonly ofPlayer: boolean }
  | { readonly type: "league-records-differ"; readonly book: BookId; readonly first: BookId };

/** What can be wrong with a file of names. `line` counts from 1, the heading being line 1. */
export type NamesFault =
  | { readonly type: "names-heading"; readonly found: readonly string[] }
  | { readonly type: "names-value"; readonly line: number; readonly column: "id" | "name"; readonly given: string };

/** What can be wrong with a file of results. `line` counts from 1, the heading being line 1. */
export type ResultsFault =
  | { readonly type: "results-empty" }
  | { readonly type: "results-column-missing"; readonly column: string; readonly found: readonly string[] }
  | { readonly type: "results-column-twice"; readonly column: string }
  /** A quotation mark that is not closed, or text behind the closing one. */
  | { readonly type: "results-quotes"; readonly line: number }
  | { readonly type: "results-fields"; readonly line: number; readonly fields: number; readonly columns: number }
  | { readonly type: "results-value"; readonly line: number; readonly column: string; readonly given: string }
  | { readonly type: "results-future"; readonly line: number; readonly date: Day; readonly today: Day }
  | { readonly type: "results-score"; readonly line: number; readonly score: string; readonly format: Format }
  | {
      readonly type: "results-unknown-handicap";
      readonly line: number;
      readonly handicap: number;
      readonly rules: string;
    };
