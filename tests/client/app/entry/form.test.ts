import type { EntryId, MatchFacts, PlayerId } from "@sward/core";
import { expect, test } from "vitest";
import {
  addGame,
  correctionForm,
  dropGame,
  MOST_GAMES,
  newForm,
  nextForm,
  prefilled,
  withPairing,
  withScore,
  withSeat,
} from "../../../../packages/client/src/app/entry/form.ts";

const kept = { date: "2031-06-14", occasion: "league", event: null, play: "level", format: 7, doubles: false } as const;
const [bea, carl, dot, eli] = ["b", "c", "d", "e"].map((letter) => letter.repeat(22)) as unknown as PlayerId[] as [
  PlayerId,
  PlayerId,
  PlayerId,
  PlayerId,
];
const name = (player: PlayerId) => `name of ${player[0]}`;

test("the next match keeps day, occasion, play and length, and nothing else", () => {
  const filled = {
    ...withScore(withSeat(newForm(kept), 0, { text: "Bea", player: bea }), 0, 0, "4"),
    start: "10:30",
    excluded: true,
  };
  expect(nextForm(filled)).toEqual(newForm(kept));
});

test("handicaps follow the day until somebody writes one", () => {
  const seated = withSeat(withSeat(newForm(kept), 0, { player: bea }), 2, { player: carl, off: "5", offTyped: true });
  const form = prefilled(seated, (player, day) => (player === bea && day === "2031-06-14" ? -2 : null));
  expect(form.seats.map(({ off }) => off)).toEqual(["-2", "", "5", ""]);
  expect(prefilled({ ...form, date: "2031-06-01" }, () => null).seats[0].off).toBe("");
});

test("a match has one game at least and nine at most", () => {
  let form = newForm(kept);
  for (let game = 0; game < 12; game++) form = addGame(form);
  expect(form.games).toHaveLength(MOST_GAMES);
  for (let game = 0; game < 12; game++) form = dropGame(form, 0);
  expect(form.games).toEqual(newForm(kept).games);
});

test("picking other players asks anew whether it is the same match", () => {
  const answered = { ...newForm(kept), same: "further" as const, choice: 1 };
  expect(withSeat(answered, 0, { player: bea })).toMatchObject({ same: null, choice: 0 });
  expect(withSeat(answered, 0, { off: "5" }).same).toBe("further");
});

test("a pairing fills singles or doubles", () => {
  expect(withPairing(newForm(kept), [[bea], [carl]], name)).toMatchObject({ doubles: false });
  const doubles = withPairing(
    newForm(kept),
    [
      [bea, dot],
      [carl, eli],
    ],
    name,
  );
  expect(doubles.seats.map(({ player }) => player)).toEqual([bea, dot, carl, eli]);
  expect(doubles.doubles).toBe(true);
});

test("a report to correct comes back as it was typed: own side first, scores turned with it", () => {
  const facts: MatchFacts = {
    date: "2031-06-14",
    occasion: "club-competition",
    play: "handicap",
    format: 13,
    sides: [[{ player: dot, off: 3 }], [{ player: carl, off: 4 }]],
    games: [{ score: [7, 5] }, { score: [3, 6], ended: "time" }],
    excluded: false,
  };
  const entry = { id: "x".repeat(43) as EntryId, event: null, start: "14:00" };
  const form = correctionForm(facts, entry, (player) => player === carl, name);
  expect(form.seats[0]).toEqual({ text: name(carl), player: carl, off: "4", offTyped: true });
  expect(form.seats[2].player).toBe(dot);
  expect(form.games).toEqual([
    { score: ["5", "7"], ending: "played-out" },
    { score: ["6", "3"], ending: "time" },
  ]);
  expect(form).toMatchObject({ replaces: entry.id, start: "14:00", doubles: false });
  expect(correctionForm(facts, entry, () => true, name).seats[0].player).toBe(dot);
});
