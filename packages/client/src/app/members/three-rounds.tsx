/** The three-rounds test: a count for each round, the sum, the published table with its row marked, and where it was read. */
import type { RuleSet } from "@sward/core";
import { Field } from "../parts/field.tsx";
import { membersWords } from "../words/members.ts";
import { number } from "../words.ts";
import type { Assessment, Counts } from "./assessment.ts";
import { assess, tableRows, tableSources } from "./assessment.ts";

export interface ThreeRoundsProps {
  readonly counts: Counts;
  readonly rules: RuleSet | undefined;
  readonly change: (counts: Counts) => void;
}

export function ThreeRounds({ counts, rules, change }: ThreeRoundsProps) {
  const { test } = membersWords;
  const found = assess(rules, counts);
  return (
    <fieldset class="test">
      <legend>{test.title}</legend>
      <p class="quiet small">{test.how}</p>
      <div class="test-rounds">
        {counts.map((count, place) => (
          <Field
            key={test.round(place + 1)}
            label={test.round(place + 1)}
            error={found.type === "not-counts" && found.rounds.includes(place + 1) ? test.notACount : null}
          >
            {(control) => (
              <input
                {...control}
                inputMode="numeric"
                autoComplete="off"
                maxLength={3}
                value={count}
                onInput={(event) => {
                  const next: [string, string, string] = [...counts];
                  next[place] = event.currentTarget.value;
                  change(next);
                }}
              />
            )}
          </Field>
        ))}
      </div>
      <p aria-live="polite" class="test-found">
        {foundWords(found)}
      </p>
      <Table rules={rules} found={found} />
    </fieldset>
  );
}

function foundWords(found: Assessment): string {
  const { test } = membersWords;
  switch (found.type) {
    case "none":
    case "not-counts":
      return "";
    case "unfinished":
      return test.unfinished(found.sum, found.left);
    case "no-table":
      return test.noTable(found.sum);
    case "below-table":
      return test.below(found.sum, found.from);
    case "row":
      return test.proposal(found.sum, found.row.handicap, found.row.index);
  }
}

function Table({ rules, found }: { readonly rules: RuleSet | undefined; readonly found: Assessment }) {
  const { test } = membersWords;
  const rows = tableRows(rules, found);
  const [first] = rows;
  if (rules === undefined || first === undefined) return null;
  return (
    <details class="test-table" open={found.type === "row" || found.type === "below-table"}>
      <summary>{test.table}</summary>
      <table aria-label={test.table}>
        <thead>
          <tr>
            <th scope="col">{test.strokes}</th>
            <th scope="col" class="number">
              {test.handicap}
            </th>
            <th scope="col" class="number">
              {test.index}
            </th>
          </tr>
        </thead>
        <tbody>
          <tr class={found.type === "below-table" ? "test-row-found" : undefined}>
            <th scope="row">{test.under(first.atLeast)}</th>
            <td colSpan={2}>{test.separately}</td>
          </tr>
          {rows.map((row) => (
            <tr
              key={row.atLeast}
              class={row.found ? "test-row-found" : undefined}
              aria-current={row.found ? "true" : undefined}
            >
              <th scope="row">
                {test.range(row.atLeast, row.atMost)}
                {row.found && <span class="test-mark"> {test.thisOne}</span>}
              </th>
              <td class="number">{number(row.handicap)}</td>
              <td class="number">{number(row.index)}</td>
            </tr>
          ))}
        </tbody>
      </table>
      <p class="quiet small">
        {test.readAt}{" "}
        {tableSources(rules).map(({ title, url }) => (
          <a key={url} href={url} target="_blank" rel="noreferrer">
            {title}
          </a>
        ))}
      </p>
    </details>
  );
}
