/** A record of another club's player, as a handicapper's device takes it into his own club's book. Signatures are invented. */
import type { Bodies, EntryId, PlayerId } from "@sward/core";
import { byCodeUnits, digestOf } from "@sward/core";
import type { Book, Pen, Written } from "../../support/cast.ts";
import { player } from "../../support/cast.ts";

export interface TakingWish {
  readonly name: string;
  readonly cutover: string;
  /** What the record has; all of the old book unless said. */
  readonly of?: readonly Written[];
  readonly perPart?: number;
  readonly vouched?: boolean;
  /** Who signed the file; the handicapper of a club unless said. */
  readonly exporter?: Pen;
  readonly more?: Partial<Bodies["record-taken"]>;
}

export interface Taking {
  readonly parts: readonly Written[];
  readonly taken: Written;
}

export const digestOfEntries = (ids: readonly EntryId[]): EntryId =>
  digestOf([...new Set(ids)].sort(byCodeUnits).join("\n"));

/** A part goes into an entry, and that one into a part at the next club. */
function pieces(of: readonly Written[], most: number): Written[][] {
  const made: Written[][] = [];
  let left = 0;
  for (const one of of) {
    const last = made.at(-1);
    if (last === undefined || last.length === most || one.jws.length > left) {
      made.push([one]);
      left = 6000 - one.jws.length;
    } else {
      last.push(one);
      left -= one.jws.length;
    }
  }
  return made;
}

export function takePart(by: Pen, from: Book, some: readonly Written[], good = true): Written {
  const keys = [...new Set(some.map(({ key }) => key))];
  const body: Bodies["record-part"] = { from: from.id, keys, entries: some.map(({ jws }) => jws) };
  const written = by.writes("record-part", body);
  return replaceLast(by.book, { ...written, parts: some.map((one) => (good ? one : null)) });
}

export function takeRecord(by: Pen, from: Book, wish: TakingWish): Taking {
  const { name, cutover, of = from.written, perPart = 5, vouched = true, exporter = from.root, more } = wish;
  const parts: Written[] = [];
  for (const some of pieces(of, perPart)) parts.push(takePart(by, from, some));
  const written = by.writes("record-taken", {
    player: player(name) as PlayerId,
    from: from.id,
    cutover,
    entries: of.length,
    digest: digestOfEntries(of.map(({ id }) => id)),
    key: exporter.key.publicKey,
    manifest: "as the old club signed it",
    parts: parts.map(({ id }) => id),
    ...more,
  });
  return { parts, taken: replaceLast(by.book, { ...written, vouched }) };
}

function replaceLast(book: Book, written: Written): Written {
  book.written[book.written.length - 1] = written;
  return written;
}
