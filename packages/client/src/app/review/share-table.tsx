/** Shares as a table: where there is no room for columns, one slip for each row. */
import { percent, range, reviewWords } from "../words/review.ts";
import type { ShareRow } from "./club-review.ts";

export interface ShareTableProps {
  readonly rows: readonly ShareRow[];
  /** What the rows are, such as "strokes received". */
  readonly what: string;
  readonly wonBy: string;
  readonly says: Readonly<Record<ShareRow["standing"], string>>;
}

export function ShareTable({ rows, what, wonBy, says }: ShareTableProps) {
  const { columns, none } = reviewWords;
  return (
    <table class="review-table">
      <thead>
        <tr>
          <th scope="col">{what}</th>
          <th scope="col" class="number">
            {columns.games}
          </th>
          <th scope="col" class="number">
            {wonBy}
          </th>
          <th scope="col" class="number">
            {columns.share}
          </th>
          <th scope="col">{columns.range}</th>
          <th scope="col">{columns.says}</th>
        </tr>
      </thead>
      <tbody>
        {rows.map(({ label, games, won, share, interval, standing }) => (
          <tr key={label}>
            <th scope="row">{label}</th>
            <td class="number" data-label={columns.games}>
              {games}
            </td>
            <td class="number" data-label={wonBy}>
              {won}
            </td>
            <td class="number" data-label={columns.share}>
              {share === null ? none : percent(share)}
            </td>
            <td data-label={columns.range}>{interval === null ? none : range(interval)}</td>
            <td data-label={columns.says}>{says[standing]}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}
