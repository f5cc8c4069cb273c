import type { BookState } from "@sward/core";
import { byCodeUnits } from "@sward/core";
import { expect, test } from "vitest";
import { Club, clubs, keyOfMatch, league, played, player } from "../../support/cast.ts";
import { stateOf, stateText } from "../../support/state-text.ts";

const ids = (...names: string[]) => names.map(player).sort();

test("PE1 a player has joined as a member or a visitor, and who joined as both is a member", () => {
  const { north } = clubs("north");
  north.recorder.joins("vera", "visitor");
  north.handicapper.joins("mona", "member");
  north.recorder.joins("both", "visitor");
  const joined = north.handicapper.joins("both", "member");
  const { players } = stateOf(north);
  expect(["vera", "mona", "both"].map((name) => players.get(player(name))?.standing)).toEqual([
    "visitor",
    "member",
    "member",
  ]);
  north.handicapper.withdraws(joined);
  expect(stateOf(north).players.get(player("both"))?.standing).toBe("visitor");
});

test("PE2 a member who left keeps the card, and may come back", () => {
  const { north } = clubs("north");
  const ada = north.member("ada", 7);
  north.recorder.reports(played("2026-05-01", "ada 7", "ben 9", "7-4"));
  const left = north.handicapper.writes("player-left", { player: ada, on: "2026-06-01" });
  expect(stateOf(north).players.get(ada)?.standing).toBe("left");
  expect(stateOf(north).cards.get(ada)?.index).toBe(1360);
  north.handicapper.withdraws(left);
  expect(stateOf(north).players.get(ada)?.standing).toBe("member");
});

test("PE2 a visitor does not leave", () => {
  const { north } = clubs("north");
  north.recorder.joins("vera", "visitor");
  north.handicapper.writes("player-left", { player: player("vera"), on: "2026-06-01" });
  north.handicapper.writes("player-left", { player: player("nobody"), on: "2026-06-01" });
  expect([...stateOf(north).players.values()].map(({ standing }) => standing)).toEqual(["visitor"]);
});

test("PE3 a player's home is the one given, a member's else this book", () => {
  const { north, south } = clubs("north", "south");
  north.handicapper.joins("mona");
  north.recorder.joins("vera", "visitor");
  north.recorder.joins("wilma", "visitor", { club: "a club by the sea" });
  north.recorder.joins("xenia", "visitor", { book: south.id });
  const { players } = stateOf(north);
  expect(["mona", "vera", "wilma", "xenia"].map((name) => players.get(player(name))?.home)).toEqual([
    { book: north.id },
    null,
    { club: "a club by the sea" },
    { book: south.id },
  ]);
});

test("PE4 linked ids are one person, known by the id every link leads to", () => {
  const { north } = clubs("north");
  north.member("ada", 7);
  north.recorder.joins("a visitor", "visitor");
  north.recorder.joins("another visitor", "visitor");
  north.handicapper.links("a visitor", "another visitor");
  north.handicapper.links("another visitor", "ada");
  const { players } = stateOf(north);
  expect([...players.values()]).toEqual([
    {
      player: player("ada"),
      standing: "member",
      home: { book: north.id },
      alsoKnownAs: ids("a visitor", "another visitor"),
    },
  ]);
});

test("PE4 a link of an id to itself is none", () => {
  const { north } = clubs("north");
  north.member("ada", 7);
  north.handicapper.links("ada", "ada");
  expect(stateOf(north).players.get(player("ada"))?.alsoKnownAs).toEqual([]);
});

test("PE5 where links disagree or run in a ring the lowest id is the person's", () => {
  const [first, second, third] = ["ada", "ben", "cat"].sort((a, b) => byCodeUnits(player(a), player(b))) as [
    string,
    string,
    string,
  ];
  for (const links of [
    [
      [first, second],
      [first, third],
    ],
    [
      [second, first],
      [second, third],
    ],
    [
      ["ada", "ben"],
      ["ben", "cat"],
      ["cat", "ada"],
    ],
    [
      ["ada", "ben"],
      ["ben", "ada"],
      ["cat", "ben"],
    ],
  ]) {
    const { north } = clubs("north");
    for (const name of ["ada", "ben", "cat"]) north.member(name, 7);
    for (const [from, to] of links) north.handicapper.links(from!, to!);
    const [lowest, ...others] = ids("ada", "ben", "cat");
    expect([...stateOf(north).players.values()]).toMatchObject([{ player: lowest, alsoKnownAs: others }]);
  }
});

test("PE6 a link withdrawn leaves everything as if it had never been", () => {
  const { north } = clubs("north");
  north.member("ada", 7);
  north.recorder.joins("vera", "visitor");
  north.recorder.reports(played("2026-05-01", "vera 7", "ben 9", "7-4"));
  north.recorder.reports(played("2026-05-01", "ada 7", "ben 9", "7-4"));
  north.handicapper.rules(keyOfMatch(played("2026-05-01", "vera 7", "ben 9", "7-4")), null);
  const before = stateOf(north);
  const link = north.handicapper.links("vera", "ada");
  expect(stateOf(north).matches.size).toBe(1);
  north.handicapper.withdraws(link);
  const after = stateOf(north);
  const without = (state: BookState): string =>
    stateText({
      ...state,
      entries: 0,
      devices: new Map(),
      fixtures: state.fixtures,
      stated: state.stated,
      questions: state.questions,
      uncounted: state.uncounted,
    });
  expect(without(after)).toBe(without(before));
});

test("PE7 settings, signatures and matches under any of a person's ids are that person's", () => {
  const { north } = clubs("north");
  const ada = north.member("ada", 7);
  north.recorder.joins("vera", "visitor");
  north.recorder.reports(played("2026-05-01", "vera 7", "ben 9", "7-4"));
  north.handicapper.sets("vera", 5, "2026-05-02");
  expect(stateOf(north).cards.get(ada)?.lines).toHaveLength(1);
  north.handicapper.links("vera", "ada");
  const { cards } = stateOf(north);
  expect([...cards.keys()]).toEqual([ada]);
  expect(cards.get(ada)?.lines.map(({ line, index, handicap }) => [line, index, handicap])).toEqual([
    ["set", 1350, 7],
    ["game", 1360, 7],
    ["set", 1500, 5],
  ]);
  north.handicapper.signs("ada", "2026-05-31");
  north.root.signs("ada", "2026-05-31", { player: player("vera") });
  expect(
    stateOf(north)
      .cards.get(ada)
      ?.signatures.map(({ standing }) => standing),
  ).toEqual(["holds", "holds"]);
});

test("PE7 statements too", () => {
  const { north } = clubs("north");
  const { league: book, captains } = league("border", { north });
  const stated = captains.north.writes("handicap-stated", {
    player: player("vera"),
    handicap: 6,
    index: 1400,
    on: "2026-05-01",
  });
  captains.north.links("vera", "ada");
  expect([...stateOf(book).stated.values()]).toEqual([
    {
      entry: stated.id,
      player: player("ada"),
      handicap: 6,
      index: 1400,
      on: "2026-05-01",
      by: captains.north.id,
      club: north.root.id,
    },
  ]);
});

test("PE8 a card needs a member, a first handicap and rules this version knows", () => {
  const { north } = clubs("north");
  north.handicapper.joins("mona");
  north.recorder.joins("vera", "visitor");
  north.recorder.reports(played("2026-05-01", "mona 7", "vera 9", "7-4"));
  north.handicapper.sets("vera", 7, "2026-01-01", { basis: "initial" });
  expect(stateOf(north).cards.size).toBe(0);
  north.handicapper.sets("mona", 7, "2026-01-01", { basis: "initial" });
  expect([...stateOf(north).cards.keys()]).toEqual([player("mona")]);

  const far = new Club("far", "rules-of-tomorrow");
  far.member("ada", 7);
  expect(stateOf(far).cards.size).toBe(0);
  far.root.adopts("england-2016", "2026-04-01");
  expect([...stateOf(far).cards.keys()]).toEqual([player("ada")]);
});
