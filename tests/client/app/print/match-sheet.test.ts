/** A match sheet: line-ups from the address or from a report, handicaps with where they are from, strokes for every way. */
import type { Fixture } from "@sward/core";
import { expect, test } from "vitest";
import type { ReadableDesk } from "../../../../packages/client/src/app/entry/reading.ts";
import { blankSheet, fixtureSheet, slotName, withSeat } from "../../../../packages/client/src/app/print/match-sheet.ts";
import { tokenOf } from "../../../../packages/client/src/app/print/wall-plan.ts";
import { clubInMemory } from "../entry/club-in-memory.ts";
import type { PaperLeague } from "../league/paper-league.ts";
import { DAY, paperLeague, slotReport } from "../league/paper-league.ts";

async function scene(): Promise<{ league: PaperLeague; desk: ReadableDesk; withDoubles: Fixture }> {
  const league = await paperLeague();
  const club = await clubInMemory([{ name: "Nobody Here", handicap: 9 }], { today: DAY });
  for (const [writer, name, handicap] of [
    ["north", "ann", 4],
    ["north", "abe", 9],
    ["south", "bob", 10],
    ["south", "bet", 7],
  ] as const) {
    const body = { player: league.players[name], handicap, index: 1000, on: "2031-05-01" };
    await league.write(writer, { kind: "handicap-stated", body });
  }
  const fixture = league.fixture();
  const doubles = { discipline: "doubles", play: "handicap", format: 13 } as const;
  return {
    league,
    desk: { club: club.book, leagues: [league.as("north")] },
    withDoubles: { ...fixture, slots: [...fixture.slots, doubles], matches: [...fixture.matches, null] },
  };
}

test("nothing reported, nothing chosen: every place is to be written by hand and no strokes are worked out", async () => {
  const { league, desk } = await scene();
  const [singles, level] = fixtureSheet(desk, league.as("north"), league.fixture(), {}, DAY);
  expect(singles?.sides.flat().map(({ player, handicap }) => [player, handicap])).toEqual([
    [null, null],
    [null, null],
  ]);
  expect([singles?.ways, level?.ways]).toEqual([null, null]);
});

test("line-ups from the address: handicaps as stated with their day, and every lawful way in doubles", async () => {
  const { league, desk, withDoubles } = await scene();
  const { ann, abe, bob, bet } = league.players;
  const query = {
    [slotName(1)]: `${tokenOf(ann)}..${tokenOf(bob)}.`,
    [slotName(3)]: [ann, abe, bob, bet].map(tokenOf).join("."),
  };
  const [singles, level, doubles] = fixtureSheet(desk, league.as("north"), withDoubles, query, DAY);
  expect(singles?.sides.flat().map(({ handicap, from }) => [handicap, from])).toEqual([
    [4, { type: "stated", on: "2031-05-01" }],
    [10, { type: "stated", on: "2031-05-01" }],
  ]);
  expect(singles?.ways).toEqual([[[0], [6]]]);
  expect(level?.ways).toBeNull();
  // 4 and 9 against 10 and 7: lowest against highest 10 - 4 = 6, half is 3; 9 - 7 = 2, half is 1. No halves, one way.
  // The pairing: Hassocks Croquet Club, Tournaments (Revised Rules), https://www.hassockscroquetclub.net/tournaments
  expect(doubles?.ways).toEqual([
    [
      [0, 1],
      [3, 0],
    ],
  ]);
});

test("a half for both partners of a pair is a choice of the pair: both ways are on the sheet", async () => {
  const { league, desk, withDoubles } = await scene();
  const { ann, abe, bob, bet } = league.players;
  await league.write("north", {
    kind: "handicap-stated",
    body: { player: abe, handicap: 2, index: 1800, on: "2031-05-02" },
  });
  // 4 and 2 against 10 and 7: 10 - 2 = 8, half 4; 7 - 4 = 3, half 1½ rounds up for one. 3 against 10 and 7 gives two halves:
  await league.write("north", {
    kind: "handicap-stated",
    body: { player: ann, handicap: 3, index: 1700, on: "2031-05-02" },
  });
  await league.write("south", {
    kind: "handicap-stated",
    body: { player: bet, handicap: 8, index: 1300, on: "2031-05-02" },
  });
  await league.write("south", {
    kind: "handicap-stated",
    body: { player: bob, handicap: 11, index: 1150, on: "2031-05-02" },
  });
  const query = { [slotName(3)]: [ann, abe, bob, bet].map(tokenOf).join(".") };
  const doubles = fixtureSheet(desk, league.as("north"), withDoubles, query, DAY)[2];
  // 11 - 2 = 9 and 8 - 3 = 5: 4½ and 2½, one of which rounds up.
  expect(doubles?.ways).toEqual([
    [
      [0, 0],
      [5, 2],
    ],
    [
      [0, 0],
      [4, 3],
    ],
  ]);
});

test("a reported match prints as it was played off; a line-up in the address stands before it", async () => {
  const { league, desk } = await scene();
  await league.write("north", slotReport(league, 1, [7, 3]));
  const [reported] = fixtureSheet(desk, league.as("north"), league.fixture(), {}, DAY);
  expect(reported?.sides.flat().map(({ handicap, from }) => [handicap, from.type])).toEqual([
    [8, "reported"],
    [5, "reported"],
  ]);
  expect(reported?.ways).toEqual([[[3], [0]]]);
  const query = { [slotName(1)]: `${tokenOf(league.players.abe)}...` };
  const [chosen] = fixtureSheet(desk, league.as("north"), league.fixture(), query, DAY);
  expect(chosen?.sides.flat().map(({ handicap }) => handicap)).toEqual([9, null]);
});

test("one seat changed in an address leaves the others, and a strange address breaks nothing", async () => {
  const { league, desk, withDoubles } = await scene();
  const { ann, bob, bet } = league.players;
  const query = { [slotName(3)]: `${tokenOf(ann)}..${tokenOf(bob)}.${tokenOf(bet)}`, [slotName(1)]: "....x..y.%" };
  const [strange, , doubles] = fixtureSheet(desk, league.as("north"), withDoubles, query, DAY);
  expect(strange?.sides.flat().every(({ player }) => player === null)).toBe(true);
  expect(withSeat(doubles!, 2, null)).toBe(`${tokenOf(ann)}...${tokenOf(bet)}`);
  expect(withSeat(doubles!, 1, bob)).toBe([ann, bob, bob, bet].map(tokenOf).join("."));
});

test("a blank sheet: singles first, then doubles with two places a side", () => {
  const slots = blankSheet({ singles: 2, doubles: 1, play: "handicap", format: 7 });
  expect(slots.map(({ number, discipline, sides }) => [number, discipline, sides.map((side) => side.length)])).toEqual([
    [1, "singles", [1, 1]],
    [2, "singles", [1, 1]],
    [3, "doubles", [2, 2]],
  ]);
});
