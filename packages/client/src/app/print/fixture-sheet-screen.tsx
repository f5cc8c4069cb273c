/** The match sheet of a league fixture: line-ups chosen here, handicaps as stated, extra strokes worked out. */
import type { BookId, Fixture, FixtureId } from "@sward/core";
import { useLocation } from "preact-iso";
import type { Book } from "../../book/book.ts";
import { showDayLong } from "../dates.ts";
import { nameOf, useDesk } from "../desk-store.ts";
import { clubNameIn } from "../league/fixture-list.tsx";
import { namedSides } from "../league/named-sides.ts";
import { useReading } from "../league/reading-here.ts";
import { enteredPlayers } from "../league/slots.ts";
import { Button } from "../parts/button.tsx";
import { Page } from "../parts/page.tsx";
import { places, useHref } from "../place.ts";
import type { ScreenProps } from "../screen-props.ts";
import { leagueWords } from "../words/league.ts";
import { printWords } from "../words/print.ts";
import type { SheetSlot } from "./match-sheet.ts";
import { fixtureSheet, slotName, withSeat } from "./match-sheet.ts";
import { useChoose } from "./options.ts";
import { Paper, PrintButton } from "./paper.tsx";
import { Pick } from "./pick.tsx";
import { Captains, SheetSlots } from "./sheet-slots.tsx";
import { tokenOf } from "./wall-plan.ts";
import "./sheet.css";

export function FixtureSheetScreen({ params, query }: ScreenProps) {
  const desk = useDesk();
  const href = useHref();
  const league = desk.leagues.find(({ id }) => id === (params["book"] as BookId));
  const fixture = league?.state().fixtures.get(params["fixture"] as FixtureId);
  if (league === undefined || fixture === undefined) {
    return (
      <Page title={printWords.sheet.title}>
        <p>{leagueWords.notFound}</p>
        <p>
          <a href={href(places.league)}>{leagueWords.back}</a>
        </p>
      </Page>
    );
  }
  return <FixtureSheet league={league} fixture={fixture} query={query} />;
}

interface FixtureSheetProps {
  readonly league: Book;
  readonly fixture: Fixture;
  readonly query: ScreenProps["query"];
}

function FixtureSheet({ league, fixture, query }: FixtureSheetProps) {
  const desk = useDesk();
  const { route } = useLocation();
  const href = useHref();
  const place = places.printFixture(league.id, fixture.fixture);
  const choose = useChoose(place, query);
  const slots = fixtureSheet(desk, league, fixture, query, desk.today(), namedSides(useReading(league), fixture));
  const clubName = clubNameIn(league);
  const clubs = [clubName(fixture.home), clubName(fixture.away)] as const;
  const { sheet } = printWords;
  const versus = leagueWords.versus(...clubs);
  return (
    <Page title={sheet.title} lead={versus} actions={<PrintButton />}>
      <details class="paper-who no-print" open={query[slotName(1)] !== undefined}>
        <summary>{sheet.lineUp}</summary>
        <p>{sheet.lineUpLead}</p>
        {slots.map((slot) => (
          <Lineup
            key={slot.number}
            slot={slot}
            league={league}
            fixture={fixture}
            onChoose={(seats) => choose({ [slotName(slot.number)]: seats })}
          />
        ))}
        <Button onClick={() => route(href(place), true)}>{sheet.fromRecord}</Button>
      </details>
      <Paper title={versus} lead={`${league.state().name}, ${showDayLong(fixture.date)}. ${sheet.asOf}`}>
        <SheetSlots slots={slots} clubs={clubs} />
        <Captains clubs={clubs} />
      </Paper>
    </Page>
  );
}

interface LineupProps {
  readonly slot: SheetSlot;
  readonly league: Book;
  readonly fixture: Fixture;
  readonly onChoose: (seats: string) => void;
}

function Lineup({ slot, league, fixture, onChoose }: LineupProps) {
  const { sheet } = printWords;
  const doubles = slot.discipline === "doubles";
  return (
    <fieldset>
      <legend>{sheet.slot(slot.number, leagueWords.slotKind(slot))}</legend>
      <div class="msheet-lineup">
        {([fixture.home, fixture.away] as const).flatMap((club, side) =>
          slot.sides[side === 0 ? 0 : 1].map(({ player }, at) => (
            <Pick
              key={`${side} ${String(at)}`}
              label={leagueWords.player(clubNameIn(league)(club), at === 0 ? 0 : 1, doubles)}
              value={player === null ? "" : tokenOf(player)}
              options={[
                ["", sheet.byHand],
                ...enteredPlayers(league, club, nameOf).map((one) => [tokenOf(one), nameOf(one)] as const),
              ]}
              onChoose={(token) => {
                const found = enteredPlayers(league, club, nameOf).find((one) => tokenOf(one) === token);
                onChoose(withSeat(slot, (side * 2 + at) as 0 | 1 | 2 | 3, found ?? null));
              }}
            />
          )),
        )}
      </div>
    </fieldset>
  );
}
