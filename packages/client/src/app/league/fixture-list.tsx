/** A league's fixtures, ours first, each with the standing of its matches in words. */
import type { Fixture, KeyId } from "@sward/core";
import { byCodeUnits } from "@sward/core";
import type { Book } from "../../book/book.ts";
import { showDayShort } from "../dates.ts";
import { useDesk } from "../desk-store.ts";
import { Badge } from "../parts/badge.tsx";
import type { Tone } from "../parts/tone.ts";
import { places, useHref } from "../place.ts";
import { leagueWords } from "../words/league.ts";
import type { SlotStatus, SlotView } from "./slots.ts";
import { ownClub, tallyOf, viewSlots } from "./slots.ts";

export const clubNameIn =
  (league: Pick<Book, "state">) =>
  (club: KeyId): string =>
    league.state().clubs.get(club)?.name ?? leagueWords.clubUnknown(club);

export const statusTone: Readonly<Record<SlotStatus["type"], Tone>> = {
  "not-reported": "plain",
  "one-club": "info",
  agreed: "good",
  differs: "warn",
  ruled: "info",
  void: "plain",
};

export function FixtureList({ league }: { readonly league: Book }) {
  const own = ownClub(league);
  const fixtures = [...league.state().fixtures.values()].sort(
    (a, b) => byCodeUnits(a.date, b.date) || byCodeUnits(a.fixture, b.fixture),
  );
  if (fixtures.length === 0) return <p>{leagueWords.noFixtures}</p>;
  const isOurs = ({ home, away }: Fixture): boolean => home === own || away === own;
  const ours = fixtures.filter(isOurs);
  const others = fixtures.filter((fixture) => !isOurs(fixture));
  if (ours.length === 0) return <Fixtures league={league} fixtures={others} />;
  return (
    <>
      <h3>{leagueWords.ours}</h3>
      <Fixtures league={league} fixtures={ours} />
      {others.length > 0 && (
        <details class="other-fixtures">
          <summary>{leagueWords.others}</summary>
          <Fixtures league={league} fixtures={others} />
        </details>
      )}
    </>
  );
}

function Fixtures({ league, fixtures }: { readonly league: Book; readonly fixtures: readonly Fixture[] }) {
  const href = useHref();
  const today = useDesk().today();
  const nameOf = clubNameIn(league);
  return (
    <ol class="fixtures">
      {fixtures.map((fixture) => {
        const slots = viewSlots(league, fixture);
        const ahead = fixture.date > today && slots.every(({ match }) => match === null);
        return (
          <li key={fixture.fixture} class="fixture">
            <p class="fixture-head">
              <span class="fixture-day">{showDayShort(fixture.date)}</span>{" "}
              <a href={href(`${places.league}/${league.id}/${fixture.fixture}`)}>
                {leagueWords.versus(nameOf(fixture.home), nameOf(fixture.away))}
              </a>
            </p>
            {ahead ? (
              <p class="quiet">{leagueWords.ahead(fixture.date)}</p>
            ) : (
              <>
                <p>{leagueWords.tally(tallyOf(league, fixture, slots), nameOf(fixture.home), nameOf(fixture.away))}</p>
                <Standings slots={slots} own={ownClub(league)} nameOf={nameOf} />
              </>
            )}
          </li>
        );
      })}
    </ol>
  );
}

interface StandingsProps {
  readonly slots: readonly SlotView[];
  readonly own: KeyId | null;
  readonly nameOf: (club: KeyId) => string;
}

/** "3 agreed, 1 differs: held": the same words are counted together. */
function Standings({ slots, own, nameOf }: StandingsProps) {
  const counted = new Map<string, { tone: Tone; numbers: number[] }>();
  for (const { number, status } of slots) {
    const words = leagueWords.status(status, own, nameOf);
    const held = counted.get(words) ?? { tone: statusTone[status.type], numbers: [] };
    held.numbers.push(number);
    counted.set(words, held);
  }
  return (
    <p class="row">
      {[...counted].map(([words, { tone, numbers }]) => (
        <Badge key={words} tone={tone}>
          {leagueWords.counted(numbers.length, words)}
        </Badge>
      ))}
    </p>
  );
}
