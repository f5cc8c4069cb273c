/** One fixture, slot by slot. */
import type { Fixture } from "@sward/core";
import { useState } from "preact/hooks";
import type { Book } from "../../book/book.ts";
import { showDayLong } from "../dates.ts";
import { useDesk } from "../desk-store.ts";
import { lazyPart } from "../lazy.tsx";
import { ButtonLink } from "../parts/button.tsx";
import { Notice } from "../parts/notice.tsx";
import { Page } from "../parts/page.tsx";
import { Prevail } from "../parts/prevail.tsx";
import { mayHere } from "../permission.ts";
import { places, useHref } from "../place.ts";
import { leagueWords } from "../words/league.ts";
import { printWords } from "../words/print.ts";
import { clubNameIn } from "./fixture-list.tsx";
import { SlotCard } from "./slot-card.tsx";
import { ownClub, tallyOf, viewSlots } from "./slots.ts";

const TeamsSection = lazyPart(() => import("./teams-section.tsx"), "TeamsSection");

export interface FixturePageProps {
  readonly league: Book;
  readonly fixture: Fixture;
}

export function FixturePage({ league, fixture }: FixturePageProps) {
  const desk = useDesk();
  const href = useHref();
  const nameOf = clubNameIn(league);
  const slots = viewSlots(league, fixture);
  const own = ownClub(league);
  const plays = own === fixture.home || own === fixture.away;
  const mayReport = plays && mayHere(league, "match-reported");
  /** The slot whose form is open. */
  const [open, setOpen] = useState<number | null>(null);
  const next = (after: number): number | null =>
    slots.find(({ number, status }) => number > after && status.type === "not-reported")?.number ?? null;
  return (
    <Page
      title={leagueWords.versus(nameOf(fixture.home), nameOf(fixture.away))}
      lead={`${league.state().name}, ${showDayLong(fixture.date)}`}
      actions={
        <>
          <a href={href(places.league)}>{leagueWords.back}</a>
          <ButtonLink href={href(places.printFixture(league.id, fixture.fixture))}>{printWords.sheet.link}</ButtonLink>
        </>
      }
    >
      <p class="tally">
        {leagueWords.tally(tallyOf(league, fixture, slots), nameOf(fixture.home), nameOf(fixture.away))}
      </p>
      {!mayReport && own !== null && (
        <Notice tone="plain" title={plays ? leagueWords.readsOnly : leagueWords.notOurs} />
      )}
      <TeamsSection league={league} fixture={fixture.fixture} />
      <ol class="slots">
        {slots.map((slot) => (
          <li key={slot.number}>
            <SlotCard
              desk={desk}
              league={league}
              place={{ fixture, number: slot.number }}
              slot={slot}
              mayReport={mayReport}
              open={open === slot.number}
              onOpen={() => setOpen(slot.number)}
              onClose={(saved) => setOpen(saved ? next(slot.number) : null)}
            />
          </li>
        ))}
      </ol>
      <Prevail />
    </Page>
  );
}
