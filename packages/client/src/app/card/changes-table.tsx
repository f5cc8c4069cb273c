/** Changes of handicap as a table, for whoever cannot see the chart or wants it on paper. */
import type { CardLine } from "@sward/core";
import { showDay } from "../dates.ts";
import { cardWords } from "../words/card.ts";
import { number, words } from "../words.ts";
import { changesOf, lineKey } from "./card-groups.ts";

export interface ChangesTableProps {
  readonly lines: readonly CardLine[];
  readonly class?: string;
}

export function ChangesTable({ lines, class: mark }: ChangesTableProps) {
  return (
    <table class={mark}>
      <thead>
        <tr>
          <th scope="col">{cardWords.lines.date}</th>
          <th scope="col">{cardWords.print.change}</th>
          <th scope="col" class="number">
            {words.index}
          </th>
        </tr>
      </thead>
      <tbody>
        {changesOf(lines).map(({ date, from, to, index, line }) => (
          <tr key={lineKey(line)}>
            <td>{showDay(date)}</td>
            <td>{cardWords.moved(from, to)}</td>
            <td class="number">{number(index)}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}
