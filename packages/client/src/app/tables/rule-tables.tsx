/** One table each of a rule set, every row with its standing and its source. */
import type { RuleSet } from "@sward/core";
import { gapsOf } from "@sward/core";
import type { ComponentChildren } from "preact";
import { occasionWords } from "../words/play.ts";
import { doublesWords, effectWords, pointsRule, tablesWords } from "../words/tables.ts";
import { number } from "../words.ts";
import type { Provenance } from "./rests-on.tsx";
import { RestsOn, StandingCell } from "./rests-on.tsx";
import type { StrokesRow } from "./tables-model.ts";
import { citing, games, listOfSources, sourceNumbers, strokesByDifference } from "./tables-model.ts";

interface OfSet {
  readonly set: RuleSet;
}

interface TableProps extends OfSet {
  readonly name: string;
  readonly title: string;
  readonly lead?: string;
  /** Heads before the one of standing and source. */
  readonly heads: readonly { readonly head: string; readonly numeric?: boolean }[];
  readonly rows: readonly { readonly cells: readonly string[]; readonly row: Provenance }[];
  readonly children?: ComponentChildren;
}

function Table({ set, name, title, lead, heads, rows, children }: TableProps) {
  const id = `tables-${name}`;
  const look = (at: number): string | undefined => (heads[at]?.numeric === true ? "number" : undefined);
  return (
    <section class="tables-section" aria-labelledby={id}>
      <h2 id={id}>{title}</h2>
      {lead !== undefined && <p>{lead}</p>}
      <table data-table={name}>
        <thead>
          <tr>
            {heads.map(({ head }, at) => (
              <th key={head} scope="col" class={look(at)}>
                {head}
              </th>
            ))}
            <th scope="col">{tablesWords.standing}</th>
          </tr>
        </thead>
        <tbody>
          {rows.map(({ cells: [first = "", ...rest], row }) => (
            <tr key={first}>
              <th scope="row" class={look(0)}>
                {first}
              </th>
              {rest.map((cell, at) => (
                <td key={heads[at + 1]?.head} class={look(at + 1)}>
                  {cell}
                </td>
              ))}
              <StandingCell set={set} row={row} />
            </tr>
          ))}
        </tbody>
      </table>
      {children}
      <RestsOn set={set} rows={rows.map(({ row }) => row)} />
    </section>
  );
}

export const Triggers = ({ set }: OfSet) => (
  <Table
    set={set}
    name="triggers"
    title={tablesWords.triggers.title}
    lead={tablesWords.triggers.lead}
    heads={[
      { head: tablesWords.handicap, numeric: true },
      { head: tablesWords.triggers.trigger, numeric: true },
    ]}
    rows={set.triggers.map((row) => ({ cells: [number(row.handicap), number(row.trigger)], row }))}
  />
);

export const Points = ({ set }: OfSet) => (
  <Table
    set={set}
    name="points"
    title={tablesWords.points.title}
    lead={tablesWords.points.lead}
    heads={[{ head: tablesWords.points.game }, { head: tablesWords.points.points }]}
    rows={games.map(({ game }) => {
      const row = set.exchange[game];
      return { cells: [tablesWords.points.games[game], pointsRule(row)], row };
    })}
  />
);

export const Counting = ({ set }: OfSet) => (
  <Table
    set={set}
    name="counting"
    title={tablesWords.counting.title}
    heads={[{ head: tablesWords.counting.occasion }, { head: tablesWords.counting.counts }]}
    rows={set.counting.map((row) => ({
      cells: [occasionWords[row.occasion], row.counts ? tablesWords.counting.yes : tablesWords.counting.no],
      row,
    }))}
  />
);

export const Effective = ({ set }: OfSet) => (
  <section class="tables-section" aria-labelledby="tables-effective">
    <h2 id="tables-effective">{tablesWords.effective.title}</h2>
    <p>{effectWords(set)}</p>
    <RestsOn set={set} rows={[set.effective]} />
  </section>
);

export function Strokes({ set }: OfSet) {
  const { strokes } = tablesWords;
  return (
    <section class="tables-section" aria-labelledby="tables-strokes">
      <h2 id="tables-strokes">{strokes.title}</h2>
      <ul>
        <li>{strokes.whole}</li>
        {set.strokes.conversions.map((row) => (
          <li key={row.format}>
            {strokes.converted(row.format, row.numerator, row.denominator)}
            <RestsOn set={set} rows={[row]} />
          </li>
        ))}
      </ul>
      <div class="tables-halves">
        {halves(strokesByDifference(set)).map((rows) => (
          <StrokesTable key={rows[0]?.difference} rows={rows} />
        ))}
      </div>
      <h3>{strokes.doubles}</h3>
      <p>{doublesWords(set)}</p>
      <RestsOn set={set} rows={[set.strokes.doubles]} />
    </section>
  );
}

/** Two halves side by side, where there is room: one long column of small numbers is hard to follow. */
const halves = (rows: readonly StrokesRow[]): readonly (readonly StrokesRow[])[] => {
  const half = Math.ceil(rows.length / 2);
  return [rows.slice(0, half), rows.slice(half)];
};

const StrokesTable = ({ rows }: { readonly rows: readonly StrokesRow[] }) => (
  <table class="tables-strokes" data-table="strokes">
    <thead>
      <tr>
        <th scope="col" class="number">
          {tablesWords.strokes.difference}
        </th>
        {[13, 7, 19].map((format) => (
          <th key={format} scope="col" class="number">
            {tablesWords.strokes.points(format)}
          </th>
        ))}
      </tr>
    </thead>
    <tbody>
      {rows.map((row) => (
        <tr key={row.difference}>
          <th scope="row" class="number">
            {row.difference}
          </th>
          {row.strokes.map((many, at) => (
            <td key={[13, 7, 19][at]} class="number">
              {many ?? ""}
            </td>
          ))}
        </tr>
      ))}
    </tbody>
  </table>
);

export function Starting({ set }: OfSet) {
  const { starting } = tablesWords;
  if (set.assessment.length === 0) {
    return (
      <section class="tables-section" aria-labelledby="tables-assessment">
        <h2 id="tables-assessment">{starting.title}</h2>
        <p>{starting.none}</p>
      </section>
    );
  }
  return (
    <Table
      set={set}
      name="assessment"
      title={starting.title}
      lead={starting.lead}
      heads={[
        { head: starting.strokes },
        { head: tablesWords.handicap, numeric: true },
        { head: starting.index, numeric: true },
      ]}
      rows={set.assessment.map((row) => ({
        cells: [starting.range(row.atLeast, row.atMost), number(row.handicap), number(row.index)],
        row,
      }))}
    />
  );
}

export function OlderScale({ set }: OfSet) {
  const { older } = tablesWords;
  if (set.olderScale.length === 0) return null;
  return (
    <Table
      set={set}
      name="older"
      title={older.title}
      heads={[{ head: older.handicap }, { head: older.add }, { head: older.but }]}
      rows={set.olderScale.map((row) => ({
        cells: [
          older.range(row.from, row.to),
          older.plus(row.add),
          row.unless === null ? "" : older.unless(row.unless.handicap, row.unless.index),
        ],
        row,
      }))}
    />
  );
}

export const Gaps = ({ set }: OfSet) => (
  <section class="tables-section" aria-labelledby="tables-gaps">
    <h2 id="tables-gaps">{tablesWords.gaps.title}</h2>
    <ul>
      {gapsOf(set).map((gap) => (
        <li key={gap}>{citing(gap, sourceNumbers(set))}</li>
      ))}
    </ul>
  </section>
);

export const Sources = ({ set }: OfSet) => (
  <section class="tables-section tables-sources" aria-labelledby="tables-sources">
    <h2 id="tables-sources">{tablesWords.sources.title}</h2>
    <ol>
      {listOfSources(set).map(({ number, title, url }) => (
        <li key={number}>
          {title}
          <br />
          <a href={url} class="small">
            {url}
          </a>
        </li>
      ))}
    </ol>
  </section>
);
