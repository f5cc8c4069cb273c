/** Rows of the list: a table where there is room, and a card-index slip for each person where there is not. */
import type { Day } from "@sward/core";
import { showDayNear } from "../dates.ts";
import { clubName } from "../entry/people.ts";
import { Badge } from "../parts/badge.tsx";
import { isLong, LongRows } from "../parts/long-rows.tsx";
import { Numeral } from "../parts/numeral.tsx";
import { places, useHref } from "../place.ts";
import { membersWords } from "../words/members.ts";
import { number } from "../words.ts";
import type { RollRow } from "./roll.ts";

export interface RollTableProps {
  readonly rows: readonly RollRow[];
  readonly kind: RollRow["standing"];
  readonly today: Day;
  /** Where the names of other clubs are known. */
  readonly leagues: Parameters<typeof clubName>[1];
}

export function RollTable({ rows, kind, today, leagues }: RollTableProps) {
  const { columns } = membersWords;
  const visitors = kind === "visitor";
  const href = useHref();
  const look = { visitors, href, leagues, today };
  if (rows.length === 0) return null;
  return (
    <table class={isLong(rows) ? "roll roll-long" : "roll"} aria-rowcount={rows.length + 1}>
      <thead>
        <tr>
          <th scope="col" class="number">
            {columns.handicap}
          </th>
          <th scope="col">{columns.name}</th>
          {visitors ? (
            <th scope="col">{columns.home}</th>
          ) : (
            <th scope="col" class="number">
              {columns.index}
            </th>
          )}
          <th scope="col" class="number">
            {columns.games}
          </th>
          <th scope="col">{columns.last}</th>
        </tr>
      </thead>
      <LongRows
        rows={rows}
        columns={5}
        rowHeight={ROW_HEIGHT}
        above={ABOVE}
        textOf={({ name }) => name}
        draw={(row, place) => <Row key={row.player} row={row} place={place} {...look} />}
      />
    </table>
  );
}

/** CSS pixels, where there is room for a table. */
const ROW_HEIGHT = 65;

/** Band, heading, what finds and sorts: CSS pixels, where text has its usual size. */
const ABOVE = 400;

interface RowProps {
  readonly row: RollRow;
  readonly place: number;
  readonly visitors: boolean;
  /** Asked once for the table, and not by each of thousands of rows. */
  readonly href: ReturnType<typeof useHref>;
  readonly leagues: RollTableProps["leagues"];
  readonly today: Day;
}

function Row({ row, place, visitors, href, leagues, today }: RowProps) {
  return (
    <tr aria-rowindex={place}>
      <td class="number roll-handicap">{row.handicap === null ? "–" : <Numeral value={row.handicap} />}</td>
      <td class="roll-name">
        <a href={href(places.member(row.player))}>{row.name}</a>
        {row.waiting !== null && <Badge tone="info">{membersWords.waiting(row.waiting.to, row.waiting.after)}</Badge>}
        {row.handicap === null && !visitors && <Badge tone="warn">{membersWords.noHandicap}</Badge>}
        {row.junior && <Badge>{membersWords.junior}</Badge>}
      </td>
      {visitors ? (
        <td class="roll-home">{clubName(row.home, leagues) ?? membersWords.homeUnknown}</td>
      ) : (
        <td class="number roll-index">
          {row.index !== null && <span class="narrow-label">{membersWords.columns.index} </span>}
          {row.index === null ? "–" : number(row.index)}
        </td>
      )}
      <td class="number roll-games">
        {row.games} <span class="narrow-label">{membersWords.columns.gamesShort(row.games)}</span>
      </td>
      <td class="roll-last">{row.last === null ? membersWords.never : showDayNear(row.last, today)}</td>
    </tr>
  );
}
