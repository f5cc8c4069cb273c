/** Index points by winner and loser. Nothing is drawn for a game whose points do not depend on the handicaps. */
import type { RuleSet } from "@sward/core";
import { formulaWords, tablesWords } from "../words/tables.ts";
import { number, spoken } from "../words.ts";
import { RestsOn } from "./rests-on.tsx";
import type { GameName } from "./tables-model.ts";
import { exchangeTable } from "./tables-model.ts";

export function ExchangeMatrix({ set, game }: { readonly set: RuleSet; readonly game: GameName }) {
  const table = exchangeTable(set, game);
  if (table === null) return null;
  const id = `tables-${game}`;
  return (
    <section class="tables-exchange" aria-labelledby={id}>
      <h2 id={id}>{tablesWords.exchange.title(game)}</h2>
      <p>
        {tablesWords.exchange.lead} {formulaWords(set, game)}
      </p>
      {/* biome-ignore lint/a11y/noNoninteractiveTabindex: a table wider than the screen is scrolled from the keyboard too. */}
      <section class="scroll-x" tabIndex={0} aria-label={tablesWords.exchange.label}>
        <table class="tables-matrix" data-game={game}>
          <thead>
            <tr>
              <td class="small">{tablesWords.exchange.corner}</td>
              {table.handicaps.map((loser) => (
                <th key={loser} scope="col" class="number">
                  {number(loser)}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {table.handicaps.map((winner, row) => (
              <tr key={winner}>
                <th scope="row" class="number" aria-label={`${tablesWords.exchange.winner} ${spoken(winner)}`}>
                  {number(winner)}
                </th>
                {table.points[row]?.map((points, column) => (
                  <td key={table.handicaps[column]} class={row === column ? "number tables-even" : "number"}>
                    {points === null ? "" : number(points)}
                  </td>
                ))}
              </tr>
            ))}
          </tbody>
        </table>
      </section>
      <RestsOn set={set} rows={[set.exchange[game]]} />
    </section>
  );
}
