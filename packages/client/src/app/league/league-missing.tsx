/** In the place of a league's screen while its record is not here. */
import { Page } from "../parts/page.tsx";
import { places, useHref } from "../place.ts";
import { leagueWords } from "../words/league.ts";

/** @param known this device has the league's keys */
export function LeagueMissing({ title, known }: { readonly title: string; readonly known: boolean }) {
  const href = useHref();
  return (
    <Page title={title}>
      <p>{known ? leagueWords.onItsWay : leagueWords.noSuchLeague}</p>
      <p>
        <a href={href(places.league)}>{leagueWords.backToLeagues}</a>
      </p>
    </Page>
  );
}
