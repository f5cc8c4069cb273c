/** The leagues this club plays in: fixtures and how their matches stand, one fixture, and the way to all that is the league's own. */
import type { BookId, FixtureId } from "@sward/core";
import { useLocation } from "preact-iso";
import type { Book } from "../../book/book.ts";
import { useDesk } from "../desk-store.ts";
import type { Screen } from "../lazy.tsx";
import { lazyPart, lazyScreen } from "../lazy.tsx";
import { ButtonLink } from "../parts/button.tsx";
import { Empty } from "../parts/empty.tsx";
import { Page } from "../parts/page.tsx";
import { placeOf, places, useHref } from "../place.ts";
import type { ScreenProps } from "../routes.ts";
import { leagueWords } from "../words/league.ts";
import { FixtureList } from "./fixture-list.tsx";
import { FixturePage } from "./fixture-page.tsx";
import { leaguePlaces } from "./league-places.ts";
import "../entry/entry.css";
import "./league.css";

/** By the last part of the address; everything else there is a fixture. */
const parts: Readonly<Record<string, Screen>> = {
  join: lazyScreen(() => import("./join-league-screen.tsx"), "JoinLeagueScreen"),
  clubs: lazyScreen(() => import("./clubs-screen.tsx"), "LeagueClubsScreen"),
  fixtures: lazyScreen(() => import("./fixtures-screen.tsx"), "LeagueFixturesScreen"),
  matters: lazyScreen(() => import("./matters-screen.tsx"), "LeagueMattersScreen"),
  rules: lazyScreen(() => import("./rules-screen.tsx"), "LeagueRulesScreen"),
  statements: lazyScreen(() => import("./statements-screen.tsx"), "StatementsScreen"),
  team: lazyScreen(() => import("./lineup-screen.tsx"), "LineupScreen"),
  table: lazyScreen(() => import("./table-screen.tsx"), "LeagueTableScreen"),
};

export function LeagueScreen(props: ScreenProps) {
  const Part = parts[placeOf(useLocation().path).split("/").at(-1) ?? ""];
  return Part === undefined ? <Leagues params={props.params} /> : <Part {...props} />;
}

function Leagues({ params }: Pick<ScreenProps, "params">) {
  const { leagues } = useDesk();
  const href = useHref();
  const { book, fixture } = params;
  if (leagues.length === 0) {
    return (
      <Page title={leagueWords.title}>
        <Empty title={leagueWords.empty.title}>
          <p>{leagueWords.empty.body}</p>
          <p>
            <ButtonLink look="main" href={href(leaguePlaces.join)}>
              {leagueWords.empty.join}
            </ButtonLink>
          </p>
          <p>{leagueWords.empty.start}</p>
          <p>
            <a href="/">{leagueWords.empty.toFront}</a>
          </p>
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
              <LeagueLinks league={league} />
              <FixtureList league={league} />
            </>
          )}
        </section>
      ))}
      <p class="no-print">
        <a href={href(leaguePlaces.join)}>{leagueWords.joinAnother}</a>
      </p>
    </Page>
  );
}

const MattersLink = lazyPart(() => import("./matters-link.tsx"), "MattersLink");

function LeagueLinks({ league }: { readonly league: Book }) {
  const href = useHref();
  const { links } = leagueWords;
  return (
    <div class="row league-links">
      {(["table", "fixtures", "statements", "rules", "clubs"] as const).map((place) => (
        <ButtonLink key={place} href={href(leaguePlaces[place](league.id))}>
          {links[place]}
        </ButtonLink>
      ))}
      <MattersLink league={league} />
    </div>
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
