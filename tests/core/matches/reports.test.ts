import type { Match } from "@sward/core";
import { describe, expect, test } from "vitest";
import type { Book } from "../../support/cast.ts";
import { clubs, event, fixture, keyOfMatch, league, played } from "../../support/cast.ts";
import { stateOf } from "../../support/state-text.ts";

const theMatch = (book: Book): Match => {
  const [match, ...others] = stateOf(book).matches.values();
  if (match === undefined || others.length > 0) throw new Error("not one match");
  return match;
};

function pavilion() {
  const { north } = clubs("north");
  const other = north.handicapper.admits("telephone", "recorder");
  const ada = north.member("ada", 7);
  const index = () => stateOf(north).cards.get(ada)?.index;
  return { north, other, ada, index };
}

test("MA5 reports that agree count once, and two people's make the match confirmed", () => {
  const { north, other, index } = pavilion();
  const first = north.recorder.reports(played("2026-05-01", "ada 7", "ben 9", "7-4"));
  expect(theMatch(north)).toMatchObject({ status: "one-report", differs: [], ruling: null });
  expect(index()).toBe(1360);
  const again = north.recorder.reports(played("2026-05-01", "ben 9", "ada 7", "4-7"));
  expect(theMatch(north).status).toBe("one-report");
  const second = other.reports(played("2026-05-01", "ben 9", "ada 7", "4-7"));
  expect(theMatch(north).status).toBe("confirmed");
  expect(theMatch(north).reports.map(({ entry }) => entry)).toEqual([first.id, again.id, second.id].sort());
  expect(index()).toBe(1360);
});

test("MA5 in a league a party is a club: two devices of one club do not confirm", () => {
  const { north, south } = clubs("north", "south");
  const { league: book, captains } = league("border", { north, south });
  const match = played("2026-05-01", "ada 7", "ben 9", "7-4", { occasion: "league" });
  captains.north.reports(match);
  captains.north.admits("telephone", "recorder").reports(match);
  expect(theMatch(book).status).toBe("one-report");
  captains.south.reports(match);
  expect(theMatch(book).status).toBe("confirmed");
});

test("MA6 one party's report counts or waits, as the policy says", () => {
  const { north, other, index } = pavilion();
  north.recorder.reports(played("2026-05-01", "ada 7", "ben 9", "7-4"));
  north.handicapper.writes("policy-set", { unconfirmed: "waits" });
  expect(theMatch(north)).toMatchObject({ status: "waiting", facts: null });
  expect(index()).toBe(1350);
  other.reports(played("2026-05-01", "ada 7", "ben 9", "7-4"));
  expect(theMatch(north).status).toBe("confirmed");
  expect(index()).toBe(1360);
  north.handicapper.writes("policy-set", { unconfirmed: "counts" });
  expect(theMatch(north).status).toBe("confirmed");
});

describe("MA7 reports that differ are held", () => {
  const slot = { fixture: fixture("first"), number: 1 };
  const base = played("2026-05-01", "ada 7", "ben 9", "7-4", { slot });
  const others = {
    date: { ...base, date: "2026-05-02" },
    occasion: { ...base, occasion: "league" as const },
    play: { ...base, play: "level" as const },
    format: played("2026-05-01", "ada 7", "ben 9", "6-4t 7-4", { slot, format: 13 }),
    sides: played("2026-05-01", "ada 7", "cat 9", "7-4", { slot }),
    games: played("2026-05-01", "ada 7", "ben 9", "7-5", { slot }),
    excluded: { ...base, excluded: true as const },
  };
  test.each(Object.entries(others))("MA7 in %s", (fact, match) => {
    const { north, other, index } = pavilion();
    north.recorder.reports(base);
    other.reports(match);
    const held = theMatch(north);
    expect(held).toMatchObject({ status: "held", facts: null });
    expect(held.differs).toEqual(fact === "format" ? ["games"] : [fact]);
    expect(held.reports).toHaveLength(2);
    expect(index()).toBe(1350);
  });

  test("MA7 in format", () => {
    const { north, other } = pavilion();
    north.recorder.reports({ ...base, games: [{ score: [3, 3], ended: "time" }] });
    other.reports({ ...base, format: 7, games: [{ score: [3, 3], ended: "time" }] });
    expect(theMatch(north)).toMatchObject({ status: "held", differs: ["format"] });
  });

  test("MA7 in a handicap played off, in an ending, and all differences are named", () => {
    const { north, other } = pavilion();
    north.recorder.reports(base);
    other.reports(played("2026-05-01", "ada 6", "ben 9", "6-4t", { slot }));
    other.reports({ ...base, occasion: "league" });
    expect(theMatch(north).differs).toEqual(["games", "occasion", "sides"]);
  });

  test("MA7 one person's own two reports are held as well", () => {
    const { north } = pavilion();
    north.recorder.reports(base);
    north.recorder.reports({ ...base, games: [{ score: [7, 5] }] });
    expect(theMatch(north).status).toBe("held");
  });
});

test("MA8 when one side replaces its report the match counts, without being asked again", () => {
  const { north, other, index } = pavilion();
  north.recorder.reports(played("2026-05-01", "ada 7", "ben 9", "7-4"));
  const wrong = other.reports(played("2026-05-01", "ada 7", "ben 9", "4-7"));
  expect(stateOf(north).questions.map(({ about }) => about)).toEqual(["disputed-match"]);
  other.reports(played("2026-05-01", "ada 7", "ben 9", "7-4"), wrong);
  expect(theMatch(north)).toMatchObject({ status: "confirmed", differs: [] });
  expect(theMatch(north).reports).toHaveLength(2);
  expect(index()).toBe(1360);
  expect(stateOf(north).questions).toEqual([]);
});

test("MA8 a match held, then agreed, then of other players: each card follows", () => {
  const { north, other, ada, index } = pavilion();
  const cat = north.member("cat", 9);
  const slot = { fixture: fixture("first"), number: 1 };
  const mine = north.recorder.reports(played("2026-05-01", "ada 7", "ben 9", "7-4", { slot }));
  const wrong = other.reports(played("2026-05-01", "ada 7", "ben 9", "4-7", { slot }));
  const right = other.reports(played("2026-05-01", "ada 7", "ben 9", "7-4", { slot }), wrong);
  expect(index()).toBe(1360);
  other.reports(played("2026-05-01", "cat 9", "ben 9", "7-4", { slot }), right);
  expect(index()).toBe(1350);
  expect(theMatch(north).status).toBe("held");
  north.handicapper.withdraws(mine);
  const { cards } = stateOf(north);
  expect(cards.get(ada)?.lines).toHaveLength(1);
  expect(cards.get(cat)?.index).toBe(1260);
});

test("MA8 a counted match whose players are corrected leaves the card of the one who was not there", () => {
  const { north, ada } = pavilion();
  const cat = north.member("cat", 9);
  const slot = { fixture: fixture("first"), number: 1 };
  const first = north.recorder.reports(played("2026-05-01", "ada 7", "ben 9", "7-4", { slot }));
  const ledger = north.ledger();
  ledger.add([north.recorder.reports(played("2026-05-01", "cat 9", "ben 9", "7-4", { slot }), first)]);
  ledger.add([north.recorder.reports(played("2026-05-02", "ada 7", "ben 9", "7-4"))]);
  expect(
    ledger
      .state()
      .cards.get(ada)
      ?.lines.map(({ date }) => date),
  ).toEqual(["2026-01-01", "2026-05-02"]);
  expect(ledger.state().cards.get(cat)?.index).toBe(1260);
});

test("MA8 a report moved to another day leaves the day it was on", () => {
  const { north, ada } = pavilion();
  const report = north.recorder.reports(played("2026-05-01", "ada 7", "ben 9", "7-4"));
  north.recorder.reports(played("2026-05-08", "ada 7", "ben 9", "7-4"), report);
  expect(theMatch(north).facts?.date).toBe("2026-05-08");
  expect(stateOf(north).cards.get(ada)?.lines).toHaveLength(2);
});

test("MA11 event and starting time are the lowest given, and one person may leave them out", () => {
  const { north, other } = pavilion();
  const match = played("2026-05-01", "ada 7", "ben 9", "7-4");
  north.recorder.reports(match);
  expect(theMatch(north)).toMatchObject({ event: null, start: null });
  other.reports({ ...match, event: event("cup"), start: "14:00" });
  expect(theMatch(north)).toMatchObject({ status: "confirmed", event: event("cup"), start: "14:00" });
  north.handicapper.reports({ ...match, event: event("plate"), start: "09:30" });
  const [lowest] = [event("cup"), event("plate")].sort();
  expect(theMatch(north)).toMatchObject({ event: lowest, start: "09:30" });
});

test("MA11 where a ruling accepts a report, they are that report's", () => {
  const { north, other } = pavilion();
  const match = played("2026-05-01", "ada 7", "ben 9", "7-4");
  north.recorder.reports({ ...match, start: "09:00", event: event("cup") });
  const late = other.reports({ ...match, games: [{ score: [7, 5] }], start: "14:00" });
  north.handicapper.rules(keyOfMatch(match), late);
  expect(theMatch(north)).toMatchObject({ status: "ruled", start: "14:00", event: null });
});

test("MA13 a carried report's party is its author, and it shows the book it was written in", () => {
  const { north, south } = clubs("north", "south");
  const { league: book, captains } = league("border", { north, south });
  const match = played("2026-05-01", "ada 7", "ben 9", "7-4", { occasion: "league" });
  const reports = [captains.north, captains.south].map((pen) => pen.reports(match));
  for (const one of reports) north.recorder.carries(one);
  expect(theMatch(north).status).toBe("confirmed");
  expect(
    theMatch(north)
      .reports.map(({ origin, by }) => [origin, by])
      .sort(),
  ).toEqual([captains.north, captains.south].map(({ id }) => [book.id, id]).sort());
});

test("MA14 a fixture shows the match of each of its slots", () => {
  const { north, south } = clubs("north", "south");
  const { league: book, captains, roots } = league("border", { north, south });
  const slots = [1, 2].map(() => ({ discipline: "singles", play: "handicap", format: 13 }) as const);
  const first = { fixture: fixture("first"), date: "2026-05-01", home: roots.north.id, away: roots.south.id, slots };
  const set = book.root.writes("fixture-set", first);
  captains.south.reports(
    played("2026-05-01", "ada 7", "ben 9", "7-4", {
      occasion: "league",
      slot: { fixture: fixture("first"), number: 2 },
    }),
  );
  expect([...stateOf(book).fixtures.values()]).toEqual([{ ...first, matches: [null, theMatch(book).key] }]);

  book.root.writes("fixture-set", { ...first, date: "2026-05-08", replaces: set.id });
  expect(stateOf(book).fixtures.get(fixture("first"))?.date).toBe("2026-05-08");
  expect(stateOf(book).fixtures.size).toBe(1);
});
