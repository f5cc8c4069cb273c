import type { EntryId } from "@sward/core";
import { findLeagueRules, viewProposals } from "@sward/core";
import { expect, test } from "vitest";
import type { Book, Pen } from "../../support/cast.ts";
import { clubs, player } from "../../support/cast.ts";
import { openSeason } from "./season.ts";

const read = (book: Book) => {
  const ledger = book.ledger();
  return viewProposals({ state: ledger.state(), counted: ledger.counted() });
};
const proposes = (by: Pen, name: string, handicap: number, on = "2026-05-10") =>
  by.writes("change-proposed", { player: player(name), handicap, on, reason: "watched at a match" });
const answers = (by: Pen, proposal: EntryId, accepts: boolean) =>
  by.writes("change-answered", { proposal, accepts, reason: "talked over" });

test("LG42 a proposal and the home club's answer are seen by both, and move nothing", () => {
  const season = openSeason(findLeagueRules("even-games")!);
  const proposal = proposes(season.captains.south, "north 1", 4);
  expect(read(season.book)).toMatchObject([
    { entry: proposal.id, player: player("north 1"), handicap: 4, club: season.keyOf("south"), answer: null },
  ]);
  const answer = answers(season.captains.north, proposal.id, true);
  expect(read(season.book)[0]?.answer).toEqual({
    entry: answer.id,
    accepts: true,
    reason: "talked over",
    by: season.captains.north.id,
    club: season.keyOf("north"),
    at: answer.entry.at,
  });
  expect(season.book.state().cards.size).toBe(0);
  season.captains.north.withdraws(answer);
  expect(read(season.book)[0]?.answer).toBeNull();
  season.captains.south.withdraws(proposal);
  expect(read(season.book)).toEqual([]);
});

test("LG43 nobody answers but the home club; for a player from outside the league, the league", () => {
  const season = openSeason(findLeagueRules("even-games")!);
  const ours = proposes(season.captains.south, "north 1", 4);
  answers(season.captains.south, ours.id, true);
  answers(season.captains.west, ours.id, true);
  answers(season.secretary, ours.id, false);
  expect(read(season.book)[0]?.answer).toBeNull();
  season.captains.south.joins("outsider", "visitor");
  const other = proposes(season.captains.south, "outsider", 9, "2026-05-11");
  answers(season.captains.south, other.id, true);
  expect(read(season.book)[1]?.answer).toBeNull();
  answers(season.secretary, other.id, false);
  expect(read(season.book)[1]?.answer).toMatchObject({ accepts: false, club: null });
});

test("LG42 LG43 in a club's book an event's recorder proposes and the handicapper answers; of answers an author's last", () => {
  const { north } = clubs("north");
  const ada = north.member("ada", 7);
  const later = proposes(north.recorder, "ada", 5, "2026-06-10");
  const earlier = proposes(north.recorder, "ada", 6);
  answers(north.recorder, later.id, true);
  answers(north.handicapper, later.id, true);
  answers(north.handicapper, later.id, false);
  expect(read(north).map(({ entry, answer }) => [entry, answer?.accepts])).toEqual([
    [earlier.id, undefined],
    [later.id, false],
  ]);
  expect(north.card(ada).handicap).toBe(7);
});
