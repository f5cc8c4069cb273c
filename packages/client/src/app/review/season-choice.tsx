/** The season looked at, kept in the address so that it can be sent to somebody; and paper. */
import { useLocation } from "preact-iso";
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
