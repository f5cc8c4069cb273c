import type { Card } from "@sward/core";
import { cardToSign } from "@sward/core";
import { describe, expect, test } from "vitest";
import type { Club } from "../../support/cast.ts";
import { clubs, played, player } from "../../support/cast.ts";
import { stateOf } from "../../support/state-text.ts";

const day = (number: number): string => `2026-05-${String(number).padStart(2, "0")}`;

/** Ada wins once a day, from 7 and 1380, up to a day: a 6 from the second. */
function winning(days: number) {
  const { north } = clubs("north");
  north.member("ada", 7, { index: 1380 });
  const reports = Array.from({ length: days }, (_, place) =>
    north.recorder.reports(played(day(place + 1), `ada ${place < 2 ? 7 : 6}`, "ben 9", "7-4")),
  );
  return { north, reports };
}

const cardOf = (north: Club): Card => {
  stateOf(north);
  return north.card(player("ada"));
};

const standings = (north: Club) =>
  cardOf(north).signatures.map(({ upto, standing, firstTouched }) => [Number(upto.slice(-2)), standing, firstTouched]);

test("RP22 a signature covers the card up to and including its day, and holds", () => {
  const { north } = winning(4);
  const written = north.handicapper.signs("ada", day(3));
  expect(cardOf(north).signatures).toEqual([
    {
      entry: written.id,
      by: north.handicapper.id,
      at: written.entry.at,
      upto: day(3),
      handicap: 6,
      index: 1410,
      lines: 4,
      standing: "holds",
      firstTouched: null,
    },
  ]);
});

test("RP22 later games leave it; so do two people agreeing, an event's name and a member's other id", () => {
  const { north } = winning(3);
  north.handicapper.signs("ada", day(3));
  north.recorder.reports(played(day(4), "ada 6", "ben 9", "7-4"));
  north.handicapper.reports(played(day(1), "ada 7", "ben 9", "7-4"));
  north.handicapper.links("someone", "ada");
  expect(standings(north)).toEqual([[3, "holds", null]]);
});

describe("RP22 RP23 what is changed under it touches it, from the first line that differs", () => {
  const changes: Record<string, readonly [(club: ReturnType<typeof winning>) => unknown, number]> = {
    "a late game": [
      ({ north }) => north.recorder.reports(played(day(2), "ada 7", "cat 9", "7-4", { start: "08:00" })),
      2,
    ],
    "a late game that moves nothing": [
      ({ north }) =>
        north.recorder.reports(played(day(2), "ada 7", "cat 9", "7-4", { start: "08:00", occasion: "ad-hoc" })),
      2,
    ],
    "a late game on its last day": [
      ({ north }) => north.recorder.reports(played(day(4), "ada 6", "zoe 9", "7-4", { start: "23:00" })),
      4,
    ],
    "a corrected score": [
      ({ north, reports }) => north.recorder.reports(played(day(3), "ada 6", "ben 9", "7-5"), reports[2]),
      3,
    ],
    "a lost game for a won one": [
      ({ north, reports }) => north.recorder.reports(played(day(1), "ada 7", "ben 9", "4-7"), reports[0]),
      1,
    ],
    "another opponent": [
      ({ north, reports }) => north.recorder.reports(played(day(3), "ada 6", "cat 9", "7-4"), reports[2]),
      3,
    ],
    "another handicap played off": [
      ({ north, reports }) => north.recorder.reports(played(day(3), "ada 7", "ben 9", "7-4"), reports[2]),
      3,
    ],
    "the opponent's handicap": [
      ({ north, reports }) => north.recorder.reports(played(day(3), "ada 6", "ben 8", "7-4"), reports[2]),
      3,
    ],
    "a game taken back": [({ north, reports }) => north.recorder.withdraws(reports[1]!), 2],
    "the last game taken back": [({ north, reports }) => north.recorder.withdraws(reports[3]!), 4],
    "a handicap set for an earlier day": [({ north }) => north.handicapper.sets("ada", 5, day(3)), 3],
    "an opponent who is somebody else": [({ north }) => north.handicapper.links("ben", "cat"), 1],
  };
  test.each(Object.entries(changes))("RP22 RP23 %s", (_, [change, line]) => {
    const club = winning(4);
    club.north.handicapper.signs("ada", day(4));
    expect(standings(club.north)).toEqual([[4, "holds", null]]);
    change(club);
    expect(standings(club.north)).toEqual([[4, "touched", line]]);
  });
});

test("RP22 a signature that states another index or handicap than the card it covers does not hold", () => {
  for (const more of [{ handicap: 5 }, { index: 1430 }, { lines: 3 }]) {
    const { north } = winning(3);
    north.handicapper.signs("ada", day(3), more);
    expect(standings(north)[0]?.[1]).toBe("touched");
  }
});

test("RP22 a signature on a card without a line by that day is touched from the start", () => {
  const { north } = winning(3);
  const { player: _, ...said } = { player: "", ...cardToSign(cardOf(north), day(3))! };
  north.handicapper.writes("card-signed", { player: player("ada"), ...said, upto: "2020-01-01" });
  expect(standings(north)).toEqual([[1, "touched", 0]]);
  expect(cardToSign(cardOf(north), "2020-01-01")).toBe(null);
});

test("RP22 correcting back makes it hold again", () => {
  const { north, reports } = winning(3);
  north.handicapper.signs("ada", day(3));
  const slip = north.recorder.reports(played(day(2), "ada 7", "ben 9", "4-7"), reports[1]);
  expect(standings(north)[0]?.[1]).toBe("touched");
  north.recorder.withdraws(slip);
  expect(standings(north)).toEqual([[3, "holds", null]]);
});

/** A card of 400 lines; marks cover the last 256 of those signed. */
function longCard() {
  const { north } = clubs("north");
  north.member("ada", 7);
  const match = (number: number, score: string) =>
    played("2026-05-01", "ada 7", "ben 9", score, {
      start: `${String(Math.floor(number / 60)).padStart(2, "0")}:${String(number % 60).padStart(2, "0")}`,
      n: 1 + (number % 50),
      format: ([7, 13, 19] as const)[Math.floor(number / 50) % 3]!,
      play: number < 150 ? "handicap" : "level",
      occasion: "ad-hoc",
    });
  const score = (number: number) => ["4-1", "7-1", "10-1"][Math.floor(number / 50) % 3]!;
  const reports = Array.from({ length: 300 }, (_, number) => north.recorder.reports(match(number, score(number))));
  const corrects = (number: number) =>
    north.recorder.reports(match(number, score(number).replace("-1", "-2")), reports[number]);
  return { north, corrects };
}

test("RP23 when the difference lies beyond its marks, the first line they reach is named", () => {
  const { north, corrects } = longCard();
  north.handicapper.signs("ada", day(1));
  expect(north.card(player("ada")).signatures[0]).toMatchObject({ standing: "holds", lines: 301 });
  corrects(10);
  expect(north.card(player("ada")).signatures[0]).toMatchObject({ standing: "touched", firstTouched: 301 - 256 });
});

test("RP23 within their reach, the line itself, also on a long card", () => {
  const { north, corrects } = longCard();
  north.handicapper.signs("ada", day(1));
  corrects(200);
  expect(north.card(player("ada")).signatures[0]).toMatchObject({ standing: "touched", firstTouched: 201 });
});

test("RP23 marks that are no marks, too few or too many, do no harm", () => {
  for (const marks of ["", "A", "AAAAA", "A".repeat(1024)]) {
    const { north } = winning(3);
    north.handicapper.signs("ada", day(3), { marks, index: 0 });
    const [, standing, line] = standings(north)[0]!;
    expect(standing).toBe("touched");
    expect(Number.isInteger(line) && Number(line) >= 0 && Number(line) <= 4, `${marks.length}: ${line}`).toBe(true);
  }
});

test("RP24 a change of handicap by play is unsigned until a holding signature covers its line", () => {
  const { north, reports } = winning(4);
  expect(cardOf(north).unsigned).toEqual([2]);
  north.handicapper.signs("ada", day(1));
  expect(cardOf(north).unsigned).toEqual([2]);
  north.handicapper.signs("ada", day(2));
  expect(cardOf(north).unsigned).toEqual([]);
  north.recorder.reports(played(day(1), "ada 7", "ben 9", "7-5"), reports[0]);
  expect(cardOf(north).unsigned).toEqual([2]);
});

test("RP24 a setting needs no signature", () => {
  const { north } = winning(1);
  north.handicapper.sets("ada", 3, day(2));
  expect(cardOf(north).unsigned).toEqual([]);
});

test("RP22 signatures are listed by the day they reach, and a withdrawn one is gone", () => {
  const { north } = winning(4);
  const later = north.handicapper.signs("ada", day(4));
  north.handicapper.signs("ada", day(2));
  expect(standings(north).map(([upto]) => upto)).toEqual([2, 4]);
  north.handicapper.withdraws(later);
  expect(standings(north).map(([upto]) => upto)).toEqual([2]);
});
