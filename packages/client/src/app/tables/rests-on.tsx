/** What a table rests on, under the table itself: its standing in a word and its sources in full. */
import type { RuleSet, Standing } from "@sward/core";
import { tablesWords } from "../words/tables.ts";
import { citedBy, sourceNumbers } from "./tables-model.ts";

export interface Provenance {
  readonly source: string | null;
  readonly standing: Standing;
}

export function RestsOn({ set, rows }: { readonly set: RuleSet; readonly rows: readonly Provenance[] }) {
  const standings = [...new Set(rows.map(({ standing }) => tablesWords.standings[standing]))].join(", ");
  const cited = citedBy(set, rows);
  return (
    <p class="quiet small tables-rests">
      {tablesWords.restsStanding}: {standings}.{" "}
      {cited.length === 0
        ? tablesWords.noneRead
        : cited.map(({ number, title, url }) => (
            <span key={number}>
              {tablesWords.restsOn} {tablesWords.cited(number)} <a href={url}>{title}</a>.{" "}
            </span>
          ))}
    </p>
  );
}

/** The last cell of a row: its standing and the number of its source, such as "published [2]". */
export function StandingCell({ set, row }: { readonly set: RuleSet; readonly row: Provenance }) {
  const source = row.source === null ? undefined : sourceNumbers(set).get(row.source);
  return (
    <td>
      {tablesWords.standings[row.standing]} {source === undefined ? tablesWords.noSource : tablesWords.cited(source)}
    </td>
  );
}
