/** What can be wrong with a command line or a file given to it, as data; the sentences are in `messages.ts`. */
export type CliFault =
  /** What the command-line parser itself refuses: an unknown option, one missing, a value not among the choices. */
  | { readonly type: "command-line"; readonly command: string; readonly problem: string }
  | { readonly type: "rules-unknown"; readonly rules: string; readonly known: readonly string[] }
  /** Not a whole number. */
  | { readonly type: "not-a-handicap"; readonly given: string }
  | { readonly type: "file-not-read"; readonly path: string; readonly cause: string };
