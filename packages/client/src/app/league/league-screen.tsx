/** The leagues this club plays in: fixtures and how their matches stand, or one fixture. */
import type { BookId, FixtureId } from "@sward/core";
import type { Book } from "../../book/book.ts";
import { useDesk } from "../desk-store.ts";
import { ButtonLink } from "../parts/button.tsx";
import { Empty } from "../parts/empty.tsx";
import { Page } from "../parts/page.tsx";
import { places, useHref } from "../place.ts";
import type { ScreenProps } from "../routes.ts";
import { leagueWords } from "../words/league.ts";
import { FixtureList } from "./fixture-list.tsx";
import { FixturePage } from "./fixture-page.tsx";
import "../entry/entry.css";
import "./league.css";

export function LeagueScreen({ params }: Pick<ScreenProps, "params">) {
  const { leagues } = useDesk();
  const { book, fixture } = params;
  if (leagues.length === 0) {
    return (
      <Page title={leagueWords.title}>
        <Empty title={leagueWords.empty.title}>
          <p>{leagueWords.empty.body}</p>
        </Empty>
      </Page>
    );
  }
  if (book !== undefined && fixture !== undefined) {
    return <OneFixture league={leagues.find(({ id }) => id === (book as BookId))} fixture={fixture as FixtureId} />;
  }
  const shown = book === undefined ? leagues : leagues.filter(({ id }) => id === (book as BookId));
  return (
    <Page title={shown.length > 1 ? leagueWords.titleMany : leagueWords.title}>
      {shown.map((league) => (
        <section key={league.id} class="league">
          <h2>{league.state().name}</h2>
          {league.state().as === null ? (
            <p>{leagueWords.onItsWay}</p>
          ) : (
            <>
              <LeagueLinks league={league.id} />
              <FixtureList league={league} />
            </>
          )}
        </section>
      ))}
    </Page>
  );
}

function LeagueLinks({ league }: { readonly league: BookId }) {
  const href = useHref();
  return (
    <p class="row">
      <ButtonLink href={href(places.leagueTable(league))}>{leagueWords.links.table}</ButtonLink>
      <ButtonLink href={href(places.leagueFixtures(league))}>{leagueWords.links.fixtures}</ButtonLink>
      <ButtonLink href={href(places.leagueRules(league))}>{leagueWords.links.rules}</ButtonLink>
    </p>
  );
}

function OneFixture({ league, fixture }: { readonly league: Book | undefined; readonly fixture: FixtureId }) {
  const href = useHref();
  const found = league?.state().fixtures.get(fixture);
  if (league === undefined || found === undefined) {
    return (
      <Page title={leagueWords.title}>
        <p>{leagueWords.notFound}</p>
        <p>
          <a href={href(places.league)}>{leagueWords.back}</a>
        </p>
      </Page>
    );
  }
  return <FixturePage key={fixture} league={league} fixture={found} />;
}
