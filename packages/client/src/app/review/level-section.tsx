/** Level play: expected against seen, gap by gap, and whether the expectations say more than a tossed coin. */
import { bandWords, percent, range, reviewWords } from "../words/review.ts";
import { CalibrationChart, markOf } from "./calibration-chart.tsx";
import type { CalibrationBand, LevelReview } from "./level.ts";
import { COIN } from "./level.ts";
import { standing } from "./share.ts";

export function LevelSection({ level }: { readonly level: LevelReview }) {
  const words = reviewWords.level;
  const { bands, unequal, equal, logLoss } = level;
  const rows = bands.map(({ from, to, games, won, expected, observed, interval }, place) =>
    words.row(markOf(place), bandWords(from, to), { games, won }, expected, observed, interval),
  );
  return (
    <section aria-labelledby="review-level" class="review-section">
      <h2 id="review-level">{words.title}</h2>
      {logLoss === null ? (
        <p>{words.nothing}</p>
      ) : (
        <>
          {bands.length > 0 && (
            <>
              <p>{words.lead}</p>
              <CalibrationChart bands={bands} label={words.chart(rows.join(" "))} />
              <CalibrationTable bands={bands} />
              <p>{words.total(unequal, unequal.expected, unequal.chance)}</p>
            </>
          )}
          <p>
            {words.loss(logLoss, COIN)} {words.lossSays(logLoss)}
          </p>
          {equal > 0 && <p class="quiet small">{words.equal(equal)}</p>}
        </>
      )}
    </section>
  );
}

function CalibrationTable({ bands }: { readonly bands: readonly CalibrationBand[] }) {
  const words = reviewWords.level;
  const { columns } = reviewWords;
  return (
    <table class="review-table">
      <thead>
        <tr>
          <th scope="col">{words.gap}</th>
          <th scope="col" class="number">
            {columns.games}
          </th>
          <th scope="col" class="number">
            {words.expected}
          </th>
          <th scope="col" class="number">
            {words.observed}
          </th>
          <th scope="col">{columns.range}</th>
          <th scope="col">{columns.says}</th>
        </tr>
      </thead>
      <tbody>
        {bands.map(({ from, to, games, won, expected, observed, interval }, place) => (
          <tr key={from}>
            <th scope="row">{words.band(markOf(place), bandWords(from, to))}</th>
            <td class="number" data-label={columns.games}>
              {games}
            </td>
            <td class="number" data-label={words.expected}>
              {percent(expected)}
            </td>
            <td class="number" data-label={words.observed}>
              {words.wonShare(won, observed)}
            </td>
            <td data-label={columns.range}>{range(interval)}</td>
            <td data-label={columns.says}>{words.says[standing({ games, won }, expected)]}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}
