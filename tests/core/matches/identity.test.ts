import type { MatchReported } from "@sward/core";
import { checkMatch, currentKey, differences, matchFacts, matchKey } from "@sward/core";
import { describe, expect, test } from "vitest";
import { clubs, event, fixture, keyOfMatch, played, player } from "../../support/cast.ts";

const base = played("2026-05-01", "ada 7", "ben 9", "7-4");
const same = (id: Parameters<typeof matchKey>[0]["sides"][0][0]["player"]) => id;

describe("MA1 what makes two reports one match", () => {
  const alike: Record<string, MatchReported> = {
    "the other side first": played("2026-05-01", "ben 9", "ada 7", "4-7"),
    "MA3 another score": played("2026-05-01", "ada 7", "ben 9", "3-7"),
    "MA3 another number of games": played("2026-05-01", "ada 7", "ben 9", "7-4 7-5"),
    "MA3 another ending": played("2026-05-01", "ada 7", "ben 9", "6-4t"),
    "MA3 another handicap": played("2026-05-01", "ada 6", "ben 9", "7-4"),
    "MA3 a starting time": { ...base, start: "10:30" },
    "MA3 an event": { ...base, event: event("cup") },
    "MA3 another occasion": { ...base, occasion: "league" },
    "MA3 an exclusion": { ...base, excluded: true },
  };
  test.each(Object.entries(alike))("MA1 MA3 %s: one", (_, match) => {
    expect(keyOfMatch(match)).toBe(keyOfMatch(base));
  });

  const others: Record<string, MatchReported> = {
    "another day": played("2026-05-02", "ada 7", "ben 9", "7-4"),
    "another play": { ...base, play: "level" },
    "another format": { ...base, format: 7, games: [{ score: [4, 1] }] },
    "another player": played("2026-05-01", "ada 7", "cat 9", "7-4"),
    "doubles for singles": played("2026-05-01", "ada 7 + cat 4", "ben 9 + dan 2", "7-4"),
    "the second that day": { ...base, n: 2 },
    "a slot of a fixture": { ...base, slot: { fixture: fixture("first"), number: 1 } },
  };
  test.each(Object.entries(others))("MA1 MA2 %s: another", (_, match) => {
    expect(keyOfMatch(match)).not.toBe(keyOfMatch(base));
  });

  test("MA1 partners in any order; another pairing of the same four is another match", () => {
    const doubles = played("2026-05-01", "ada 7 + cat 4", "ben 9 + dan 2", "7-4");
    const key = keyOfMatch(doubles);
    expect(keyOfMatch(played("2026-05-01", "cat 4 + ada 7", "dan 2 + ben 9", "7-4"))).toBe(key);
    expect(keyOfMatch(played("2026-05-01", "dan 2 + ben 9", "ada 7 + cat 4", "4-7"))).toBe(key);
    expect(keyOfMatch(played("2026-05-01", "ada 7 + ben 9", "cat 4 + dan 2", "7-4"))).not.toBe(key);
  });
});

test("MA1 the facts are turned the same way, score and endings with the sides", () => {
  const one = matchFacts(played("2026-05-01", "ada 7 + cat 4", "ben 9 + dan 2", "7-4 2-5t"), same);
  const other = matchFacts(played("2026-05-01", "dan 2 + ben 9", "cat 4 + ada 7", "4-7 5-2t"), same);
  expect(differences(one, other)).toEqual([]);
  expect(one).toEqual(other);
  const names = one.sides.flat().map(({ player: id }) => id);
  expect([...names].sort()).toEqual([player("ada"), player("ben"), player("cat"), player("dan")].sort());
  expect(names[0]! < names[1]! && names[2]! < names[3]! && names[0]! < names[2]!).toBe(true);
});

test("MA2 a slot is the match whatever else the report says, and each slot is another", () => {
  const slot = { fixture: fixture("first"), number: 3 };
  const one = keyOfMatch({ ...base, slot });
  expect(keyOfMatch({ ...played("2026-06-30", "eve 1", "dan 2", "0-7"), play: "level", n: 4, slot })).toBe(one);
  expect(keyOfMatch({ ...base, slot: { ...slot, number: 4 } })).not.toBe(one);
  expect(keyOfMatch({ ...base, slot: { ...slot, fixture: fixture("second") } })).not.toBe(one);
});

describe("MA4 what no match can be", () => {
  const wrong: Record<string, readonly [MatchReported, ReturnType<typeof checkMatch>]> = {
    "one against two": [played("2026-05-01", "ada 7", "ben 9 + cat 4", "7-4"), { type: "uneven-sides" }],
    "a player against himself": [
      played("2026-05-01", "ada 7", "ada 7", "7-4"),
      { type: "player-twice", player: player("ada") },
    ],
    "a player on both sides": [
      played("2026-05-01", "ada 7 + ben 9", "cat 4 + ada 7", "7-4"),
      { type: "player-twice", player: player("ada") },
    ],
    "a player twice on a side": [
      played("2026-05-01", "ada 7 + ada 7", "cat 4 + ben 9", "7-4"),
      { type: "player-twice", player: player("ada") },
    ],
  };
  test.each(Object.entries(wrong))("MA4 %s", (_, [match, fault]) => {
    expect(checkMatch(match)).toEqual(fault);
  });

  // Formats and the hoop that decides: first to 4, 7 and 10. World Croquet Federation and clubs' pages on 7-, 13- and 19-point
  // games: https://worldcroquet.org/2013-golf-croquet-rules-commentary-on-changes/ (7-point games, read),
  // https://www.craig-y-doncroquetclub.com/the-rules-golf-croquet (13-point games, read).
  const scores = {
    7: {
      can: ["4-0", "4-3", "0-4", "3-3t", "0-0t", "3-2a", "4-0w", "0-0w"],
      cannot: ["3-2", "4-4", "5-3", "4-3t", "4-1a", "4-4w", "5-0w"],
    },
    13: {
      can: ["7-0", "7-6", "6-7", "6-6t", "5-4a", "7-0w"],
      cannot: ["6-5", "7-7", "8-6", "7-3t", "7-2a", "8-0w", "13-0"],
    },
    19: { can: ["10-0", "9-10", "9-9t", "8-9a", "10-0w"], cannot: ["9-8", "10-10", "11-9", "10-9t", "11-0w"] },
  } as const;
  for (const [points, { can, cannot }] of Object.entries(scores)) {
    const format = Number(points) as MatchReported["format"];
    test(`MA4 scores of a game of ${points} points`, () => {
      for (const score of can)
        expect(checkMatch(played("2026-05-01", "ada 7", "ben 9", score, { format })), score).toBe(null);
      for (const score of cannot) {
        const fault = checkMatch(played("2026-05-01", "ada 7", "ben 9", score, { format }));
        expect(fault, score).toMatchObject({ type: "score-cannot-be", game: 1 });
      }
    });
  }

  test("MA4 the game at fault is named", () => {
    expect(checkMatch(played("2026-05-01", "ada 7", "ben 9", "7-4 4-7 8-6"))).toEqual({
      type: "score-cannot-be",
      game: 3,
      score: [8, 6],
    });
  });

  test("MA4 extra strokes belong to the players there are", () => {
    const body = played("2026-05-02", "ada 7", "ben 9", "7-4");
    const one = { side: 1, seat: 0, hoop: 3 } as const;
    expect(checkMatch({ ...body, given: [[0], [2]], games: [{ score: [7, 4], taken: [one] }] })).toBe(null);
    const nobody = { type: "strokes-of-nobody" };
    expect(checkMatch({ ...body, given: [[0, 1], [2]] })).toEqual(nobody);
    expect(checkMatch({ ...body, games: [{ score: [7, 4], taken: [{ ...one, seat: 1 }] }] })).toEqual(nobody);
  });

  test("MA5 what a score pad kept beside the score is no fact to agree on", () => {
    const body = played("2026-05-02", "ada 7", "ben 9", "7-4");
    const kept = {
      ...body,
      given: [[0], [2]] as [number[], number[]],
      games: [{ score: [7, 4] as [number, number], hoops: [0, 1] as (0 | 1)[] }],
    };
    expect(matchFacts(kept, (id) => id)).toEqual(matchFacts(body, (id) => id));
  });

  test("MA4 such a report does not count", () => {
    const { north } = clubs("north");
    const report = north.recorder.reports(played("2026-05-01", "ada 7", "ben 9", "7-7"));
    expect(north.state().uncounted.get(report.id)).toBe("cannot-be");
    expect(north.state().matches.size).toBe(0);
  });
});

test("MA12 the identity of a match follows its players' links", () => {
  const linked = (id: (typeof base.sides)[0][0]["player"]) => (id === player("vera") ? player("ada") : id);
  for (const match of [
    played("2026-05-01", "vera 7", "ben 9", "7-4"),
    played("2026-05-01", "ben 9", "vera 7", "7-4"),
    played("2026-05-01", "ben 9 + vera 7", "cat 4 + dan 2", "7-4"),
    { ...played("2026-05-01", "vera 7", "ben 9", "7-4"), slot: { fixture: fixture("first"), number: 1 } },
  ]) {
    expect(currentKey(matchKey(match, same), linked)).toBe(matchKey(match, linked));
    expect(currentKey(matchKey(match, linked), linked)).toBe(matchKey(match, linked));
  }
  for (const text of ["", "slot:x:1", "a|b|c|d|e", `||||`, "2026-05-01|level|13|vvvv|1"]) {
    expect(currentKey(text as never, linked)).toBe(text);
  }
});
