/** The season looked at, kept in the address so that it can be sent to somebody; and paper. */
import { useLocation } from "preact-iso";
import { showDay } from "../dates.ts";
import { useDesk } from "../desk-store.ts";
import { Button } from "../parts/button.tsx";
import { useHref } from "../place.ts";
import { reviewWords } from "../words/review.ts";
import type { Season } from "./season.ts";
import { ALL } from "./season.ts";

export interface SeasonChoiceProps {
  readonly place: string;
  readonly season: Season;
  readonly seasons: readonly Season[];
}

export function SeasonChoice({ place, season, seasons }: SeasonChoiceProps) {
  const { route } = useLocation();
  const href = useHref();
  return (
    <>
      <label class="row">
        <span>{reviewWords.season}</span>
        <select value={season} onChange={(event) => route(href(place, { season: event.currentTarget.value }), true)}>
          {seasons.map((year) => (
            <option key={year} value={year}>
              {year}
            </option>
          ))}
          <option value={ALL}>{reviewWords.allSeasons}</option>
        </select>
      </label>
      <Button onClick={() => window.print()}>{reviewWords.print}</Button>
    </>
  );
}

/** The head of the sheet on paper, where the screen's own is not printed. */
export function PaperHead({ season, player }: { readonly season: Season; readonly player?: string }) {
  const desk = useDesk();
  return (
    <p class="print-only review-paper">
      {reviewWords.onPaper(desk.club.state().name, season === ALL ? null : season, showDay(desk.today()), player)}
    </p>
  );
}
