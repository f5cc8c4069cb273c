/**
 * What every club player can recite, on cards folded from whole books; and what governing bodies' pages state. Each check names
 * its source: [S1] Croquet England, The Automatic Handicap System for Golf Croquet, Table 1,
 * https://www.croquet.org.uk/?p=games/golf/handicapping/automatic
 * [S3] Croquet England, Maintaining a GC Handicap, https://croquet.org.uk/?p=games%2Fgolf%2Fhandicapping%2Fmaintenance
 * [S20] Newcastle Park club (Croquet NSW), GC Handicaps, https://www.revolutionise.com.au/newcastlepark/gc-handicaps
 * [S24] Scottish Croquet Association, Automatic Handicap Systems, https://scottishcroquet.org.uk/index.php/handicapping
 */
import { expect, test } from "vitest";
import { Club, event, played } from "../../support/cast.ts";

interface Season {
  readonly rules?: string;
  readonly index?: number;
}

/** Index/handicap after each of a run of games on days of their own: W a win, L a loss, in handicap play against a 9. */
function season(handicap: number, results: string, { rules, index }: Season = {}): string[] {
  const club = new Club("north", rules);
  const ada = club.member("ada", handicap, index === undefined ? {} : { index });
  for (const [day, result] of [...results].entries()) {
    const date = `2026-05-${String(day + 1).padStart(2, "0")}`;
    const off = club.card(ada).handicap;
    club.recorder.reports(played(date, `ada ${off}`, "ben 9", result === "W" ? "7-4" : "4-7"));
  }
  return club.card(ada).lines.map((line) => `${line.index}/${line.handicap}`);
}

/** Points ada gains in one game. */
function points(ada: number, ben: number, score: string, play: "level" | "handicap"): (number | undefined)[] {
  const club = new Club("north");
  const players = [club.member("ada", ada), club.member("ben", ben)];
  club.recorder.reports(played("2026-05-01", `ada ${ada}`, `ben ${ben}`, score, { play }));
  return players.map((player) => {
    const line = club.card(player).lines.at(-1);
    return line?.line === "game" ? line.points : undefined;
  });
}

test("RP20 a beginner starts at 16 with index 1000; a win makes 1010, a loss 990", () => {
  // common practice, no source
  expect(season(16, "W")).toEqual(["1000/16", "1010/16"]);
  expect(season(16, "L")).toEqual(["1000/16", "990/16"]);
});

test("RP20 fourteen is at 1050; the first win makes 1060, five net wins 1100 and twelve", () => {
  // common practice, no source
  expect(season(14, "W")).toEqual(["1050/14", "1060/14"]);
  expect(season(14, "WWLWWLWWW").at(-1)).toBe("1100/12");
  expect(season(14, "WWWW").at(-1)).toBe("1090/14");
});

test("RP20 RP8 then 1110, back at 1090 still twelve, at 1050 fourteen again", () => {
  // common practice, no source
  expect(season(14, "WWWWWWLLLLLL")).toEqual([
    "1050/14",
    "1060/14",
    "1070/14",
    "1080/14",
    "1090/14",
    "1100/12",
    "1110/12",
    "1100/12",
    "1090/12",
    "1080/12",
    "1070/12",
    "1060/12",
    "1050/14",
  ]);
});

test("RP20 from six, ten net wins to five; from minus two, fifteen to minus three", () => {
  // common practice, no source
  expect(season(6, "W".repeat(9)).at(-1)).toBe("1490/6");
  expect(season(6, "W".repeat(10)).at(-1)).toBe("1500/5");
  expect(season(-2, "W".repeat(14)).at(-1)).toBe("2340/-2");
  expect(season(-2, "W".repeat(15)).at(-1)).toBe("2350/-3");
});

test("RP20 RP5 level play: 4 v 4 moves 10, a 4 who beats a 1 gains 16, a 1 who beats a 4 gains 4", () => {
  // common practice, no source
  expect(points(4, 4, "7-4", "level")).toEqual([10, -10]);
  expect(points(4, 1, "7-4", "level")).toEqual([16, -16]);
  expect(points(1, 4, "7-4", "level")).toEqual([4, -4]);
  expect(points(20, -6, "7-4", "level")).toEqual([19, -19]);
  expect(points(-6, 20, "7-4", "level")).toEqual([1, -1]);
});

test("RP5 handicap play moves ten whatever the handicaps [S1]", () => {
  expect(points(20, -6, "7-4", "handicap")).toEqual([10, -10]);
  expect(points(4, 4, "4-7", "handicap")).toEqual([-10, 10]);
});

test("RP8 a 7 at 1390 wins: 1400 and 6, and stays 6 over the next couple of losses [S1]", () => {
  expect(season(7, "WLL", { index: 1390 })).toEqual(["1390/7", "1400/6", "1390/6", "1380/6"]);
});

test("RP8 at a trigger with a gap of 50, five straight wins make one handicap lower [S24]", () => {
  expect(season(9, "WWWW").at(-1)).toBe("1290/9");
  expect(season(9, "WWWWW").at(-1)).toBe("1300/8");
});

test("RP12 through a trigger and back within the day: no change [S3]", () => {
  const club = new Club("north");
  const ada = club.member("ada", 7, { index: 1390 });
  club.recorder.reports(played("2026-05-01", "ada 7", "ben 9", "7-4", { start: "10:00" }));
  club.recorder.reports(played("2026-05-01", "ada 7", "ben 9", "4-7", { start: "14:00", n: 2 }));
  const card = club.card(ada);
  expect(card).toMatchObject({ index: 1390, handicap: 7, unsigned: [] });
  expect(card.lines.map(({ index }) => index)).toEqual([1390, 1400, 1390]);
  expect(card.lines.filter(({ moved }) => moved !== null)).toHaveLength(1);
});

test("RP13 through a trigger and back within a short tournament: no change [S3]", () => {
  const club = new Club("north");
  const ada = club.member("ada", 7, { index: 1390 });
  club.handicapper.opens("cup", "2026-05-01", "2026-05-03");
  club.recorder.reports(played("2026-05-01", "ada 7", "ben 9", "7-4", { event: event("cup") }));
  club.recorder.reports(played("2026-05-03", "ada 7", "ben 9", "4-7", { event: event("cup") }));
  expect(club.card(ada)).toMatchObject({ index: 1390, handicap: 7, unsigned: [] });
});

test("RP10 New South Wales: the handicap changes as soon as the index reaches the trigger [S20]", () => {
  const club = new Club("north", "new-south-wales-2022");
  const ada = club.member("ada", 7, { index: 1390 });
  club.recorder.reports(played("2026-05-01", "ada 7", "ben 9", "7-4 4-7"));
  const { lines, handicap } = club.card(ada);
  expect(lines.map((line) => `${line.index}/${line.handicap}`)).toEqual(["1390/7", "1400/6", "1390/6"]);
  expect(lines[1]?.moved).toEqual({ from: 7, to: 6, trigger: 1400, after: null });
  expect(handicap).toBe(6);
});

test("RP5 New South Wales: handicap doubles move five for each player [S20]", () => {
  const club = new Club("north", "new-south-wales-2022");
  const players = ["ada", "ben", "cat", "dan"].map((name) => club.member(name, 7));
  club.recorder.reports(played("2026-05-01", "ada 7 + ben 7", "cat 7 + dan 7", "7-4"));
  expect(players.map((player) => club.card(player).index)).toEqual([1355, 1355, 1345, 1345]);
});
