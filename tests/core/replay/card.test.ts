import type { CardLine, GameLine, LineReason } from "@sward/core";
import { describe, expect, test } from "vitest";
import { Club, event, keyOfMatch, played, player } from "../../support/cast.ts";
import { stateOf } from "../../support/state-text.ts";

const games = (lines: readonly CardLine[]): GameLine[] => lines.filter((line) => line.line === "game");
const says = (lines: readonly CardLine[]): string[] => lines.map((line) => `${line.index}/${line.handicap}`);

function club(rules?: string) {
  const north = new Club("north", rules);
  const ada = north.member("ada", 7);
  const card = () => {
    stateOf(north);
    return north.card(ada);
  };
  return { north, ada, card };
}

test("RP3 a game is computed under the rules in force on its day, whenever it is entered", () => {
  const { north, card } = club();
  north.root.adopts("new-south-wales-2022", "2026-06-01");
  north.recorder.reports(played("2026-06-01", "ada 7 + ben 9", "cat 4 + dan 2", "7-4"));
  north.recorder.reports(played("2026-05-31", "ada 7 + ben 9", "cat 4 + dan 2", "7-4"));
  expect(games(card().lines).map(({ rules, points, reason }) => [rules, points, reason])).toEqual([
    ["england-2016", 0, "doubles-do-not-count"],
    ["new-south-wales-2022", 5, "handicap-doubles"],
  ]);
  expect(north.state().rules).toEqual([
    { rules: "england-2016", from: "2016-01-01" },
    { rules: "new-south-wales-2022", from: "2026-06-01" },
  ]);
});

test("RP3 games before the first adoption are computed under it", () => {
  const { north, card } = club();
  north.recorder.reports(played("2015-06-01", "ada 7", "ben 9", "7-4"));
  north.handicapper.sets("ada", 7, "2015-01-01", { basis: "initial" });
  expect(games(card().lines)[0]).toMatchObject({ rules: "england-2016", points: 10 });
});

test("RP3 a set this version does not have is passed over, and named", () => {
  const { north, card } = club();
  north.root.adopts("rules-of-tomorrow", "2026-05-01");
  north.recorder.reports(played("2026-05-02", "ada 7", "ben 9", "7-4"));
  expect(games(card().lines)[0]?.rules).toBe("england-2016");
  expect(north.state().rules.at(-1)).toEqual({ rules: "rules-of-tomorrow", from: "2026-05-01" });
});

test("RP3 an adoption withdrawn leaves the rules as they were", () => {
  const { north, card } = club();
  const adopted = north.root.adopts("new-south-wales-2022", "2026-01-01");
  north.recorder.reports(played("2026-05-01", "ada 7 + ben 9", "cat 4 + dan 2", "7-4"));
  expect(card().index).toBe(1355);
  north.handicapper.withdraws(adopted);
  expect(card().index).toBe(1350);
});

test("RP4 games are in order of day, then starting time with the unstated last, then of the match, then of its games", () => {
  const { north, card } = club();
  const matches = [
    played("2026-05-02", "ada 7", "ben 9", "7-0"),
    played("2026-05-01", "ada 7", "ben 9", "7-1 2-7"),
    played("2026-05-01", "ada 7", "cat 9", "7-3"),
    played("2026-05-01", "ada 7", "dan 9", "7-4", { start: "14:00" }),
    played("2026-05-01", "ada 7", "eve 9", "7-5", { start: "09:30" }),
  ];
  for (const match of matches) north.recorder.reports(match);
  const [, ben, cat] = matches.map(keyOfMatch);
  const unstated = ben! < cat! ? ["7-1", "2-7", "7-3"] : ["7-3", "7-1", "2-7"];
  expect(games(card().lines).map(({ score }) => score.join("-"))).toEqual(["7-5", "7-4", ...unstated, "7-0"]);
});

test("RP4 settings come before the games of their day: first ones, transfers, discretionary ones, as written", () => {
  const { north, ada, card } = club();
  north.recorder.reports(played("2026-01-01", "ada 5", "ben 9", "7-4", { start: "00:00" }));
  for (const handicap of [4, 6, 5]) north.handicapper.sets("ada", handicap, "2026-01-01");
  north.handicapper.sets("ada", 9, "2026-01-01", { basis: "transfer", index: 1260 });
  expect(card().lines.map((line) => [line.reason, line.handicap])).toEqual([
    ["start", 7],
    ["transfer", 9],
    ["discretionary", 4],
    ["discretionary", 6],
    ["discretionary", 5],
    ["handicap-singles", 5],
  ]);
  expect(north.card(ada).index).toBe(1510);
});

test("RP5 a line says what was played, what it moved and where it left index and handicap", () => {
  const { north, card } = club();
  const match = played("2026-05-01", "ben 9", "ada 7", "4-7", { start: "10:00", event: event("cup") });
  north.recorder.reports(match);
  expect(games(card().lines)).toEqual([
    {
      line: "game",
      date: "2026-05-01",
      match: keyOfMatch(match),
      game: 1,
      play: "handicap",
      format: 13,
      occasion: "club-competition",
      event: event("cup"),
      partner: null,
      opponents: [{ player: player("ben"), off: 9 }],
      off: 7,
      score: [7, 4],
      points: 10,
      reason: "handicap-singles",
      rules: "england-2016",
      index: 1360,
      handicap: 7,
      moved: null,
      notice: null,
      confirmed: false,
    },
  ]);
});

test("RP5 in doubles it names the partner, and a confirmed match is marked so", () => {
  const { north, card } = club();
  const match = played("2026-05-01", "ada 7 + ben 9", "cat 4 + dan 2", "7-4");
  north.recorder.reports(match);
  north.handicapper.reports(match);
  expect(games(card().lines)[0]).toMatchObject({
    partner: { player: player("ben"), off: 9 },
    opponents: [player("cat"), player("dan")].sort().map((id) => ({ player: id })),
    confirmed: true,
  });
});

test("RP5 a game that a link makes one against oneself is one line, however often it is taken back and reported", () => {
  const { north, card } = club();
  const report = north.recorder.reports(played("2026-05-01", "ada 7", "ben 9", "7-4 4-7"));
  north.recorder.reports(played("2026-05-02", "ada 7", "cat 9", "7-4"));
  north.handicapper.links("ben", "ada");
  expect(games(card().lines).map(({ date, game }) => [date, game])).toEqual([
    ["2026-05-01", 1],
    ["2026-05-01", 2],
    ["2026-05-02", 1],
  ]);
  north.recorder.reports(played("2026-05-01", "ada 7", "ben 9", "7-5"), report);
  expect(games(card().lines).map(({ score }) => score[1])).toEqual([5, 4]);
});

test("RP5 a setting's line says who, why and from what to what", () => {
  const { north, card } = club();
  const set = north.handicapper.sets("ada", 5, "2026-05-01", { reason: "improving fast" });
  expect(card().lines.at(-1)).toEqual({
    line: "set",
    date: "2026-05-01",
    entry: set.id,
    by: north.handicapper.id,
    basis: "discretionary",
    why: "improving fast",
    reason: "discretionary",
    index: 1500,
    handicap: 5,
    moved: { from: 7, to: 5 },
  });
  expect(card().lines[0]?.moved).toEqual({ from: null, to: 7 });
});

describe("RP6 what moves nothing says why", () => {
  const day = "2026-05-01";
  const cases: Record<string, readonly [LineReason, ReturnType<typeof played>, string?]> = {
    "England's doubles": ["doubles-do-not-count", played(day, "ada 7 + ben 9", "cat 4 + dan 2", "7-4")],
    "England's level doubles": [
      "doubles-do-not-count",
      played(day, "ada 7 + ben 9", "cat 4 + dan 2", "7-4", { play: "level" }),
    ],
    "a friendly inside the club": [
      "occasion-does-not-count",
      played(day, "ada 7", "ben 9", "7-4", { occasion: "club-friendly" }),
    ],
    "an ad-hoc game": ["occasion-does-not-count", played(day, "ada 7", "ben 9", "7-4", { occasion: "ad-hoc" })],
    "excluded beforehand": [
      "excluded-beforehand",
      played(day, "ada 7", "ben 9", "7-4", { occasion: "inter-club-friendly", excluded: true }),
    ],
    "an abandoned game": ["abandoned", played(day, "ada 7", "ben 9", "5-2a")],
    "a walkover": ["walkover", played(day, "ada 7", "ben 9", "7-0w")],
    "a drawn game": ["drawn", played(day, "ada 7", "ben 9", "5-5t")],
    "New South Wales' level doubles": [
      "table-not-readable",
      played(day, "ada 7 + ben 9", "cat 4 + dan 2", "7-4", { play: "level" }),
      "new-south-wales-2022",
    ],
    "a handicap that is not in the table": ["handicap-not-in-table", played(day, "ada 7", "ben 13", "7-4")],
    "one's own that is not": ["handicap-not-in-table", played(day, "ada 13", "ben 9", "7-4", { play: "level" })],
  };
  test.each(Object.entries(cases))("RP6 %s", (_, [reason, match, rules]) => {
    const { north, card } = club(rules);
    north.recorder.reports(match);
    expect(games(card().lines)).toMatchObject([{ reason, points: 0, index: 1350, handicap: 7, moved: null }]);
  });

  test("RP6 what stands in the way first is said: an ending, an exclusion, the occasion", () => {
    const { north, card } = club();
    const friendly = { occasion: "ad-hoc", excluded: true } as const;
    north.recorder.reports(played(day, "ada 7", "ben 13", "5-2a 5-5t", friendly));
    expect(games(card().lines).map(({ reason }) => reason)).toEqual(["abandoned", "excluded-beforehand"]);
  });

  test("RP6 what counts: leagues, inter-club matches, friendly ones too, calendar events; and games stopped by time", () => {
    // Croquet England, Qualifying Games: https://croquet.org.uk/?p=games%2Fgolf%2Fhandicapping%2Fautomatic
    for (const occasion of ["league", "inter-club", "inter-club-friendly", "calendar-event"] as const) {
      const { north, card } = club();
      north.recorder.reports(played(day, "ada 7", "ben 9", "5-4t", { occasion }));
      expect(games(card().lines)[0], occasion).toMatchObject({ reason: "handicap-singles", points: 10 });
    }
  });

  test("RP5 level singles", () => {
    const { north, card } = club();
    north.recorder.reports(played(day, "ada 7", "ben 9", "7-4", { play: "level" }));
    expect(games(card().lines)[0]).toMatchObject({ reason: "level-singles", points: 8 });
  });
});

test("RP7 the exchange uses the handicaps played off; another one on record is a notice and no more", () => {
  const { north, card } = club();
  north.recorder.reports(played("2026-05-01", "ada 4", "ben 4", "7-4", { play: "level" }));
  expect(games(card().lines)[0]).toMatchObject({ points: 10, index: 1360, notice: { off: 4, record: 7 } });
  north.recorder.reports(played("2026-05-02", "ada 7", "ben 4", "7-4", { play: "level" }));
  expect(games(card().lines)[1]).toMatchObject({ points: 15, notice: null });
});

test("RP7 within a day the record's handicap is the one the day began with", () => {
  const north = new Club("north");
  const ada = north.member("ada", 7, { index: 1390 });
  north.recorder.reports(played("2026-05-01", "ada 7", "ben 9", "7-4 7-4"));
  north.recorder.reports(played("2026-05-02", "ada 7", "ben 9", "7-4"));
  expect(games(north.card(ada).lines).map(({ notice }) => notice)).toEqual([null, null, { off: 7, record: 6 }]);
});

test("RP15 a discretionary setting puts the index at the trigger whatever it states; a first one or a transfer may state one", () => {
  const { north, card } = club();
  north.handicapper.sets("ada", 5, "2026-05-01", { index: 1580 });
  north.handicapper.sets("ada", 5, "2026-05-02", { basis: "transfer", index: 1580 });
  north.handicapper.sets("ada", 4, "2026-05-03", { basis: "transfer" });
  north.handicapper.sets("ada", 6, "2026-05-04", { basis: "initial", index: 1410 });
  expect(says(card().lines)).toEqual(["1350/7", "1500/5", "1580/5", "1600/4", "1410/6"]);
});

test("RP15 a handicap the table lacks starts at the trigger of the next higher one, and comes into the table by play", () => {
  const { north, card } = club();
  for (const handicap of [13, 19, 21, -8]) north.handicapper.sets("ada", handicap, "2026-05-01");
  expect(says(card().lines).slice(1)).toEqual(["1050/13", "900/19", "900/21", "2800/-8"]);
  north.recorder.reports(played("2026-05-02", "ada -8", "ben 9", "7-4"));
  expect(card().lines.at(-1)).toMatchObject({ reason: "handicap-not-in-table", index: 2800, handicap: -6 });
});

test("RP18 a game before the first handicap is on the card and moves nothing", () => {
  const north = new Club("north");
  const ada = north.member("ada", 7, { index: 1360, from: "2026-05-02" });
  north.recorder.reports(played("2026-05-01", "ada 9", "ben 9", "7-4"));
  north.recorder.reports(played("2026-05-02", "ada 7", "ben 9", "7-4"));
  const { lines } = north.card(ada);
  expect(lines.map(({ reason }) => reason)).toEqual(["before-start", "start", "handicap-singles"]);
  expect(lines[0]).toMatchObject({ points: 0, index: 1360, handicap: 7, notice: null, moved: null });
  expect(says(lines)).toEqual(["1360/7", "1360/7", "1370/7"]);
});

test("RP19 a game entered late stands on its day, and every line after it is as if it had been entered then", () => {
  const late = (entered: "then" | "late") => {
    const north = new Club("north");
    const ada = north.member("ada", 7, { index: 1380 });
    const first = played("2026-05-01", "ada 7", "ben 9", "7-4");
    if (entered === "then") north.recorder.reports(first);
    north.recorder.reports(played("2026-05-08", "ada 7", "ben 9", "7-4"));
    north.recorder.reports(played("2026-05-15", "ada 6", "ben 9", "4-7"));
    if (entered === "late") north.recorder.reports(first);
    stateOf(north);
    return north.card(ada);
  };
  expect(late("late")).toEqual(late("then"));
  expect(says(late("late").lines)).toEqual(["1380/7", "1390/7", "1400/6", "1390/6"]);
});

test("RP19 a game withdrawn leaves no trace in the lines after it", () => {
  const { north, card } = club();
  const before = card();
  const report = north.recorder.reports(played("2026-05-01", "ada 7", "ben 9", "7-4"));
  north.recorder.withdraws(report);
  expect(card()).toEqual(before);
});
