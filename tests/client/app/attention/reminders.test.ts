/** Newcomers to look at again and cards without a game for a year, found in real books. */
import { atOnce, bodies, findRuleSet } from "@sward/core";
import { expect, test } from "vitest";
import { groupMatters } from "../../../../packages/client/src/app/attention/groups.ts";
import { idleCards } from "../../../../packages/client/src/app/attention/idle.ts";
import type { FoundersMatter } from "../../../../packages/client/src/app/attention/newcomers.ts";
import { foundersDrafts, newcomersDue } from "../../../../packages/client/src/app/attention/newcomers.ts";
import { findingReminders } from "../../../../packages/client/src/app/attention/reminders.ts";
import { monthsBefore } from "../../../../packages/client/src/app/dates.ts";
import { rowsOfCard } from "../../../../packages/core/src/replay/card-lines.ts";
import type { Club } from "../../../support/cast.ts";
import { clubs, played, player } from "../../../support/cast.ts";

const england = findRuleSet("england-2016")!;
const found = (north: Club, today = "2026-06-30") => newcomersDue(north.state().cards.values(), today, () => england);
const due = (north: Club, today?: string) =>
  found(north, today).flatMap((one) => (one.about === "newcomer" ? [[one.player, one.games, one.won]] : []));
const foundersIn = (north: Club): FoundersMatter | undefined =>
  found(north).find((one): one is FoundersMatter => one.about === "founders");

/** Founders, a first game, and Ivy, who began after it off the starting table. */
function withNewcomer() {
  const { north } = clubs("north");
  north.member("ada", 7, { from: "2026-04-01" });
  north.member("ben", 9, { from: "2026-04-01" });
  north.member("ivy", 11, { from: "2026-05-01" });
  north.recorder.reports(played("2026-04-10", "ada 7", "ben 9", "7-4"));
  const play = (day: number, score: string, more = {}): void => {
    north.recorder.reports(played(`2026-05-${String(day).padStart(2, "0")}`, "ivy 11", "ben 9", score, more));
  };
  return { north, play };
}

test("a newcomer is asked about from the fifth game that counts, with how many were won", () => {
  const { north, play } = withNewcomer();
  for (const day of [2, 3, 4]) play(day, "7-3");
  play(5, "3-7");
  // Neither of these counts: an ad-hoc game, and one that was abandoned.
  play(6, "7-2", { occasion: "ad-hoc" });
  play(7, "5-5a");
  expect(due(north)).toEqual([]);
  play(8, "7-6");
  expect(due(north)).toEqual([[player("ivy"), 5, 4]]);
  const desk = { club: { id: north.id, device: north.handicapper.id, state: () => north.state() }, leagues: [] };
  const reminders = atOnce(findingReminders(north.state(), "2026-06-30"));
  const group = groupMatters(desk, "2026-06-30", [], [], reminders).find(({ name }) => name === "reviews");
  // Ben has played them all, from the start of the record on.
  expect(group?.matters.map(({ about }) => about)).toEqual(["newcomer", "founders"]);
  expect(group?.matters[0]).toMatchObject({
    about: "newcomer",
    plan: { upto: "2026-05-08", handicap: 11, index: 1180 },
  });
});

test("cards are read for it one in a step", () => {
  const { north } = withNewcomer();
  const state = north.state();
  const finding = findingReminders(state, "2026-06-30");
  let steps = 0;
  while (finding.next().done !== true) steps += 1;
  expect(steps).toBeGreaterThanOrEqual(state.cards.size);
});

test("looked at is a signature after five games or a handicap set since, and an earlier signature is not enough", () => {
  const { north, play } = withNewcomer();
  for (const day of [2, 3, 4, 5]) play(day, "7-3");
  north.handicapper.signs("ivy", "2026-05-05");
  for (const day of [6, 7]) play(day, "7-3");
  expect(due(north)).toHaveLength(1);
  const signed = north.handicapper.signs("ivy", "2026-05-06");
  expect(due(north)).toEqual([]);
  north.handicapper.withdraws(signed);
  expect(due(north)).toHaveLength(1);
  north.handicapper.sets("ivy", 9, "2026-05-20");
  expect(due(north)).toEqual([]);
});

test("a signature of the fifth game's own day, made before that game came, is not a look at it", () => {
  const { north, play } = withNewcomer();
  for (const day of [2, 3, 4, 5]) play(day, "7-3", { start: "10:00" });
  north.handicapper.signs("ivy", "2026-05-05");
  play(5, "7-3", { n: 2, start: "15:00" });
  expect(due(north)).toHaveLength(1);
});

test("games that do not count do not make up the five a signature must have seen", () => {
  const { north, play } = withNewcomer();
  for (const day of [2, 3, 4]) play(day, "7-3");
  for (const day of [5, 6, 7]) play(day, "7-2", { occasion: "ad-hoc" });
  north.handicapper.signs("ivy", "2026-05-07");
  for (const day of [8, 9]) play(day, "7-3");
  expect(due(north)).toHaveLength(1);
});

test("no newcomer: who was written down before the first game, and who came with an index of a card kept elsewhere", () => {
  const { north, play } = withNewcomer();
  north.member("jo", 8, { from: "2026-05-01", index: 1340 });
  for (const day of [2, 3, 4, 5, 6]) play(day, "3-7");
  for (const day of [12, 13, 14, 15, 16]) {
    north.recorder.reports(played(`2026-05-${day}`, "jo 8", "ada 7", "7-3"));
  }
  // A game from long before anybody's start does not count, and makes nobody a newcomer.
  north.recorder.reports(played("2025-07-01", "ada 7", "ben 9", "7-4"));
  expect(due(north).map(([who]) => who)).toEqual([player("ivy")]);
});

test("who began with the record is asked about in one question: those on a trigger point whose start nobody has looked at", () => {
  const { north } = clubs("north");
  north.member("ada", 7, { from: "2026-04-01" });
  north.member("ben", 9, { from: "2026-04-01" });
  // A card of long standing: its index is no trigger point.
  north.member("cy", 8, { from: "2026-04-01", index: 1340 });
  north.member("dan", 12, { from: "2026-04-01" });
  for (const day of [2, 3, 4, 5]) north.recorder.reports(played(`2026-04-0${day}`, "ada 7", "ben 9", "7-4"));
  expect(foundersIn(north)).toBeUndefined();
  for (const day of [6, 7]) north.recorder.reports(played(`2026-04-0${day}`, "ada 7", "ben 9", "7-4"));
  north.recorder.reports(played("2026-04-08", "ben 9", "cy 8", "7-4"));
  const asked = (): unknown => foundersIn(north)?.founders.map((one) => [one.player, one.games, one.won]);
  expect(asked()).toEqual([
    [player("ben"), 7, 1],
    [player("ada"), 6, 6],
  ]);
  const desk = { club: { id: north.id, device: north.handicapper.id, state: () => north.state() }, leagues: [] };
  const reminders = atOnce(findingReminders(north.state(), "2026-06-30"));
  const groups = groupMatters(desk, "2026-06-30", [], [], reminders);
  expect(groups.find(({ name }) => name === "reviews")?.matters).toHaveLength(1);

  // Set anew, as for a beginner: asked about no more.
  const set = north.handicapper.sets("ada", 5, "2026-04-20");
  expect(asked()).toEqual([[player("ben"), 7, 1]]);
  north.handicapper.withdraws(set);
  // None of them: one signature each, of the start alone. Pens of the cast write on 1 May 2026, after the fifth game.
  const drafts = foundersDrafts(foundersIn(north)!);
  expect(drafts.map(({ body }) => body)).toMatchObject([
    { player: player("ben"), upto: "2026-04-01", handicap: 9, lines: 1 },
    { player: player("ada"), upto: "2026-04-01", handicap: 7, lines: 1 },
  ]);
  for (const { kind, body } of drafts) north.handicapper.writes(kind, body);
  expect(foundersIn(north)).toBeUndefined();
});

test("a card without a game for a year is asked about once a year, and not once the member has left", () => {
  const { north } = clubs("north");
  north.member("ada", 7, { from: "2024-04-01" });
  north.member("ben", 9, { from: "2024-04-01" });
  north.recorder.reports(played("2025-03-10", "ada 7", "vic 5", "7-3"));
  const idle = (today: string) => idleCards(north.state(), today).map((one) => [one.player, one.since, one.played]);
  expect(idle("2026-03-09")).toEqual([[player("ben"), "2024-04-01", false]]);
  expect(idle("2026-03-10")).toEqual([
    [player("ben"), "2024-04-01", false],
    [player("ada"), "2025-03-10", true],
  ]);
  // Pens of the cast write on 1 May 2026: after Ada's year was over.
  north.handicapper.signs("ada", "2025-03-10");
  expect(idle("2026-05-02")).toEqual([[player("ben"), "2024-04-01", false]]);
  expect(idle("2027-04-30")).toEqual([[player("ben"), "2024-04-01", false]]);
  expect(idle("2027-05-01").map(([who]) => who)).toContain(player("ada"));
  const left = { player: player("ben"), on: "2026-05-01" };
  expect(bodies["player-left"].safeParse(left).success).toBe(true);
  north.handicapper.writes("player-left", left);
  expect(idle("2026-05-02")).toEqual([]);
});

test("a signature from before the year was over does not answer it", () => {
  const { north } = clubs("north");
  north.member("ada", 7, { from: "2025-04-01" });
  north.recorder.reports(played("2025-06-10", "ada 7", "vic 5", "7-3"));
  north.handicapper.signs("ada", "2025-06-10");
  // Signed on 1 May 2026, when Ada had been away for eleven months.
  expect(idleCards(north.state(), "2026-06-09")).toEqual([]);
  expect(idleCards(north.state(), "2026-06-10").map((one) => one.player)).toEqual([player("ada")]);
});

test("months before a day, at the ends of months and years", () => {
  expect(monthsBefore("2026-03-31", 1)).toBe("2026-02-28");
  expect(monthsBefore("2024-03-31", 1)).toBe("2024-02-29");
  expect(monthsBefore("2026-01-15", 2)).toBe("2025-11-15");
  expect(monthsBefore("2024-02-29", 12)).toBe("2023-02-28");
});

test("what is looked for makes a few lines of each card that was looked at, however long it is", () => {
  const made = (games: number): number => {
    const { north, play } = withNewcomer();
    for (let game = 0; game < games; game += 1) play(2 + (game % 20), "7-3", { n: 1 + Math.floor(game / 20) });
    for (const name of ["ada", "ben", "ivy"]) north.handicapper.signs(name, "2026-05-30");
    const state = north.state();
    const cards = [...state.cards.values()];
    const before = cards.map((card) => rowsOfCard(card).made);
    expect(newcomersDue(cards, "2026-06-30", () => england)).toEqual([]);
    expect(idleCards(state, "2026-06-30")).toEqual([]);
    return cards.reduce((sum, card, n) => sum + rowsOfCard(card).made - before[n]!, 0);
  };
  const few = made(20);
  expect(few).toBeGreaterThan(3 * 2);
  expect(made(200)).toBe(few);
});
