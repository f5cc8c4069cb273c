/**
 * The rows of a long table, of which only those near the screen are drawn: five thousand rows at once are sixty thousand elements, and a
 * phone stands still for seconds. Rows come in blocks, each a `tbody`; a block that is far away is one empty row as tall as its rows
 * were, or as rows like them are.
 *
 * What a browser does with a page still works. Its own search finds a far name: the empty row holds the names as text that is hidden
 * until it is found, each at the height where its row will be. Paper gets every row. A screen reader is told how many rows there are and
 * which one this is. A block that has the focus stays. Of a list that is not long the first screen is drawn, and then all of it.
 *
 * Rejected: `content-visibility`, which has no effect on the parts of a table; a library, none of which keeps a table, the browser's
 * search and printing; and drawing a page of rows at a time, where nobody can scroll to the end.
 */
import type { ComponentChildren } from "preact";
import { useEffect, useRef, useState } from "preact/hooks";
import { onceDrawn } from "../../desk/once-drawn.ts";
import { isGoingBack } from "../scroll.ts";
import { inTurn } from "../turns.ts";
import "./long-rows.css";
import { usePrinting } from "./printing.ts";

/** Fewer than this are all drawn, and stay. */
const FEW = 75;

/** Rows of a block: less than a screen of them, so that drawing one is a few milliseconds; of few rows, no more than are in sight. */
const blockOf = (rows: readonly unknown[]): number => (isLong(rows) ? 12 : 6);

/** What is drawn beyond the screen, above and below, as a part of its height. */
const NEAR = "75% 0px";

export interface LongRowsProps<T> {
  readonly rows: readonly T[];
  readonly columns: number;
  /** What the browser's search can find of a row that is not drawn. */
  readonly textOf: (row: T) => string;
  /** A row with its place in the table, from 1; the heads have the first. The same object in the same place is not drawn again. */
  readonly draw: (row: T, place: number) => ComponentChildren;
  /** Height of a row before one was measured, in pixels. */
  readonly rowHeight: number;
  /** How far down a screen the first row is, at the least, in pixels. */
  readonly above: number;
}

export const isLong = (rows: readonly unknown[]): boolean => rows.length > FEW;

export function LongRows<T>({ rows, ...how }: LongRowsProps<T>) {
  const printing = usePrinting();
  const kept = useRef<readonly Kept<T>[]>([]);
  const stays = !isLong(rows);
  const size = blockOf(rows);
  const blocks: Kept<T>[] = [];
  for (let first = 0; first < rows.length; first += size) {
    const before = kept.current[blocks.length];
    const block = rows.slice(first, first + size);
    const isSame = before?.printing === printing && before.stays === stays && areSame(before.block, block);
    const drawn = <Block key={blocks.length} {...how} rows={block} first={first} printing={printing} stays={stays} />;
    blocks.push(isSame ? before : { block, printing, stays, drawn });
  }
  kept.current = blocks;
  return <>{blocks.map(({ drawn }) => drawn)}</>;
}

/** A block as it was drawn last: Preact passes over what is the very same. */
interface Kept<T> {
  readonly block: readonly T[];
  readonly printing: boolean;
  readonly stays: boolean;
  readonly drawn: ComponentChildren;
}

const areSame = <T,>(a: readonly T[], b: readonly T[]): boolean =>
  a.length === b.length && a.every((one, n) => one === b[n]);

interface BlockProps<T> extends LongRowsProps<T> {
  readonly first: number;
  readonly printing: boolean;
  /** Drawn when the first screen has been, however far away it is. */
  readonly stays: boolean;
}

function Block<T>({ rows, first, printing, stays, columns, textOf, draw, rowHeight, above }: BlockProps<T>) {
  const body = useRef<HTMLTableSectionElement>(null);
  const measured = useRef(rowHeight);
  // The first screen is drawn at once, and not only when somebody has looked where it is.
  const [near, setNear] = useState(() => above + first * rowHeight < innerHeight || (stays && isGoingBack()));
  useEffect(() => {
    const element = body.current;
    if (element === null || printing) return;
    if (stays) {
      let left = false;
      // A block a task: all the rest of sixty rows at once is more than a phone does before a finger would notice.
      if (!near) onceDrawn(() => inTurn("rest", () => left || setNear(true)));
      return () => {
        left = true;
      };
    }
    const observer = new IntersectionObserver(
      (seen) => {
        const last = seen.at(-1);
        if (last === undefined) return;
        if (!last.isIntersecting && element.contains(document.activeElement)) return;
        setNear(last.isIntersecting);
      },
      { rootMargin: NEAR },
    );
    observer.observe(element);
    return () => observer.disconnect();
  }, [printing, stays]);
  const drawn = printing || near;
  useEffect(() => {
    const height = drawn && !stays ? (body.current?.offsetHeight ?? 0) : 0;
    if (height > 0) measured.current = height / rows.length;
  });
  return (
    <tbody ref={body}>
      {drawn ? (
        rows.map((row, n) => draw(row, first + n + 2))
      ) : (
        <tr class="long-rows-far">
          <td colSpan={columns} style={{ height: `${measured.current * rows.length}px` }}>
            <div hidden={"until-found" as never} style={{ lineHeight: `${measured.current}px` }}>
              {rows.map(textOf).join("\n")}
            </div>
          </td>
        </tr>
      )}
    </tbody>
  );
}
