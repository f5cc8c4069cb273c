/** The yearly check as a round: which cards, where it stands, what came of each. */
import type { Card, Counted, PlayerId } from "@sward/core";
import { expect, test } from "vitest";
import type { RoundStore } from "../../../../packages/client/src/app/check/kept-round.ts";
import { keepRound, readRound } from "../../../../packages/client/src/app/check/kept-round.ts";
import type { Round } from "../../../../packages/client/src/app/check/round.ts";
import {
  beginRound,
  cardsToCheck,
  findingsOf,
  linesToLookAt,
  moveTo,
  outcomeOf,
  playerOfSaved,
  tally,
  withNote,
} from "../../../../packages/client/src/app/check/round.ts";
import { findingWords } from "../../../../packages/client/src/app/words/check.ts";
import { clubs, played, player } from "../../../support/cast.ts";

const TODAY = "2026-06-30";
const [ada, ben, cat] = [player("ada"), player("ben"), player("cat")];

/** Pens of the cast write on 1 May 2026 from ten o'clock on, a minute for each entry. */
function threeCards() {
  const { north } = clubs("north");
  for (const [name, handicap] of [
    ["ada", 7],
    ["ben", 9],
    ["cat", 4],
  ] as const)
    north.member(name, handicap);
  north.handicapper.joins("vic", "visitor");
  north.handicapper.joins("moss");
  north.recorder.reports(played("2026-04-02", "ada 7", "ben 9", "7-4"));
  const names = new Map<PlayerId, string>([
    [ada, "Čil Wren"],
    [ben, "ben Linnet"],
    [cat, "Ada Thorley"],
  ]);
  const named = (id: PlayerId) => names.get(id) ?? "nobody";
  const order = (skip: 0 | 1 | 3, today = TODAY) =>
    cardsToCheck(north.state(), named, skip, today).map((one) => one.player);
  const card = (id: PlayerId): Card => north.card(id);
  return {
    north,
    order,
    card,
    round: beginRound(cardsToCheck(north.state(), named, 0, TODAY), "2026-05-01T09:00:00Z"),
  };
}

test("members' cards in the order of names; those signed lately are left out by choice, unless they changed since", () => {
  const { north, order } = threeCards();
  expect(order(0)).toEqual([cat, ben, ada]);
  expect(order(3)).toEqual([cat, ben, ada]);
  north.handicapper.signs("ada", "2026-04-02");
  expect(order(3)).toEqual([cat, ben]);
  expect(order(0)).toEqual([cat, ben, ada]);
  // Signed on 1 May: within a month up to the end of May.
  expect(order(1, "2026-05-31")).toEqual([cat, ben]);
  expect(order(1, "2026-06-01")).toEqual([cat, ben, ada]);
  north.recorder.reports(played("2026-05-05", "ada 7", "ben 9", "7-4"));
  expect(order(3)).toContain(ada);
  north.handicapper.writes("player-left", { player: ben, on: "2026-05-06" });
  expect(order(0)).toEqual([cat, ada]);
});

test("signed is read from the record, so a withdrawn signature opens the card again; a note leaves it for later", () => {
  const { north, round, card } = threeCards();
  expect(round).toMatchObject({ cards: [cat, ben, ada], at: 0, was: { [ada]: 7, [ben]: 9, [cat]: 4 } });
  expect(outcomeOf(round, ada, card(ada))).toBe("open");
  const signed = north.handicapper.signs("ada", "2026-04-02");
  expect(outcomeOf(round, ada, card(ada))).toBe("signed");
  expect(outcomeOf({ ...round, begun: "2026-05-02T00:00:00Z" }, ada, card(ada))).toBe("open");
  const counted = north.written.map(({ entry }) => ({ entry, origin: north.id })) as Counted[];
  expect(playerOfSaved(counted, [signed.id])).toBe(ada);
  expect(playerOfSaved(counted, [])).toBeNull();
  const noted = withNote(round, ben, "  watch in play ");
  expect(noted.notes).toEqual({ [ben]: "watch in play" });
  expect(tally(noted, north.state().cards)).toEqual({ signed: 1, left: 1, open: 1 });
  north.handicapper.withdraws(signed);
  expect(outcomeOf(noted, ada, card(ada))).toBe("open");
  expect(withNote(noted, ben, " ").notes).toEqual({});
  expect(outcomeOf(noted, player("gone"), undefined)).toBe("gone");
});

test("the round moves from its first card to the summary behind its last, and no further", () => {
  const { round } = threeCards();
  expect(moveTo(round, -1).at).toBe(0);
  expect(moveTo(round, 2).at).toBe(2);
  expect(moveTo(round, 9).at).toBe(3);
});

test("what stands out on a card", () => {
  const { north, card } = threeCards();
  const find = () => findingsOf(card(ada), north.state(), TODAY);
  expect(find()).toEqual({
    unsigned: [],
    touched: 0,
    playedOff: 0,
    games: 1,
    last: "2026-04-02",
    lastSigned: null,
    disputed: 0,
  });
  expect(findingWords(find())).toEqual([expect.stringContaining("1 game in 12 months")]);
  north.handicapper.signs("ada", "2026-04-02");
  north.recorder.reports(played("2026-03-20", "ada 6", "ben 9", "7-4"));
  for (let day = 10; day < 20; day++) north.recorder.reports(played(`2026-05-${day}`, "ada 7", "ben 9", "7-4"));
  north.recorder.reports(played("2026-06-02", "ada 5", "ben 9", "7-4"));
  north.handicapper.reports(played("2026-06-02", "ada 5", "ben 9", "4-7"));
  const found = find();
  // Once in March, and the seven games after Ada had become a 6 on 12 May.
  expect(found).toMatchObject({ touched: 1, playedOff: 8, disputed: 1, games: 12, lastSigned: { on: "2026-05-01" } });
  expect(found.unsigned.length).toBeGreaterThan(0);
  expect(findingWords(found)).toHaveLength(4);
});

test("lines to look at: all that no standing signature covers, and never fewer than the last few", () => {
  const { north, card } = threeCards();
  for (let day = 10; day < 16; day++) north.recorder.reports(played(`2026-05-${day}`, "ada 7", "ben 9", "3-7"));
  expect(linesToLookAt(card(ada), 3)).toHaveLength(8);
  north.handicapper.signs("ada", "2026-05-10");
  expect(linesToLookAt(card(ada), 3).map(({ date }) => date)[0]).toBe("2026-05-11");
  north.handicapper.signs("ada", "2026-05-15");
  expect(linesToLookAt(card(ada), 3)).toHaveLength(3);
});

test("a round is kept for this device and this book, and one that does not read is none", () => {
  const kept = new Map<string, string>();
  const store: RoundStore = {
    getItem: (key) => kept.get(key) ?? null,
    setItem: (key, value) => void kept.set(key, value),
    removeItem: (key) => void kept.delete(key),
  };
  const { north, round } = threeCards();
  const at: Round = withNote(moveTo(round, 2), ben, "watch");
  const device = north.handicapper.id;
  keepRound(store, device, north.id, at);
  expect(readRound(store, device, north.id)).toEqual(at);
  expect(readRound(store, north.recorder.id, north.id)).toBeNull();
  for (const broken of ["{", '{"begun":1}', JSON.stringify({ ...at, at: 4 })]) {
    kept.set([...kept.keys()][0]!, broken);
    expect(readRound(store, device, north.id)).toBeNull();
  }
  keepRound(store, device, north.id, null);
  expect([...kept]).toEqual([]);
});
