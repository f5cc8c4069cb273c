/**
 * A handicapper's signature covers the card up to and including a day. It holds the digest of those lines, so any later change
 * under it shows: a late game, a correction, a link. The game stands and the card is right; what is no longer true is that
 * somebody signed it, and the handicapper is told from which line on.
 *
 * Digests alone say that something changed and not where, hence the marks: three bytes of each line's own digest. Rejected:
 * freezing a signed period (a late result would be lost or would land on the wrong day).
 *
 * SPEC: RP.
 */
import { sha256 } from "@noble/hashes/sha2.js";
import { utf8ToBytes } from "@noble/hashes/utils.js";
import { base64urlnopad } from "@scure/base";
import { canonicalText } from "../ledger/canonical.ts";
import { digestOf } from "../ledger/encoding.ts";
import type { EntryOf } from "../ledger/entry.ts";
import type { CardSigned, Day } from "../ledger/kinds.ts";
import { byCodeUnits } from "../order.ts";
import type { CardLine, Signature } from "../state.ts";
import type { FoldedCard } from "./fold.ts";

const MAX_MARKS = 256;
const MARK_BYTES = 3;
const MARK_TEXT = 4;

/** What to sign: the card as it is now, up to and including a day. */
export function cardToSign(
  card: { readonly lines: readonly CardLine[] },
  upto: Day,
): Omit<CardSigned, "player"> | null {
  const lines = linesUpTo(card.lines, upto);
  const last = lines.at(-1);
  if (last === undefined) return null;
  const texts = lines.map(lineText);
  return {
    upto,
    handicap: last.handicap,
    index: last.index,
    lines: lines.length,
    digest: digestOf(texts.join("\n")),
    marks: texts.slice(-MAX_MARKS).map(markOf).join(""),
  };
}

/** Signatures in order of the day they reach, and which of the card's changes of handicap none of them covers. */
export function settleSignatures(
  card: FoldedCard,
  signed: readonly EntryOf<"card-signed">[],
): { readonly signatures: Signature[]; readonly unsigned: number[] } {
  const signatures = [...signed].sort(byDayThenId).map((entry) => settle(card, entry));
  const holding = Math.max(0, ...signatures.map((one) => (one.standing === "holds" ? one.lines : 0)));
  const unsigned: number[] = [];
  for (const [position, line] of card.lines.entries()) {
    // A line the handicapper set is his own decision and needs no second signature.
    if (line.line === "game" && line.moved !== null && position >= holding) unsigned.push(position);
  }
  return { signatures, unsigned };
}

function settle(card: FoldedCard, { id, author, at, body }: EntryOf<"card-signed">): Signature {
  const now = cardToSign(card, body.upto);
  const holds =
    now?.digest === body.digest &&
    now.lines === body.lines &&
    now.handicap === body.handicap &&
    now.index === body.index;
  return {
    entry: id,
    by: author,
    at,
    upto: body.upto,
    handicap: body.handicap,
    index: body.index,
    lines: body.lines,
    standing: holds ? "holds" : "touched",
    firstTouched: holds ? null : firstDifference(now, body),
  };
}

/** The first line whose mark differs; where marks do not reach back to, the first line they do reach. */
function firstDifference(now: Omit<CardSigned, "player"> | null, then: CardSigned): number {
  if (now === null) return 0;
  const shorter = Math.min(now.lines, then.lines);
  const [thenFrom, nowFrom] = [firstMarked(then), firstMarked(now)];
  const from = Math.max(thenFrom, nowFrom);
  for (let line = from; line < shorter; line++) {
    if (markAt(now.marks, line - nowFrom) !== markAt(then.marks, line - thenFrom)) return line;
  }
  return now.lines === then.lines ? Math.min(from, now.lines - 1) : shorter;
}

const firstMarked = ({ lines, marks }: Omit<CardSigned, "player">): number =>
  Math.max(0, lines - Math.floor(marks.length / MARK_TEXT));

const markAt = (marks: string, place: number): string => marks.slice(place * MARK_TEXT, (place + 1) * MARK_TEXT);

const markOf = (text: string): string => base64urlnopad.encode(sha256(utf8ToBytes(text)).slice(0, MARK_BYTES));

/** What a signature vouches for in a line: what was played, what it moved, where it left index and handicap. */
function lineText(line: CardLine): string {
  const { date, reason, index, handicap } = line;
  return line.line === "set"
    ? canonicalText({ date, reason, index, handicap, entry: line.entry })
    : canonicalText({
        date,
        reason,
        index,
        handicap,
        match: line.match,
        game: line.game,
        score: line.score,
        points: line.points,
        off: line.off,
        opponents: line.opponents,
      });
}

const linesUpTo = (lines: readonly CardLine[], day: Day): readonly CardLine[] =>
  lines.filter(({ date }) => date <= day);

const byDayThenId = (a: EntryOf<"card-signed">, b: EntryOf<"card-signed">): number =>
  byCodeUnits(a.body.upto, b.body.upto) || byCodeUnits(a.id, b.id);
