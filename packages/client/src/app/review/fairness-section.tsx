/** Do receivers of strokes win half? And what was left out of all this. */
import { leftOutReasons } from "@sward/core";
import { reviewWords } from "../words/review.ts";
import type { ClubReview } from "./club-review.ts";
import { ShareChart } from "./share-chart.tsx";
import { ShareTable } from "./share-table.tsx";

export function FairnessSection({ review }: { readonly review: ClubReview }) {
  const { fairness, rangeMeans } = reviewWords;
  const { receivers, noStrokes, rules } = review;
  const rows = receivers.map(({ label, games, won, share, interval }) =>
    share === null || interval === null
      ? fairness.rowEmpty(label)
      : fairness.row(label, { games, won }, share, interval),
  );
  return (
    <section aria-labelledby="review-fairness" class="review-section">
      <h2 id="review-fairness">{fairness.title}</h2>
      {receivers.every(({ games }) => games === 0) ? (
        <p>{fairness.nothing}</p>
      ) : (
        <>
          <p>{fairness.lead}</p>
          <ShareChart rows={receivers} label={fairness.chart(rows.join(" "))} axis={fairness.axis} />
          <ShareTable rows={receivers} what={fairness.strokes} wonBy={fairness.receiverWon} says={fairness.says} />
          <p class="quiet small">{rangeMeans}</p>
          <p class="quiet small">{fairness.looks}</p>
        </>
      )}
      <p class="quiet small">
        {fairness.noStrokes(noStrokes)} {rules.length > 0 && fairness.rules(rules)}
      </p>
      <LeftOut leftOut={review.leftOut} />
    </section>
  );
}

function LeftOut({ leftOut }: Pick<ClubReview, "leftOut">) {
  const words = reviewWords.leftOut;
  const all = [...leftOut.values()].reduce((sum, games) => sum + games, 0);
  if (all === 0) return null;
  return (
    <details class="review-left-out">
      <summary>{words.title(all)}</summary>
      <p>{words.lead}</p>
      <ul>
        {leftOutReasons.flatMap((reason) => {
          const games = leftOut.get(reason);
          return games === undefined ? [] : [<li key={reason}>{words.line(games, reason)}</li>];
        })}
      </ul>
    </details>
  );
}
