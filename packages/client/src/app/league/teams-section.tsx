/** Who plays for the two clubs of a fixture, who named them and when, what was changed since, and the way to name ours. */
import type { FixtureId, KeyId, LeagueFixture, NamedTeam } from "@sward/core";
import { useMemo } from "preact/hooks";
import type { Book } from "../../book/book.ts";
import { listed } from "../../league/explained.ts";
import { deviceName, nameOf, version } from "../desk-store.ts";
import { rootTold } from "../devices/root-told.ts";
import { ButtonLink } from "../parts/button.tsx";
import { mayHere } from "../permission.ts";
import { useHref } from "../place.ts";
import { lineupWords as said } from "../words/lineup.ts";
import { clubNameIn } from "./fixture-list.tsx";
import { leaguePlaces } from "./league-places.ts";
import { changesOf } from "./lineup-view.ts";
import { useReading } from "./reading-here.ts";
import { ownClub } from "./slots.ts";
import "./lineup.css";

export function TeamsSection({ league, fixture: id }: { readonly league: Book; readonly fixture: FixtureId }) {
  const href = useHref();
  const fixture = useReading(league).league.fixtures.find((one) => one.fixture === id);
  if (fixture === undefined) return null;
  const nameOfClub = clubNameIn(league);
  const own = ownClub(league);
  const mayName = mayHere(league, "lineup-named");
  return (
    <section class="lineup-teams" aria-label={said.teams}>
      <h2>{said.teams}</h2>
      <div class="lineup-both">
        {([fixture.home, fixture.away] as const).map((club, side) => {
          const team = fixture.teams[side === 0 ? 0 : 1];
          const isOurs = own === null || own === club;
          return (
            <div key={club} class="lineup-one">
              <h3>{nameOfClub(club)}</h3>
              {team === null ? <p class="quiet">{said.notNamed}</p> : <Team league={league} team={team} />}
              <Changes league={league} fixture={fixture} club={club} />
              {isOurs && mayName && (
                <p>
                  <ButtonLink href={href(leaguePlaces.team(league.id, id), { club })}>
                    {(team === null ? said.name : said.change)(nameOfClub(club))}
                  </ButtonLink>
                </p>
              )}
            </div>
          );
        })}
      </div>
    </section>
  );
}

function Team({ league, team }: { readonly league: Book; readonly team: NamedTeam }) {
  return (
    <>
      <ol class="lineup-players">
        {team.players.map(({ player, off }) => (
          <li key={player}>
            {said.off(nameOf(player), off)}
            {team.reserves.includes(player) && <span class="quiet"> {said.reserve}</span>}
          </li>
        ))}
      </ol>
      <p class="quiet small">{said.namedBy(rootTold(league, team.by) ?? deviceName(team.by), team.at)}</p>
    </>
  );
}

interface ChangesProps {
  readonly league: Book;
  readonly fixture: LeagueFixture;
  readonly club: KeyId;
}

function Changes({ league, fixture, club }: ChangesProps) {
  const changes = useMemo(
    () =>
      changesOf(
        [...league.counted()].map(({ entry }) => entry),
        fixture.fixture,
        club,
      ),
    [league, fixture.fixture, club, version.value],
  );
  if (changes.length === 0) return null;
  return (
    <details>
      <summary>{said.changed.title(changes.length)}</summary>
      <ul>
        {changes.map(({ at, by, came, went }) => (
          <li key={at + by}>
            {said.changed.line(rootTold(league, by) ?? deviceName(by), at)}:{" "}
            {changeTold(came.map(nameOf), went.map(nameOf))}
          </li>
        ))}
      </ul>
    </details>
  );
}

function changeTold(came: readonly string[], went: readonly string[]): string {
  const told = [
    ...(came.length === 0 ? [] : [said.changed.came(listed(came))]),
    ...(went.length === 0 ? [] : [said.changed.went(listed(went))]),
  ];
  return told.length === 0 ? said.changed.onlyOrder : told.join("; ");
}
