import type { Match } from "@sward/core";
import { expect, test } from "vitest";
import type { Book } from "../../support/cast.ts";
import { clubs, fixture, keyOfMatch, league, played } from "../../support/cast.ts";
import { stateOf } from "../../support/state-text.ts";

const theMatch = (book: Book): Match => {
  const [match, ...others] = stateOf(book).matches.values();
  if (match === undefined || others.length > 0) throw new Error("not one match");
  return match;
};

/** A match two recorders report differently. */
function dispute(who = "ada 7") {
  const { north } = clubs("north");
  const other = north.handicapper.admits("telephone", "recorder");
  const ada = north.member("ada", 7);
  const won = north.recorder.reports(played("2026-05-01", who, "ben 9", "7-4"));
  const lost = other.reports(played("2026-05-01", who, "ben 9", "4-7"));
  const key = keyOfMatch(played("2026-05-01", who, "ben 9", "7-4"));
  const index = () => stateOf(north).cards.get(ada)?.index;
  return { north, other, ada, won, lost, key, index };
}

test("MA9 a ruling accepts one of the reports, which then counts", () => {
  const { north, lost, key, index } = dispute();
  const ruling = north.handicapper.rules(key, lost);
  expect(theMatch(north)).toMatchObject({ status: "ruled", ruling: ruling.id, differs: ["games"] });
  expect(theMatch(north).reports).toHaveLength(2);
  expect(index()).toBe(1340);
  north.handicapper.withdraws(ruling);
  expect(theMatch(north).status).toBe("held");
  expect(index()).toBe(1350);
});

test("MA9 or none, and the match moves nothing", () => {
  const { north, key, index } = dispute();
  north.handicapper.rules(key, null);
  expect(theMatch(north)).toMatchObject({ status: "void", facts: null });
  expect(index()).toBe(1350);
});

test("MA9 the accepted report may have been corrected or withdrawn since", () => {
  const { north, other, won, lost, key, index } = dispute();
  north.handicapper.rules(key, lost);
  const corrected = other.reports(played("2026-05-01", "ada 7", "ben 9", "3-7"), lost);
  expect(theMatch(north)).toMatchObject({ status: "ruled" });
  expect(theMatch(north).facts?.games[0]?.score.toSorted()).toEqual([4, 7]);
  north.handicapper.withdraws(won);
  other.withdraws(corrected);
  other.withdraws(lost);
  expect(theMatch(north).reports.map(({ entry }) => entry)).toEqual([lost.id]);
  expect(index()).toBe(1340);
});

test("MA9 AU22 of several rulings an author's last holds", () => {
  const { north, won, lost, key } = dispute();
  for (const accepted of [won, lost, null, won, null, lost]) {
    const ruling = north.handicapper.rules(key, accepted);
    expect(theMatch(north).ruling).toBe(ruling.id);
  }
});

test("MA10 a ruling is about the match of the report it accepts; of a refused one, about none", () => {
  const { north, other, won, key } = dispute();
  const elsewhere = north.recorder.reports(played("2026-06-01", "ada 7", "ben 9", "7-4"));
  north.handicapper.rules(key, elsewhere);
  const statuses = () => [...stateOf(north).matches.values()].map(({ status, facts }) => [status, facts?.date]).sort();
  expect(statuses()).toEqual([
    ["held", undefined],
    ["ruled", "2026-06-01"],
  ]);
  const refused = other.reports(played("2026-05-01", "ada 7", "ben 9", "7-6"), won);
  north.root.rules(key, refused);
  expect(statuses()[0]).toEqual(["held", undefined]);
});

test("MA10 a club cannot rule alone on a match of its league", () => {
  const { north, south } = clubs("north", "south");
  const { league: book, captains } = league("border", { north, south });
  const slot = { fixture: fixture("first"), number: 1 };
  const match = (score: string) => played("2026-05-01", "ada 7", "ben 9", score, { occasion: "league", slot });
  const [ours, theirs] = [captains.north.reports(match("7-4")), captains.south.reports(match("4-7"))];
  for (const one of [ours, theirs]) north.recorder.carries(one);
  const key = keyOfMatch(match("7-4"));
  north.handicapper.rules(key, ours);
  north.handicapper.rules(key, null);
  expect(theMatch(north).status).toBe("held");

  // Nor by writing the match down in its own book as well.
  const own = north.recorder.reports(match("7-4"));
  north.handicapper.rules(key, own);
  north.handicapper.rules(key, null);
  expect(theMatch(north).status).toBe("held");

  const ruling = book.root.rules(key, theirs);
  expect(theMatch(book).status).toBe("ruled");
  north.handicapper.carries(ruling);
  expect(theMatch(north)).toMatchObject({ status: "ruled", ruling: ruling.id });
});

test("MA10 a league's void ruling is carried too; one of a third book binds nothing", () => {
  const { north, south, east } = clubs("north", "south", "east");
  const { captains, league: book } = league("border", { north, south });
  const match = (score: string) => played("2026-05-01", "ada 7", "ben 9", score, { occasion: "league" });
  for (const one of [captains.north.reports(match("7-4")), captains.south.reports(match("4-7"))]) {
    north.recorder.carries(one);
  }
  north.handicapper.carries(east.root.rules(keyOfMatch(match("7-4")), null));
  expect(theMatch(north).status).toBe("held");
  north.handicapper.carries(book.root.rules(keyOfMatch(match("7-4")), null));
  expect(theMatch(north).status).toBe("void");
});

test("MA12 after a link two matches are one: agreed, or held; and two again when it is withdrawn", () => {
  for (const [score, status] of [
    ["7-4", "confirmed"],
    ["4-7", "held"],
  ] as const) {
    const { north } = clubs("north");
    const other = north.handicapper.admits("telephone", "recorder");
    const ada = north.member("ada", 7);
    north.recorder.joins("vera", "visitor");
    north.recorder.reports(played("2026-05-01", "ada 7", "ben 9", "7-4"));
    other.reports(played("2026-05-01", "ben 9", "vera 7", score.split("-").reverse().join("-")));
    expect([...stateOf(north).matches.values()].map((one) => one.status)).toEqual(["one-report", "one-report"]);
    const link = north.handicapper.links("vera", "ada");
    expect(theMatch(north).status).toBe(status);
    expect(stateOf(north).cards.get(ada)?.index).toBe(status === "held" ? 1350 : 1360);
    north.handicapper.withdraws(link);
    expect(stateOf(north).matches.size).toBe(2);
    expect(stateOf(north).cards.get(ada)?.index).toBe(1360);
  }
});

test("MA12 a ruling made before a link follows the match, whichever it accepted", () => {
  for (const pick of ["won", "lost", "none"] as const) {
    const { north, won, lost, key } = dispute("vera 7");
    north.handicapper.rules(key, pick === "none" ? null : { won, lost }[pick]);
    const status = pick === "none" ? "void" : "ruled";
    expect(theMatch(north).status).toBe(status);
    const link = north.handicapper.links("vera", "ada");
    expect(theMatch(north).status).toBe(status);
    expect(theMatch(north).key).not.toBe(key);
    north.handicapper.withdraws(link);
    expect(theMatch(north)).toMatchObject({ status, key });
  }
});

test("MA12 one made while linked still holds for the report it accepted when the link is withdrawn", () => {
  const { north, won } = dispute("vera 7");
  const link = north.handicapper.links("vera", "ada");
  north.handicapper.rules(theMatch(north).key, won);
  expect(theMatch(north).status).toBe("ruled");
  north.handicapper.withdraws(link);
  expect(theMatch(north).status).toBe("ruled");
});
