/** The wall chart of extra strokes: who is on it, how long a game, and the sheets themselves. */
import type { Format, PlayerId, RuleSet } from "@sward/core";
import { useDesk } from "../desk-store.ts";
import { rulesOnDay } from "../entry/rules-on.ts";
import { Button } from "../parts/button.tsx";
import { Empty } from "../parts/empty.tsx";
import { Page } from "../parts/page.tsx";
import { places } from "../place.ts";
import type { ScreenProps } from "../screen-props.ts";
import { printWords } from "../words/print.ts";
import { strokesWords } from "../words/strokes.ts";
import { number, words } from "../words.ts";
import { namedOnPaper } from "./named-on-paper.ts";
import { chosen, useChoose } from "./options.ts";
import { PrintButton, Scrolled, SheetHead, useMark } from "./paper.tsx";
import { Pick } from "./pick.tsx";
import type { WallCell, WallColumn, WallPerson, WallSheet } from "./wall-plan.ts";
import {
  chosenPeople,
  columnsOfHandicaps,
  columnsOfPeople,
  rowName,
  tokenOf,
  wallCells,
  wallPeople,
  wallSheets,
} from "./wall-plan.ts";
import "./paper.css";
import "./wall.css";

/** With so few rows there is room for figures that are read from further away. */
const ROOMY = 14;

export function WallScreen({ query }: ScreenProps) {
  const desk = useDesk();
  const rules = rulesOnDay(desk.club.state(), desk.today());
  const people = wallPeople(desk.club.state(), namedOnPaper(desk), desk.today());
  const { wall } = printWords;
  if (rules === undefined || people.length < 2) {
    return (
      <Page title={wall.title}>
        <Empty title={rules === undefined ? strokesWords.noRules.title : wall.nobody.title}>
          <p>{rules === undefined ? strokesWords.noRules.body : wall.nobody.body}</p>
        </Empty>
      </Page>
    );
  }
  return <Wall query={query} rules={rules} people={people} />;
}

interface WallProps {
  readonly query: ScreenProps["query"];
  readonly rules: RuleSet;
  readonly people: readonly WallPerson[];
}

function Wall({ query, rules, people }: WallProps) {
  const desk = useDesk();
  const choose = useChoose(places.printWall, query);
  const format = Number(chosen(query, "points", ["13", "7", "19"])) as Format;
  const by = chosen(query, "by", ["members", "handicaps"]);
  const on = chosenPeople(people, query["who"]);
  const columns = by === "members" ? columnsOfPeople(on) : columnsOfHandicaps(rules);
  const sheets = wallSheets(on, columns);
  const cellOf = wallCells(rules, format);
  const { wall } = printWords;
  const club = desk.club.state().name;
  const title = wall.sheetTitle(format);
  useMark(club, title, desk.today());
  return (
    <Page title={wall.title} lead={wall.lead} actions={<PrintButton />}>
      <div class="no-print">
        <div class="paper-options">
          <Pick
            label={wall.length}
            value={String(format)}
            options={["13", "7", "19"].map((one) => [one, words.points(Number(one))])}
            onChoose={(points) => choose({ points })}
          />
          <Pick
            label={wall.columns}
            value={by}
            options={[
              ["members", wall.byMembers],
              ["handicaps", wall.byHandicaps],
            ]}
            onChoose={(next) => choose({ by: next })}
          />
        </div>
        <Who people={people} on={on} onChoose={(who) => choose({ who })} />
        <p role="status">{wall.sheets(on.length, people.length, sheets.length)}</p>
      </div>
      {sheets.map((sheet, at) => (
        <Scrolled key={`${sheet.rows[0]?.player} ${sheet.columns[0]?.key}`} name={wall.sheet(at + 1, sheets.length)}>
          <article class={`paper paper-wide wall-sheet ${sheet.rows.length <= ROOMY ? "wall-roomy" : ""}`}>
            <SheetHead club={club} title={title} date={desk.today()} lead={wall.howTo} />
            <Chart sheet={sheet} cellOf={cellOf} />
            <p class="paper-foot">
              {sheets.length > 1 && `${wall.sheet(at + 1, sheets.length)} `}
              {strokesWords.rules(rules.title)} {words.prevail}
            </p>
          </article>
        </Scrolled>
      ))}
    </Page>
  );
}

interface ChartProps {
  readonly sheet: WallSheet;
  readonly cellOf: (row: WallPerson, column: WallColumn) => WallCell;
}

function Chart({ sheet: { rows, columns }, cellOf }: ChartProps) {
  const { wall } = printWords;
  return (
    <table class="wall">
      <thead>
        <tr>
          <th scope="col">{wall.own}</th>
          <th scope="col" class="number">
            {wall.hcp}
          </th>
          {columns.map(({ key, name, handicap }) => (
            <th key={key} scope="col" class="wall-head">
              {name !== null && <span class="wall-name">{name}</span>}
              <span class="wall-off">{number(handicap)}</span>
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {rows.map((row) => (
          <tr key={row.player}>
            <th scope="row">{rowName(row)}</th>
            <td class="wall-off">{number(row.handicap)}</td>
            {columns.map((column) => (
              <Cell key={column.key} cell={cellOf(row, column)} />
            ))}
          </tr>
        ))}
      </tbody>
    </table>
  );
}

function Cell({ cell }: { readonly cell: WallCell }) {
  const { cells } = printWords.wall;
  switch (cell.type) {
    case "receives":
      return <td class="wall-receives">{cell.extra}</td>;
    case "gives":
      return <td class="wall-gives">{cells.gives(cell.extra)}</td>;
    case "none":
      return <td>{cells.none}</td>;
    case "unknown":
      return <td>{cells.unknown}</td>;
    case "self":
      return <td class="wall-self">{cells.self}</td>;
  }
}

interface WhoProps {
  readonly people: readonly WallPerson[];
  readonly on: readonly WallPerson[];
  readonly onChoose: (who: string | null) => void;
}

function Who({ people, on, onChoose }: WhoProps) {
  const ids = new Set<PlayerId>(on.map(({ player }) => player));
  const set = (next: ReadonlySet<PlayerId>): void => {
    const some = people.filter(({ player }) => next.has(player)).map(({ player }) => tokenOf(player));
    onChoose(some.length === people.length ? null : some.join("."));
  };
  const { wall } = printWords;
  return (
    <details class="paper-who">
      <summary>{wall.who(on.length, people.length)}</summary>
      <div class="row">
        <Button onClick={() => onChoose(null)}>{wall.everybody}</Button>
        <Button onClick={() => onChoose("")}>{wall.nobodyYet}</Button>
      </div>
      <ul>
        {people.map(({ player, name, handicap }) => (
          <li key={player}>
            <label class="choice">
              <input
                type="checkbox"
                checked={ids.has(player)}
                onChange={(event) => {
                  const next = new Set(ids);
                  if (event.currentTarget.checked) next.add(player);
                  else next.delete(player);
                  set(next);
                }}
              />
              {name} ({number(handicap)})
            </label>
          </li>
        ))}
      </ul>
    </details>
  );
}
