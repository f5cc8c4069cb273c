import { expect, test } from "vitest";
import { answerOf, sward } from "./running.ts";

const HEADING = "date,opponent,opponent_handicap,play,score,event";

interface Line {
  readonly line: number;
  readonly off: number;
  readonly points: number;
  readonly index: number;
  readonly handicap: number;
  readonly reason: string;
  readonly moved: { readonly from: number; readonly to: number; readonly trigger: number } | null;
}

async function card(options: string, rows: readonly string[], heading = HEADING) {
  const files = { "results.csv": [heading, ...rows, ""].join("\n") };
  return (await answerOf(`card ${options} results.csv`, files)) as {
    readonly start: { readonly handicap: number; readonly index: number };
    readonly lines: readonly Line[];
    readonly handicap: number;
    readonly index: number;
    readonly unused: readonly string[];
  };
}

const steps = ({ lines }: { readonly lines: readonly Line[] }) =>
  lines.map(({ points, index, handicap }) => [points, index, handicap]);

/** One handicap game on each of the days from 1 May on. */
const handicapGames = (results: string): string[] =>
  [...results].map(
    (result, day) => `2031-05-${String(day + 1).padStart(2, "0")},Ada Finch,10,H,${result === "w" ? "7-4" : "4-7"},`,
  );

test("a card begins at the trigger of its handicap, or at the index given", async () => {
  expect((await card("--start -2", handicapGames("w"))).start).toEqual({ handicap: -2, index: 2200 });
  expect((await card("--start 7 --index 1390", handicapGames("w"))).start).toEqual({ handicap: 7, index: 1390 });
});

test("a 7 on 1390 wins a handicap game: 1400 and handicap 6, which two lost games do not take back", async () => {
  // Croquet England, The Automatic Handicap System: https://www.croquet.org.uk/?p=games/golf/handicapping/automatic
  const { lines } = await card("--start 7 --index 1390", handicapGames("wll"));
  expect(steps({ lines })).toEqual([
    [10, 1400, 6],
    [-10, 1390, 6],
    [-10, 1380, 6],
  ]);
  expect(lines[0]?.moved).toMatchObject({ from: 7, to: 6, trigger: 1400 });
});

test("what every club player knows", async () => {
  // common practice, no source
  expect(steps(await card("--start 16", handicapGames("w")))).toEqual([[10, 1010, 16]]);
  expect(steps(await card("--start 16", handicapGames("l")))).toEqual([[-10, 990, 16]]);
  const beginner = steps(await card("--start 14", handicapGames("wwwwwwllllll")));
  expect(beginner[0]).toEqual([10, 1060, 14]);
  expect(beginner[4]).toEqual([10, 1100, 12]);
  expect(beginner[5]).toEqual([10, 1110, 12]);
  expect(beginner[7]).toEqual([-10, 1090, 12]);
  expect(beginner.at(-1)).toEqual([-10, 1050, 14]);
  expect(await card("--start 6", handicapGames("wwwwwwwwww"))).toMatchObject({ handicap: 5, index: 1500 });
  expect(await card("--start -2", handicapGames("w".repeat(15)))).toMatchObject({ handicap: -3, index: 2350 });
});

test("through a trigger and back within a day nothing changes, in New South Wales it does at once", async () => {
  // Croquet England, Maintaining a GC Handicap: https://croquet.org.uk/?p=games%2Fgolf%2Fhandicapping%2Fmaintenance
  const day = ["w", "l"].map((result) => `2031-05-01,Ada Finch,10,H,${result === "w" ? "7-0" : "0-7"},`);
  const england = await card("--start 7 --index 1390", day);
  expect(steps(england)).toEqual([
    [10, 1400, 7],
    [-10, 1390, 7],
  ]);
  // Newcastle Park club (Croquet NSW): https://www.revolutionise.com.au/newcastlepark/gc-handicaps
  const nsw = await card("--rules new-south-wales-2022 --start 7 --index 1390", day);
  expect(steps(nsw)).toEqual([
    [10, 1400, 6],
    [-10, 1390, 6],
  ]);
});

test("a short event is one span: the change comes after its last game, and the games in it are played off the old one", async () => {
  // Croquet England, as above: at most four days.
  const cup = (days: readonly number[], occasion = "") =>
    days.map((day) => `2031-05-0${day},Ada Finch,7,L,7-4,May Cup,${occasion}`);
  const heading = `${HEADING},occasion`;
  const short = await card("--start 7 --index 1395", cup([1, 2, 4]), heading);
  expect(short.lines.map(({ off, points, handicap }) => [off, points, handicap])).toEqual([
    [7, 10, 7],
    [7, 10, 7],
    [7, 10, 6],
  ]);
  const long = await card("--start 7 --index 1395", cup([1, 2, 5]), heading);
  // Over five days each day settles by itself; the second game is a 6 beating a 7.
  expect(long.lines.map(({ off, points, handicap }) => [off, points, handicap])).toEqual([
    [7, 10, 6],
    [6, 9, 6],
    [6, 9, 6],
  ]);
  // A calendar event is one span whatever it lasts.
  const calendar = await card("--start 7 --index 1395", cup([1, 2, 5], "calendar-event"), heading);
  expect(calendar.lines.map(({ off }) => off)).toEqual([7, 7, 7]);
  expect(calendar.handicap).toBe(6);
});

test("the points of level play follow the handicap of the day, however often it changes", async () => {
  const rows = [
    "2031-05-01,Bruno Hale,4,L,7-5,",
    "2031-05-02,Bruno Hale,4,L,7-5,",
    "2031-05-03,Bruno Hale,4,L,7-5,",
    "2031-05-04,Bruno Hale,4,L,7-5,",
  ];
  // 7 beats 4: D -250, 15 points. 6 beats 4: D -200, 14 points. 5 beats 4: D -100, 12 points. (common practice, no source)
  expect(
    (await card("--start 7 --index 1385", rows)).lines.map(({ off, points, index }) => [off, points, index]),
  ).toEqual([
    [7, 15, 1400],
    [6, 14, 1414],
    [6, 14, 1428],
    [6, 14, 1442],
  ]);
  expect((await card("--start 6 --index 1486", rows)).lines.map(({ off, points }) => [off, points])).toEqual([
    [6, 14],
    [5, 12],
    [5, 12],
    [5, 12],
  ]);
});

test("days are put in order, and within a day the file's order holds", async () => {
  const { lines } = await card("--start 10", [
    "2031-06-02,Ada Finch,10,H,7-1,",
    "2031-06-01,Bruno Hale,4,L,7-2,",
    "2031-06-01,Ada Finch,10,H,3-7,",
  ]);
  expect(lines.map(({ line, index }) => [line, index])).toEqual([
    [3, 1217],
    [4, 1207],
    [2, 1217],
  ]);
});

test("optional columns: what it was played for, the length, how it ended", async () => {
  const rows = [
    "2031-06-01,Ada Finch,10,handicap,7-1,,ad-hoc,,",
    "2031-06-02,Ada Finch,10,LEVEL,4-3,,,7,",
    "2031-06-03,Ada Finch,10,h,9-10,,league,19,",
    "2031-06-04,Ada Finch,10,l,6-5,,,,time",
    "2031-06-05,Ada Finch,10,H,3-2,,,,Abandoned",
    "2031-06-06,Ada Finch,10,H,5-5,,,,time",
  ];
  const { lines } = await card("--start 10", rows, `${HEADING},occasion,format,ended`);
  expect(lines.map(({ points, reason }) => [points, reason])).toEqual([
    [0, "occasion-does-not-count"],
    [10, "level-singles"],
    [-10, "handicap-singles"],
    [10, "level-singles"],
    [0, "abandoned"],
    [0, "drawn"],
  ]);
});

test("a file as spreadsheets write it: mark at the start, semicolons, other order, blank lines, quotes, more columns", async () => {
  const rows = [
    "\uFEFFPlay;Score;Date;Opponent Handicap;Opponent;Lawn",
    'H;7-4;2031-05-01;10;"Finch; Ada";1',
    "",
    "L;7 \u2013 6;2031-05-02;\u22122;Bruno Hale;2",
  ];
  const files = { "results.csv": rows.join("\r\n") };
  const { lines, unused } = (await answerOf("card --start 10 results.csv", files)) as {
    lines: readonly (Line & { opponent: string; opponent_handicap: number })[];
    unused: readonly string[];
  };
  expect(
    lines.map(({ line, opponent, opponent_handicap, points }) => [line, opponent, opponent_handicap, points]),
  ).toEqual([
    [2, "Finch; Ada", 10, 10],
    [4, "Bruno Hale", -2, 19],
  ]);
  expect(unused).toEqual(["Lawn"]);
});

test("the card for people", async () => {
  const rows = [...handicapGames("w"), "2031-05-09,Bruno Hale,4,L,2-7,May Cup"];
  const { out, code } = await sward("card --start 7 --index 1390 results.csv", {
    "results.csv": [`${HEADING}`, ...rows].join("\n"),
  });
  expect(code).toBe(0);
  expect(out).toContain("Rules england-2016. Start: handicap 7, index 1390.");
  expect(out).toMatch(/^2031-05-01 {2}Ada Finch +10 {2}H {2}7-4 +\+10 +1400 +6 +7 to 6 .*1400 reached$/m);
  expect(out).toMatch(/^2031-05-09 {2}Bruno Hale +4 {2}L {2}2-7 +-6 +1394 +6 +May Cup$/m);
  expect(out).toContain("Handicap 6, index 1394.");
  expect(out).toContain("committee always prevail");
});
