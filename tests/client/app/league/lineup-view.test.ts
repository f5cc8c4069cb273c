/** A team being chosen, and what became of it: over real entries of a season. */
import type { NamedTeam, PlayerId } from "@sward/core";
import { findLeagueRules, readLeague } from "@sward/core";
import { expect, test } from "vitest";
import type { Candidate, TeamForm } from "../../../../packages/client/src/app/league/lineup-view.ts";
import {
  candidatesOf,
  change,
  changesOf,
  formOf,
  inOrder,
  seat,
  teamBody,
  withoutHandicap,
} from "../../../../packages/client/src/app/league/lineup-view.ts";
import { namedSides } from "../../../../packages/client/src/app/league/named-sides.ts";
import { lineup, nameOf, openSeason } from "../../../core/league/season.ts";
import { player } from "../../../support/cast.ts";

const one = (name: string, handicap: number | null): Candidate => ({
  player: player(name),
  stated: handicap === null ? null : ({ handicap } as Candidate["stated"]),
});
const [ann, ben, cat] = [one("ann", 8), one("ben", 3), one("cat", null)];
const players = (form: TeamForm): (PlayerId | null)[] => form.map(({ player: who }) => who);
const at = { fixture: "f" as never, club: "c" as never, replaces: null };

test("who is put in a place leaves the one he had, and comes off what is stated of him, or off nothing yet", () => {
  let form = seat(formOf(null, 3), 0, ann);
  form = seat(form, 1, ben);
  form = seat(form, 2, ann);
  expect(players(form)).toEqual([null, ben.player, ann.player]);
  expect(form[2]).toEqual({ player: ann.player, off: 8, reserve: false });
  form = seat(form, 0, cat);
  expect(withoutHandicap(form)).toEqual([cat.player]);
  expect(teamBody(form, at)).toBe(null);
  form = seat(change(form, 0, { off: 4 }), 1, null);
  expect(teamBody(form, at)?.players).toEqual([
    { player: cat.player, off: 4 },
    { player: ann.player, off: 8 },
  ]);
  expect(teamBody(formOf(null, 3), at)).toBe(null);
});

test("in order, the lowest handicap is first, empty places are last, and of one handicap nobody moves", () => {
  const form = [ann, null, one("dov", 3), ben].reduce<TeamForm>(
    (so, who, place) => seat(so, place, who),
    formOf(null, 4),
  );
  expect(players(inOrder(form))).toEqual([player("dov"), ben.player, ann.player, null]);
});

test("reserves and what is replaced are signed only where there are any", () => {
  const form = change(seat(formOf(null, 2), 0, ann), 0, { reserve: true });
  expect(teamBody(form, at)).toEqual({
    ...{ fixture: at.fixture, club: at.club },
    players: [{ player: ann.player, off: 8 }],
    reserves: [ann.player],
  });
  const again = formOf(
    { players: [{ player: ann.player, off: 7 }], reserves: [ann.player] } as unknown as NamedTeam,
    2,
  );
  expect(again).toEqual([
    { player: ann.player, off: 7, reserve: true },
    { player: null, off: null, reserve: false },
  ]);
  expect(teamBody(change(again, 0, { reserve: false }), { ...at, replaces: "e" as never })).toEqual({
    fixture: at.fixture,
    club: at.club,
    players: [{ player: ann.player, off: 7 }],
    replaces: "e",
  });
});

test("candidates are the club's own, by name, with the statement in force on the day; sides and changes are read from the book", () => {
  const season = openSeason(findLeagueRules("even-games")!);
  const day = season.sets("first", "2026-05-10", "north", "south");
  const captain = season.captains.north;
  for (const [on, handicap] of [
    ["2026-05-01", 3],
    ["2026-05-20", 9],
  ] as const)
    captain.writes("handicap-stated", { player: player("north 1"), handicap, index: 1000, on });
  const first = season.names(day, "north", [1, 2, 3, 4]);
  season.names(day, "south", [1, 2, 3, 4]);
  const seats = [1, 2, 3, 5].map((place) => lineup("north", place));
  captain.writes("lineup-named", { fixture: day.id, club: season.keyOf("north"), players: seats, replaces: first.id });

  // Another device of the club, which corrects nothing of the first one's; and one that is taken back.
  const other = season.roots.north;
  const again = [1, 3, 2, 6].map((place) => lineup("north", place));
  const body = { fixture: day.id, club: season.keyOf("north"), players: again };
  other.writesRaw({ kind: "lineup-named", body, at: "2099-01-01T00:00:00Z" });
  other.withdraws(season.names(day, "north", [4, 5, 6, 1], other));

  const ledger = season.book.ledger();
  const [state, counted] = [ledger.state(), [...ledger.counted()]];
  const reading = readLeague({ state, counted }, "2026-05-10");
  const north = { club: season.keyOf("north"), day: "2026-05-10" };
  const found = candidatesOf({ state: () => state }, reading.statements, north, (who) => who);
  expect(found.map((each) => each.player).sort()).toEqual(
    [1, 2, 3, 4, 5, 6].map((n) => player(nameOf("north", n))).sort(),
  );
  expect(found.find((each) => each.player === player("north 1"))?.stated?.handicap).toBe(3);

  const entries = counted.map(({ entry }) => entry);
  const changes = changesOf(entries, day.id, season.keyOf("north"));
  expect(changes.map(({ came, went, by }) => [came, went, by])).toEqual([
    [[player("north 5")], [player("north 4")], captain.id],
    [[player("north 6")], [player("north 5")], other.id],
  ]);
  expect(changesOf(entries, day.id, season.keyOf("south"))).toEqual([]);

  const fixture = state.fixtures.get(day.id)!;
  const sides = namedSides(reading, fixture);
  expect(sides.size).toBe(fixture.slots.length);
  const rule = season.rules.slots[0]!;
  expect(sides.get(1)).toEqual([
    rule.home.map((place) => seats[place - 1]),
    rule.away.map((place) => lineup("south", place)),
  ]);
  expect(namedSides(reading, { ...fixture, slots: fixture.slots.slice(1) }).size).toBe(0);
});
