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
import type { EntryId } from "../ids.ts";
import { base64urlOf } from "../ledger/base64url.ts";
import type { EntryOf } from "../ledger/entry.ts";
import type { CardSigned, Day } from "../ledger/kinds.ts";
import { byCodeUnits } from "../order.ts";
import type { CardLine, Signature } from "../state.ts";
import { lineText, RunningDigest } from "./card-digest.ts";
import type { CardRows, Lines } from "./card-lines.ts";
import { countUpTo, linesOf } from "./card-lines.ts";
import type { RunningFold } from "./running-card.ts";
import type { Steps } from "./steps.ts";
import { atOnce } from "./steps.ts";

const MAX_MARKS = 256;
const MARK_BYTES = 3;
const MARK_TEXT = 4;

/** Where a card stands after a day, and on how many lines it stands so; null when there is none by then. Costs no digest. */
export function standsAt(
  card: { readonly lines: readonly CardLine[] },
  upto: Day,
): Pick<CardSigned, "handicap" | "index" | "lines"> | null {
  const lines = linesOf(card);
  const count = countUpTo(lines, upto);
  if (count === 0) return null;
  const { handicap, index } = lines.lineAt(count - 1);
  return { handicap, index, lines: count };
}

/** What to sign: the card as it is now, up to and including a day. Its digest goes over every line: ask `standsAt` for a look. */
export function cardToSign(
  card: { readonly lines: readonly CardLine[] },
  upto: Day,
): Omit<CardSigned, "player"> | null {
  const stands = standsAt(card, upto);
  if (stands === null) return null;
  const lines = linesOf(card);
  return {
    upto,
    ...stands,
    digest: atOnce(new RunningDigest().of(lines, stands.lines)),
    marks: marksOf(lines, stands.lines),
  };
}

/** Of the last of the first `count` lines. */
function marksOf(lines: Lines, count: number): string {
  let marks = "";
  for (let place = Math.max(0, count - MAX_MARKS); place < count; place++)
    marks += markOf(lineText(lines.lineAt(place)));
  return marks;
}

interface Settled {
  /** How many lines of the card were looked at. */
  readonly lines: number;
  readonly signature: Signature;
  readonly agreed: Span;
}

/** Lines, the last not among them, that are known to have the marks of what was signed. */
interface Span {
  readonly from: number;
  readonly to: number;
}

/** As in `RunningFold`. */
export type Folded = Pick<RunningFold, "rows" | "kept" | "before">;

/** What was found when the card had other rows, which it may have again. */
interface Earlier {
  readonly rows: CardRows;
  readonly settled: ReadonlyMap<EntryId, Settled>;
  readonly states: RunningDigest["states"];
}

/** What was found of a signature, to be kept from one start to the next: of the same card it is found again without a digest. */
export interface KnownSignature {
  /** How many lines of the card were looked at. */
  readonly lines: number;
  /** Null: it holds. Else the first line that is touched, as in `Signature`. */
  readonly touched: number | null;
  readonly agreed: Span;
}

/** By the entry that signs. */
export type KnownSignatures = ReadonlyMap<EntryId, KnownSignature>;

/**
 * The signatures of one card, kept up with it. A digest goes on from where the lines still say the same, and a signature of
 * such lines alone is not looked at again: to settle the signatures of ten years for one game of today would mean hashing ten years.
 * Where the card is what it was before a game that was taken back, so is what was found of it.
 */
export class RunningSignatures {
  readonly #digests = new RunningDigest();
  #settled: ReadonlyMap<EntryId, Settled> = new Map();
  #rows: CardRows | null = null;
  #earlier: Earlier | null = null;

  /** Lines hashed since the beginning: what this costs. */
  get hashed(): number {
    return this.#digests.hashed;
  }

  /**
   * Signatures in order of the day they reach, and which of the card's changes of handicap none of them covers.
   * @param known found of a card of which `kept` is true, in another run
   */
  *settling(
    { rows: card, kept, before }: Folded,
    signed: readonly EntryOf<"card-signed">[],
    known?: KnownSignatures,
  ): Steps<{ readonly signatures: Signature[]; readonly unsigned: number[] }> {
    const back = this.#turnTo(card, kept, before);
    const settled = new Map<EntryId, Settled>();
    for (const entry of [...signed].sort(byDayThenId)) {
      const lines = countUpTo(card, entry.body.upto);
      const last = this.#settled.get(entry.id) ?? foundBefore(card, entry, lines, known?.get(entry.id));
      const again = back?.settled.get(entry.id);
      if (again !== undefined)
        settled.set(entry.id, { ...again, agreed: further(again.agreed, upTo(last?.agreed, kept)) });
      else if (last !== undefined && last.lines === lines && lines <= kept) settled.set(entry.id, last);
      else settled.set(entry.id, yield* this.#settleOne(card, entry, lines, last?.agreed, kept));
    }
    this.#digests.rest();
    this.#settled = settled;
    const signatures = [...settled.values()].map(({ signature }) => signature);
    const holding = Math.max(0, ...signatures.map((one) => (one.standing === "holds" ? one.lines : 0)));
    // A line the handicapper set is his own decision and needs no second signature.
    return { signatures, unsigned: card.movedFrom(holding) };
  }

  /** @returns what was found when the card was what it is again */
  #turnTo(rows: CardRows, kept: number, before: CardRows | null): Earlier | null {
    const earlier = this.#earlier;
    const back = earlier?.rows === rows ? earlier : null;
    if (rows !== this.#rows) {
      const mayComeAgain = before !== null && before === this.#rows;
      this.#earlier = mayComeAgain ? { rows: before, settled: this.#settled, states: this.#digests.states } : null;
    }
    this.#rows = rows;
    if (back === null) this.#digests.cut(kept);
    else this.#digests.goBack(back.states);
    return back;
  }

  /** What is known of each, for another run. */
  *known(): Iterable<readonly [EntryId, KnownSignature]> {
    for (const [entry, { lines, signature, agreed }] of this.#settled)
      yield [entry, { lines, touched: signature.standing === "holds" ? null : signature.firstTouched, agreed }];
  }

  *#settleOne(
    card: CardRows,
    entry: EntryOf<"card-signed">,
    lines: number,
    known: Span | undefined,
    kept: number,
  ): Steps<Settled> {
    const { body } = entry;
    const holds = standsThere(card, body, lines) && (yield* this.#digests.of(card, lines)) === body.digest;
    // That the digest is right says nothing of the marks, which whoever signed may have made up.
    const { first, agreed } = holds
      ? { first: null, agreed: upTo(known, kept) }
      : firstDifference(card, lines, body, known, kept);
    return { lines, signature: signatureOf(entry, first), agreed };
  }
}

const upTo = (agreed: Span | undefined, kept: number): Span => ({
  from: agreed?.from ?? 0,
  to: Math.min(agreed?.to ?? 0, kept),
});

const further = (a: Span, b: Span): Span => (b.to > a.to ? b : a);

/** Whether the card has as many lines, and ends with the handicap and the index that were signed: what is seen without a digest. */
const standsThere = (card: CardRows, { handicap, index, lines: signed }: CardSigned, lines: number): boolean =>
  lines > 0 && lines === signed && card.handicapAt(lines - 1) === handicap && card.indexAt(lines - 1) === index;

/** Undefined where what is known cannot be of this card. */
function foundBefore(
  card: CardRows,
  entry: EntryOf<"card-signed">,
  lines: number,
  known: KnownSignature | undefined,
): Settled | undefined {
  if (known === undefined || known.lines !== lines) return undefined;
  if (known.touched === null && !standsThere(card, entry.body, lines)) return undefined;
  return { lines, signature: signatureOf(entry, known.touched), agreed: known.agreed };
}

/** @param touched its first line that is, or null */
const signatureOf = (
  { id, author, at, body: { upto, handicap, index, lines } }: EntryOf<"card-signed">,
  touched: number | null,
): Signature => ({
  entry: id,
  by: author,
  at,
  upto,
  handicap,
  index,
  lines,
  standing: touched === null ? "holds" : "touched",
  firstTouched: touched,
});

/**
 * The first line whose mark differs; where marks do not reach back to, the first line they do reach. A line costs a digest, so none is
 * looked at that is known to agree, and none after the first that does not.
 * @param known lines that agreed when this signature was last looked at
 * @param kept so many lines say what they said then
 */
function firstDifference(
  card: Lines,
  lines: number,
  then: CardSigned,
  known: Span | undefined,
  kept: number,
): { readonly first: number; readonly agreed: Span } {
  if (lines === 0) return { first: 0, agreed: { from: 0, to: 0 } };
  const shorter = Math.min(lines, then.lines);
  const thenFrom = firstMarked(then);
  const from = Math.max(thenFrom, 0, lines - MAX_MARKS);
  const start = known !== undefined && known.from <= from ? Math.max(from, Math.min(kept, known.to)) : from;
  for (let line = start; line < shorter; line++) {
    if (markOf(lineText(card.lineAt(line))) !== markAt(then.marks, line - thenFrom))
      return { first: line, agreed: { from, to: line } };
  }
  const first = lines === then.lines ? Math.min(from, lines - 1) : shorter;
  return { first, agreed: { from, to: Math.max(from, shorter) } };
}

const firstMarked = ({ lines, marks }: Pick<CardSigned, "lines" | "marks">): number =>
  Math.max(0, lines - Math.floor(marks.length / MARK_TEXT));

const markAt = (marks: string, place: number): string => marks.slice(place * MARK_TEXT, (place + 1) * MARK_TEXT);

const markOf = (text: string): string => base64urlOf(sha256(utf8ToBytes(text)).slice(0, MARK_BYTES));

const byDayThenId = (a: EntryOf<"card-signed">, b: EntryOf<"card-signed">): number =>
  byCodeUnits(a.body.upto, b.body.upto) || byCodeUnits(a.id, b.id);
