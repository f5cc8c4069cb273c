/** A season's fixtures: made all at once by the secretary, read and printed by everybody, and what became of each. */
import type { BookId, LeagueFixture, LeagueReading, Outcome } from "@sward/core";
import { inSeason } from "@sward/core";
import { useState } from "preact/hooks";
import type { Book } from "../../book/book.ts";
import { outcomeTold } from "../../league/explained.ts";
import { showDayShort } from "../dates.ts";
import { useDesk } from "../desk-store.ts";
import { Button } from "../parts/button.tsx";
import { Empty } from "../parts/empty.tsx";
import { Page } from "../parts/page.tsx";
import { mayHere } from "../permission.ts";
import { places, useHref } from "../place.ts";
import { PaperHead } from "../print/paper.tsx";
import type { ScreenProps } from "../screen-props.ts";
import { fixturesWords as said } from "../words/league-fixtures.ts";
import { tableWords } from "../words/league-table.ts";
import { clubNameIn } from "./fixture-list.tsx";
import { byeOn } from "./fixtures-form.ts";
import { LeagueMissing } from "./league-missing.tsx";
import { MakeFixtures } from "./make-fixtures.tsx";
import { MarkFixture } from "./mark-fixture.tsx";
import { OneFixtureForm } from "./one-fixture-form.tsx";
import { useReading } from "./reading-here.ts";
import "./fixtures.css";

export function LeagueFixturesScreen({ params }: Pick<ScreenProps, "params">) {
  const league = useDesk().leagues.find(({ id }) => id === (params["book"] as BookId));
  return league === undefined || league.state().as === null ? (
    <LeagueMissing title={said.title} known={league !== undefined} />
  ) : (
    <FixturesOf league={league} />
  );
}

function FixturesOf({ league }: { readonly league: Book }) {
  const today = useDesk().today();
  const reading = useReading(league);
  const fixtures = reading.league.fixtures.filter(({ day }) => inSeason(reading.season, day));
  const maySet = mayHere(league, "fixture-set");
  const { name } = league.state();
  return (
    <Page
      title={said.title}
      lead={said.lead(name)}
      actions={fixtures.length > 0 && <Button onClick={() => print()}>{said.print}</Button>}
    >
      <PaperHead club={name} title={said.title} date={today} />
      {fixtures.length === 0 ? (
        <Empty title={said.empty.title}>
          <p>{maySet ? said.empty.secretary : said.empty.others}</p>
        </Empty>
      ) : (
        <FixtureDays league={league} reading={reading} fixtures={fixtures} />
      )}
      {maySet && (
        <div class="no-print">
          <MakeFixtures key={fixtures.length} league={league} reading={reading} some={fixtures.length > 0} />
          {fixtures.length > 0 && <OneFixtureForm league={league} reading={reading} />}
        </div>
      )}
    </Page>
  );
}

interface FixtureDaysProps {
  readonly league: Book;
  readonly reading: LeagueReading;
  readonly fixtures: readonly LeagueFixture[];
}

function FixtureDays({ league, reading, fixtures }: FixtureDaysProps) {
  const nameOf = clubNameIn(league);
  const [open, setOpen] = useState<string | null>(null);
  const { clubs } = league.state();
  const days = [...new Set(fixtures.map(({ day }) => day))];
  const outcomes = new Map(reading.outcomes.map((outcome) => [outcome.fixture, outcome]));
  return (
    <section aria-label={said.list}>
      {days.map((day) => {
        const bye = byeOn(day, fixtures, clubs.keys());
        return (
          <section key={day} class="fixtures-day">
            <h2>{showDayShort(day)}</h2>
            <ul class="fixtures">
              {fixtures
                .filter((fixture) => fixture.day === day)
                .map((fixture) => (
                  <li key={fixture.fixture} class="fixture">
                    <FixtureLine league={league} fixture={fixture} outcome={outcomes.get(fixture.fixture)} />
                    <MarkFixture
                      league={league}
                      fixture={fixture}
                      open={open === fixture.fixture}
                      setOpen={(now) => setOpen(now ? fixture.fixture : null)}
                    />
                  </li>
                ))}
              {bye !== null && <li class="fixture quiet">{said.bye(nameOf(bye))}</li>}
            </ul>
          </section>
        );
      })}
    </section>
  );
}

interface FixtureLineProps {
  readonly league: Book;
  readonly fixture: LeagueFixture;
  readonly outcome: Outcome | undefined;
}

function FixtureLine({ league, fixture, outcome }: FixtureLineProps) {
  const href = useHref();
  const nameOf = clubNameIn(league);
  const { home, away, day, date, mark, otherMarks } = fixture;
  const saidBy = (club: (typeof otherMarks)[number]["said"]): string =>
    club === null ? tableWords.theLeague : nameOf(club);
  const plain = outcome === undefined || (outcome.standing === "to-play" && mark === null);
  return (
    <>
      <p>
        <a class="fixtures-link" href={href(places.fixture(league.id, fixture.fixture))}>
          {plain ? said.versus(nameOf(home), nameOf(away)) : outcomeTold(outcome, nameOf)}
        </a>
        {day !== date && <span class="quiet small"> ({said.setFor(date)})</span>}
      </p>
      {mark !== null && <p class="quiet small">{tableWords.mark(mark, saidBy(mark.said))}</p>}
      {otherMarks.map((one) => (
        <p key={one.entry} class="quiet small">
          {tableWords.alsoSaid(one, saidBy(one.said))}
        </p>
      ))}
    </>
  );
}
