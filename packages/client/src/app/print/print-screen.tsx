/** Everything that can be printed, in one list. */
import { useDesk } from "../desk-store.ts";
import { Page } from "../parts/page.tsx";
import { places, useHref } from "../place.ts";
import { printWords } from "../words/print.ts";
import { tablesWords } from "../words/tables.ts";
import "./lists.css";

export function PrintScreen() {
  const href = useHref();
  const inLeague = useDesk().leagues.length > 0;
  const { index } = printWords;
  const prints = [
    [places.printHandicaps, printWords.list.title, index.handicaps],
    [places.printWall, printWords.wall.title, index.wall],
    [places.tables, tablesWords.link, index.tables],
    [places.members, index.cards, index.cardsWhere],
    [places.printMatch, printWords.sheet.blankTitle, index.blank],
    ...(inLeague ? ([[places.league, index.fixtures, index.fixturesWhere]] as const) : []),
    [places.printReport, printWords.report.title, index.report],
  ] as const;
  return (
    <Page title={index.title} lead={index.lead}>
      <ul class="prints">
        {prints.map(([place, title, about]) => (
          <li key={place}>
            <a href={href(place)}>{title}</a>
            <p>{about}</p>
          </li>
        ))}
      </ul>
    </Page>
  );
}
