/**
 * Who may make which kind of entry, as a table. The key of a refusal is the reason shown to people. A reader makes none; a
 * recorder writes down matches and takes back his own; a handicapper does everything but open a book or admit a club.
 *
 * An entry of another book is carried into a club's book by whoever writes there. One of the same book, which its author's chain no
 * longer lets count (a fork, a bar), is adopted by an officer carrying it.
 *
 * SPEC: AU.
 */
import type { EntryOf } from "../ledger/entry.ts";
import type { Kind } from "../ledger/kinds.ts";

export type Office = "root" | "club" | "handicapper" | "recorder" | "reader";

type Book = "club" | "league";

const everyone: readonly Office[] = ["root", "club", "handicapper", "recorder"];
const officers: readonly Office[] = ["root", "club", "handicapper"];

const table: Readonly<Record<Kind, { readonly in: readonly Book[]; readonly by: readonly Office[] }>> = {
  "book-opened": { in: ["club", "league"], by: ["root"] },
  "club-admitted": { in: ["league"], by: ["root"] },
  "device-admitted": { in: ["club", "league"], by: officers },
  "device-barred": { in: ["club", "league"], by: officers },
  "rules-adopted": { in: ["club", "league"], by: officers },
  "policy-set": { in: ["club", "league"], by: officers },
  "player-joined": { in: ["club", "league"], by: everyone },
  "player-left": { in: ["club", "league"], by: officers },
  "player-linked": { in: ["club", "league"], by: officers },
  "event-opened": { in: ["club", "league"], by: officers },
  "match-reported": { in: ["club", "league"], by: everyone },
  "handicap-set": { in: ["club"], by: officers },
  "card-signed": { in: ["club"], by: officers },
  "ruling-made": { in: ["club", "league"], by: officers },
  "entry-withdrawn": { in: ["club", "league"], by: everyone },
  "entry-carried": { in: ["club", "league"], by: everyone },
  "record-part": { in: ["club"], by: officers },
  "record-taken": { in: ["club"], by: officers },
  "fixture-set": { in: ["league"], by: officers },
  "handicap-stated": { in: ["league"], by: officers },
  "league-rules-set": { in: ["league"], by: officers },
  "lineup-named": { in: ["league"], by: everyone },
  "fixture-marked": { in: ["league"], by: everyone },
  "change-proposed": { in: ["club", "league"], by: everyone },
  "change-answered": { in: ["club", "league"], by: officers },
  "epoch-opened": { in: ["club", "league"], by: officers },
};

/** In a league book these belong to the league itself, not to a club's officer. */
const leagueOnly: ReadonlySet<Kind> = new Set([
  "rules-adopted",
  "policy-set",
  "ruling-made",
  "fixture-set",
  "league-rules-set",
]);

export function mayMake(
  entry: { readonly kind: Kind; readonly body: unknown },
  office: Office,
  book: Book,
  ofClub: boolean,
): "yes" | "role-may-not" | "not-this-kind-of-book" {
  const rule = table[entry.kind];
  if (!rule.in.includes(book)) return "not-this-kind-of-book";
  if (!rule.by.includes(office)) return "role-may-not";
  if (book === "league" && ofClub && leagueOnly.has(entry.kind)) return "role-may-not";
  if (entry.kind === "player-joined" && office === "recorder") {
    const { standing } = (entry as EntryOf<"player-joined">).body;
    return standing === "visitor" ? "yes" : "role-may-not";
  }
  return "yes";
}
