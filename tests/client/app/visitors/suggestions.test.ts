/** Who a visitor may be, with the reasons; and people written down with two homes. */
import { expect, test } from "vitest";
import { twoHomesIn } from "../../../../packages/client/src/app/visitors/homes.ts";
import { reasonsOf } from "../../../../packages/client/src/app/visitors/reasons.ts";
import { isLikely, isSameClub, suggestionsFor } from "../../../../packages/client/src/app/visitors/suggestions.ts";
import { clubs, league, played, player } from "../../../support/cast.ts";
import { deskOf, nameIn, seen } from "./cast-desk.ts";

function scene() {
  const { north, south } = clubs("north", "south");
  const { league: book, captains } = league("border", { north, south });
  for (const name of ["pip", "rae"]) captains.south.joins(name, "visitor", { book: south.id });
  north.member("ada", 7);
  north.recorder.joins("v1", "visitor", { club: "South CC" });
  north.recorder.reports(played("2026-05-01", "ada 7", "v1 6", "7-4"));
  const names = { ada: "Ada Wren", v1: "Pip  ROWAN", v2: "P Rowan", v3: "Ada Wren", v4: "Somebody Else" };
  const theirs = { pip: "Pip Rowan", rae: "Rae Bramble" };
  const desk = deskOf(seen(north, north.handicapper, names), seen(book, captains.north, theirs));
  const found = (visitor: string) => suggestionsFor(desk, nameIn(desk)).filter((one) => one.player === player(visitor));
  return { north, south, desk, found };
}

test("a visitor by name and club may be the league's player of that name and club", () => {
  const { found } = scene();
  expect(found("v1")).toEqual([
    { player: player("v1"), to: player("pip"), is: "league", club: "south", name: "same", sameClub: true, matches: 0 },
  ]);
  expect(found("v1").map(isLikely)).toEqual([true]);
  expect(found("v1").map(reasonsOf)).toEqual([["the same name", "the same club"]]);
});

test("games that look the same are a reason, wherever they were written, and go before a name that is like", () => {
  const { north, south, found } = scene();
  north.recorder.joins("v2", "visitor");
  north.recorder.reports(played("2026-05-02", "ada 7", "v2 6", "7-5"));
  expect(found("v2").map(({ to, name, matches }) => [to, name, matches])).toEqual(
    [
      [player("pip"), "like", 0],
      [player("v1"), "like", 0],
    ].sort(),
  );
  expect(found("v2").some(isLikely)).toBe(false);
  // South's slip of that game, which came by itself.
  north.recorder.carries(south.recorder.reports(played("2026-05-02", "ada 7", "pip 6", "7-5")));
  const [first] = found("v2");
  expect(first).toMatchObject({ to: player("pip"), name: "like", matches: 1, sameClub: null });
  expect(found("v2").map(isLikely)).toEqual([true, false]);
});

test("of two who are alike, the one with games in common goes first", () => {
  const { north, south, found } = scene();
  north.recorder.joins("v2", "visitor");
  north.recorder.reports(played("2026-05-02", "ada 7", "v2 6", "7-5"));
  const last = found("v2").at(-1)?.to;
  if (last === player("v1")) north.recorder.reports(played("2026-05-02", "ben 7", "v1 6", "7-5"));
  else north.recorder.carries(south.recorder.reports(played("2026-05-02", "ada 7", "pip 6", "7-5")));
  expect(found("v2")[0]).toMatchObject({ to: last, matches: 1 });
});

test("nobody is offered whom core would not link, and nobody who is linked already", () => {
  const { north, found } = scene();
  // Called as the member, and played against her: two people.
  north.recorder.joins("v3", "visitor", { club: "north" });
  expect(found("v3").map(({ to, is, sameClub }) => [to, is, sameClub])).toEqual([[player("ada"), "member", true]]);
  north.recorder.reports(played("2026-05-03", "ada 7", "v3 9", "7-5"));
  expect(found("v3")).toEqual([]);
  north.recorder.joins("v4", "visitor");
  expect(found("v4")).toEqual([]);
  north.handicapper.links("v1", "pip");
  expect(found("v1")).toEqual([]);
});

test("a club's name is the same with and without what clubs are called", () => {
  expect(isSameClub("Withy", "Withy Croquet Club")).toBe(true);
  expect(isSameClub("St Brannock's", "St. Brannocks")).toBe(true);
  expect(isSameClub("North Withy", "Withy")).toBe(true);
  expect(isSameClub("Withy", "Heronsgate")).toBe(false);
  expect(isSameClub("", "Withy")).toBe(false);
});

test("two home clubs are shown, the one that is taken first; one club by name and by book is one home", () => {
  const { north, south, desk } = scene();
  const homes = () => twoHomesIn(desk).map(({ player: who, homes: all }) => [who, all.map((each) => each[0]?.club)]);
  expect(homes()).toEqual([]);
  north.recorder.joins("pip", "visitor", { book: south.id });
  north.recorder.joins("pip", "visitor", { club: "South Croquet Club" });
  expect(homes()).toEqual([]);
  const wrong = north.recorder.joins("pip", "visitor", { club: "Harrow Green" });
  const taken = north.state().players.get(player("pip"))?.home;
  const [[who, names]] = homes() as [[string, (string | null)[]]];
  expect(who).toBe(player("pip"));
  expect(names).toHaveLength(2);
  expect(names).toContain("Harrow Green");
  expect(names[0] === "Harrow Green").toBe(taken?.club === "Harrow Green");
  north.handicapper.withdraws(wrong);
  expect(homes()).toEqual([]);
});

test("two entries of one person may have been written down with two homes, and who became a member has moved", () => {
  const { north, desk } = scene();
  north.recorder.joins("v2", "visitor", { club: "Harrow Green" });
  const link = north.handicapper.links("v2", "v1");
  expect(twoHomesIn(desk).map(({ player: who }) => who)).toEqual([player("v1")]);
  north.handicapper.withdraws(link);
  expect(twoHomesIn(desk)).toEqual([]);
  north.member("v1", 8);
  north.recorder.joins("v1", "visitor", { club: "Harrow Green" });
  expect(twoHomesIn(desk)).toEqual([]);
});
