/** Everything of the record that can be found: people, events and fixtures, with the address of each. Pure; names are handed in. */
import type { BookState, Day, PlayerId } from "@sward/core";
import { byCodeUnits, handicapInForce } from "@sward/core";
import { showDay } from "../dates.ts";
import { clubName } from "../entry/people.ts";
import { places } from "../place.ts";
import { occasionWords } from "../words/play.ts";
import { searchWords } from "../words/search.ts";
import { words } from "../words.ts";
import type { Thing } from "./find.ts";

export interface FindableBook {
  readonly id: Parameters<typeof places.fixture>[0];
  state(): BookState;
}

export interface FindableDesk {
  readonly club: FindableBook;
  readonly leagues: readonly FindableBook[];
}

export interface Names {
  readonly name: string;
  readonly short: string;
}

export const thingsOf = (desk: FindableDesk, named: (player: PlayerId) => Names, today: Day): readonly Thing[] => [
  ...people(desk, named, today),
  ...events(desk),
  ...desk.leagues.flatMap(fixtures),
];

function people({ club, leagues }: FindableDesk, named: (player: PlayerId) => Names, today: Day): readonly Thing[] {
  const { players, cards } = club.state();
  return [...players.values()].map(({ player, standing, home }): Thing => {
    const { name, short } = named(player);
    const card = cards.get(player);
    const away = standing === "visitor" ? clubName(home, leagues) : null;
    return {
      key: player,
      kind: standing,
      title: name,
      detail:
        standing === "member"
          ? searchWords.member(card === undefined ? null : handicapInForce(card, today).handicap)
          : standing === "left"
            ? searchWords.left
            : searchWords.visitor(away),
      also: short,
      goes: { to: "place", place: places.member(player) },
    };
  });
}

/** Latest first, of every book, each once: a league's event is in the club's book too when its reports were carried. */
function events({ club, leagues }: FindableDesk): readonly Thing[] {
  const found = new Map<string, Thing & { readonly from: Day }>();
  for (const book of [club, ...leagues]) {
    for (const [id, { title, occasion, from, to }] of book.state().events) {
      if (found.has(id)) continue;
      found.set(id, {
        key: id,
        kind: "event",
        title,
        detail: from === to ? showDay(from) : `${showDay(from)} – ${showDay(to)}`,
        also: `${occasionWords[occasion]} ${from.slice(0, 4)}`,
        goes: { to: "place", place: places.event(id) },
        from,
      });
    }
  }
  return [...found.values()].sort((a, b) => byCodeUnits(b.from, a.from));
}

function fixtures(league: FindableBook): readonly Thing[] {
  const { fixtures: all, clubs, name } = league.state();
  const club = (key: Parameters<typeof clubs.get>[0]): string => clubs.get(key)?.name ?? "";
  return [...all.values()]
    .sort((a, b) => byCodeUnits(b.date, a.date))
    .map(({ fixture, home, away, date }) => ({
      key: fixture,
      kind: "fixture",
      title: `${club(home)} ${words.versus} ${club(away)}`,
      detail: `${name}, ${showDay(date)}`,
      also: searchWords.fixtureAlso,
      goes: { to: "place", place: places.fixture(league.id, fixture) },
    }));
}
