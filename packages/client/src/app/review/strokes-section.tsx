/** Extra strokes that were kept with the score pad: used, lapsed, and at which hoops they went. */
import { reviewWords } from "../words/review.ts";
import type { StrokesReview } from "./strokes-review.ts";

export interface StrokesSectionProps {
  readonly strokes: StrokesReview | null;
  readonly title: string;
  readonly none: string;
}

export function StrokesSection({ strokes, title, none }: StrokesSectionProps) {
  const words = reviewWords.strokes;
  return (
    <section aria-labelledby="review-strokes" class="review-section">
      <h2 id="review-strokes">{title}</h2>
      {strokes === null ? (
        <p>{none}</p>
      ) : (
        <>
          <p>
            {words.lead} {words.use(strokes.all)}
          </p>
          {strokes.lost.records > 0 && <p>{words.lost(strokes.lost, strokes.lostWithUnused)}</p>}
          {strokes.hoops.length > 0 && (
            <table class="review-hoops">
              <thead>
                <tr>
                  <th scope="col">{words.hoop}</th>
                  <th scope="col" class="number">
                    {words.taken}
                  </th>
                  <th scope="col" class="number">
                    {words.made}
                  </th>
                </tr>
              </thead>
              <tbody>
                {strokes.hoops.map((use) => (
                  <tr key={use.hoop}>
                    <th scope="row">{use.hoop}</th>
                    <td class="number">{use.taken}</td>
                    <td class="number">{words.madeOf(use)}</td>
                  </tr>
                ))}
              </tbody>
            </table>
          )}
          <p class="quiet small">{words.useNote}</p>
        </>
      )}
    </section>
  );
}
