/** What waits for somebody in a league, fixture by fixture. */
import type { BookId } from "@sward/core";
import type { Book } from "../../book/book.ts";
import { setOn } from "../../league/save.ts";
import { showDay, showDayShort } from "../dates.ts";
import { nameOf as playerName, useDesk } from "../desk-store.ts";
import { Badge } from "../parts/badge.tsx";
import { Empty } from "../parts/empty.tsx";
import { Page } from "../parts/page.tsx";
import { Prevail } from "../parts/prevail.tsx";
import { places, useHref } from "../place.ts";
import type { ScreenProps } from "../screen-props.ts";
import { fixturesWords } from "../words/league-fixtures.ts";
import { matterTold, mattersWords as said } from "../words/league-matters.ts";
import { clubNameIn } from "./fixture-list.tsx";
import type { FixtureMatters } from "./league-matters.ts";
import { leagueMatters } from "./league-matters.ts";
import { LeagueMissing } from "./league-missing.tsx";
import { useReading } from "./reading-here.ts";
import { ownClub } from "./slots.ts";
import "./matters.css";

export function LeagueMattersScreen({ params }: Pick<ScreenProps, "params">) {
  const league = useDesk().leagues.find(({ id }) => id === (params["book"] as BookId));
  return league === undefined || league.state().as === null ? (
    <LeagueMissing title={said.title} known={league !== undefined} />
  ) : (
    <MattersOf league={league} />
  );
}

/** What waits here, read anew with every change. */
export function useMatters(league: Book): readonly FixtureMatters[] {
  const today = useDesk().today();
  const state = league.state();
  return leagueMatters(useReading(league), state, { today, club: ownClub(league), set: setOn(state.rules, today) });
}

function MattersOf({ league }: { readonly league: Book }) {
  const href = useHref();
  const fixtures = useMatters(league);
  const { rules } = useReading(league);
  const own = ownClub(league);
  const clubName = clubNameIn(league);
  const names = { player: playerName, club: clubName, day: showDay };
  return (
    <Page title={said.title} lead={own === null ? said.lead.league : said.lead.club}>
      {fixtures.length === 0 ? (
        <Empty title={said.none.title}>
          <p>{rules === null ? said.noRules : said.none.body}</p>
        </Empty>
      ) : (
        <ol class="matters">
          {fixtures.map(({ fixture, day, home, away, matters }) => {
            const title = fixturesWords.versus(clubName(home), clubName(away));
            return (
              <li key={fixture}>
                <h2>
                  <span class="fixture-day">{showDayShort(day)}</span>{" "}
                  <a href={href(places.fixture(league.id, fixture))}>{title}</a>
                </h2>
                {matters.map((matter) => {
                  const { tone, about, lines, todo } = matterTold(matter, names, own);
                  return (
                    <div key={`${matter.type} ${"club" in matter ? matter.club : ""} ${lines[0]}`} class="matter">
                      <Badge tone={tone}>{about}</Badge>
                      {lines.map((line) => (
                        <p key={line}>{line}</p>
                      ))}
                      <p class="quiet small">{todo}</p>
                    </div>
                  );
                })}
              </li>
            );
          })}
        </ol>
      )}
      <Prevail />
    </Page>
  );
}
