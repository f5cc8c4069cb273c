/**
 * Matches and settings that are new on a card, as rows in the order of the card. They are turned into numbers as they lie, and numbers
 * are sorted: what matches of one day say besides is read only where there are several. In a large book the matches of one card lie all
 * over the memory, so that whatever is read of them twice is fetched twice; and whatever is made for each card and thrown away brings
 * the collector back, who looks through the whole book each time.
 *
 * So where numbers are worked on is kept from card to card. Rejected: sorting the matches themselves (each comparison reads two of
 * them), and writing numbers as matches come, before the card is folded (lists that grow on every card at once, which cost more than
 * reading a match a second time).
 *
 * SPEC: RP.
 */
import type { FoldInput, Source } from "./card-input.ts";
import { bySourceOrder } from "./card-input.ts";
import { DAY, rowsOfSource, WIDE, WRITTEN, writeRows } from "./card-rows.ts";

/** As many rows as are worked on without making room for them. */
const ROOM = 4096;

const room = { numbers: new Int32Array(ROOM * WRITTEN), keys: new Float64Array(ROOM) };

export interface FreshRows {
  readonly count: number;
  sourceAt(place: number): Source;
  /** Writes the row to a table of whole rows. */
  copyTo(table: Int32Array, at: number, place: number): void;
}

/** To be read before it is called again: the next one works in the same place. */
export function freshRows(added: readonly Source[], input: FoldInput): FreshRows {
  let count = 0;
  for (const one of added) count += rowsOfSource(one);
  const { numbers, keys } =
    count <= ROOM ? room : { numbers: new Int32Array(count * WRITTEN), keys: new Float64Array(count) };
  const sources: Source[] = [];
  for (const one of added) {
    writeRows(numbers, WRITTEN, sources.length, one, input);
    for (let n = rowsOfSource(one); n > 0; n--) sources.push(one);
  }
  const order = inOrder(numbers, keys.subarray(0, count), sources);
  return {
    count,
    sourceAt: (place) => sources[order[place] as number] as Source,
    copyTo(table, at, place) {
      const row = (order[place] as number) * WRITTEN;
      for (let n = 0; n < WRITTEN; n++) table[at * WIDE + n] = numbers[row + n] as number;
    },
  };
}

/** The places of the rows in the order of the card, in `keys`: by day, and within a day as their sources are ordered. */
function inOrder(numbers: Int32Array, keys: Float64Array, sources: readonly Source[]): Float64Array {
  const count = keys.length;
  for (let row = 0; row < count; row++) keys[row] = (numbers[row * WRITTEN + DAY] as number) * count + row;
  keys.sort();
  for (let from = 0; from < count; ) {
    const day = Math.floor((keys[from] as number) / count);
    let end = from;
    for (; end < count && (keys[end] as number) < (day + 1) * count; end++)
      keys[end] = (keys[end] as number) - day * count;
    if (end - from > 1) sortDay(keys, from, end, sources);
    from = end;
  }
  return keys;
}

/** As many of one day are put in order by hand: of most days a card has one or two. */
const FEW = 24;

function sortDay(order: Float64Array, from: number, end: number, sources: readonly Source[]): void {
  if (end - from > FEW) {
    order.subarray(from, end).sort((a, b) => byRow(sources, a, b));
    return;
  }
  for (let place = from + 1; place < end; place++) {
    const row = order[place] as number;
    let at = place;
    for (; at > from && byRow(sources, order[at - 1] as number, row) > 0; at--) order[at] = order[at - 1] as number;
    order[at] = row;
  }
}

/** Rows that are equal are games of one match, and stay as they are. */
const byRow = (sources: readonly Source[], a: number, b: number): number =>
  bySourceOrder(sources[a] as Source, sources[b] as Source) || a - b;
