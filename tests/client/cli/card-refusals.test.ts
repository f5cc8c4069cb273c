import { expect, test } from "vitest";
import { refusalOf, sward } from "./running.ts";

const HEADING = "date,opponent,opponent_handicap,play,score,event";
const GOOD = "2031-05-01,Ada Finch,10,H,7-4,";

/** The refusal of a file whose third line is wrong; "today" is 2031-09-30. */
const refusal = (rows: readonly string[], heading = HEADING) =>
  refusalOf("card --start 7 results.csv", { "results.csv": [heading, ...rows].join("\n") });

test.each([
  ["a score that cannot be", "2031-05-02,Ada Finch,10,H,7-7,", "score", "7-7"],
  ["a score beyond the end", "2031-05-02,Ada Finch,10,H,8-4,", "score", "8-4"],
  ["a game not played out", "2031-05-02,Ada Finch,10,H,6-4,", "score", "6-4"],
])("card refuses %s, with line and column", async (_, row, column, score) => {
  expect(await refusal([GOOD, row, GOOD])).toMatchObject({
    fault: { type: "results-score", line: 3, score, format: 13 },
    at: "results.csv",
    message: expect.stringContaining(
      `Line 3, ${column}: ${score} cannot be the end of a 13-point game. The winner has 7 and the loser fewer;`,
    ),
  });
});

test("card refuses a handicap the rule set does not have", async () => {
  expect(await refusal([GOOD, "2031-05-02,Ada Finch,13,H,7-4,"])).toMatchObject({
    fault: { type: "results-unknown-handicap", line: 3, handicap: 13, rules: "england-2016" },
    message: expect.stringContaining("There is no handicap 13 in england-2016 (line 3, opponent_handicap)."),
  });
});

test("card refuses a day that lies ahead, and takes today", async () => {
  expect(await refusal([GOOD, "2031-10-01,Ada Finch,10,H,7-4,"])).toMatchObject({
    fault: { type: "results-future", line: 3, date: "2031-10-01", today: "2031-09-30" },
  });
  const files = { "results.csv": `${HEADING}\n2031-09-30,Ada Finch,10,H,7-4,` };
  expect(await sward("card --start 7 results.csv", files)).toMatchObject({ code: 0, err: "" });
});

test.each([
  ["date", "31/05/2031,Ada Finch,10,H,7-4,", "31/05/2031"],
  ["date", "2031-02-29,Ada Finch,10,H,7-4,", "2031-02-29"],
  ["opponent", "2031-05-02,,10,H,7-4,", ""],
  ["opponent_handicap", "2031-05-02,Ada Finch,ten,H,7-4,", "ten"],
  ["opponent_handicap", "2031-05-02,Ada Finch,,H,7-4,", ""],
  ["play", "2031-05-02,Ada Finch,10,A,7-4,", "A"],
  ["play", "2031-05-02,Ada Finch,10,constructor,7-4,", "constructor"],
  ["score", "2031-05-02,Ada Finch,10,H,W,", "W"],
  ["score", "2031-05-02,Ada Finch,10,H,07-Apr,", "07-Apr"],
  ["score", "2031-05-02,Ada Finch,10,H,,", ""],
])("card refuses what cannot be read in %s: %s", async (column, row, given) => {
  const refused = await refusal([GOOD, row]);
  expect(refused).toMatchObject({ fault: { type: "results-value", line: 3, column, given } });
  expect(refused.message).toContain(`Line 3, ${column}:`);
});

test.each([
  ["occasion", "tea party"],
  ["format", "15"],
  ["format", "long"],
  ["ended", "rain"],
])("card refuses what cannot be read in the optional column %s: %s", async (column, given) => {
  expect(await refusal([`${GOOD},`, `${GOOD},${given}`], `${HEADING},${column}`)).toMatchObject({
    fault: { type: "results-value", line: 3, column, given },
  });
});

test("card refuses a broken line, and counts lines as an editor does", async () => {
  expect(await refusal([GOOD, "2031-05-02,Ada Finch,10,H"])).toMatchObject({
    fault: { type: "results-fields", line: 3, fields: 4, columns: 6 },
  });
  expect(await refusal([GOOD, "2031-05-02,Finch, Ada,10,H,7-4,"])).toMatchObject({
    fault: { type: "results-fields", line: 3, fields: 7, columns: 6 },
  });
  expect(await refusal([GOOD, '2031-05-02,"Ada Finch,10,H,7-4,', GOOD])).toMatchObject({
    fault: { type: "results-quotes", line: 3 },
  });
  expect(await refusal([GOOD, '2031-05-02,"Ada" Finch,10,H,7-4,', GOOD])).toMatchObject({
    fault: { type: "results-quotes", line: 3 },
  });
  expect(await refusal(['2031-05-02,"Ada\nFinch",10,H,7-4,', "", "2031-05-02,Ada Finch,10"])).toMatchObject({
    fault: { type: "results-fields", line: 5 },
  });
});

test("card refuses a file without results, and a heading it cannot use", async () => {
  expect(await refusal([])).toMatchObject({ fault: { type: "results-empty" } });
  expect(await refusalOf("card --start 7 results.csv", { "results.csv": "" })).toMatchObject({
    fault: { type: "results-empty" },
  });
  expect(await refusal([GOOD], "date,opponent,handicap,play,score,event")).toMatchObject({
    fault: { type: "results-column-missing", column: "opponent_handicap" },
  });
  expect(await refusal([`${GOOD},7-4`], `${HEADING},Score`)).toMatchObject({
    fault: { type: "results-column-twice", column: "score" },
  });
});

test("card refuses options that cannot be, and a file that is not there", async () => {
  const files = { "results.csv": `${HEADING}\n${GOOD}` };
  expect(await refusalOf("card --start 13 results.csv", files)).toMatchObject({
    fault: { type: "start-unknown-handicap", handicap: 13 },
    at: "--start",
  });
  expect(await refusalOf("card --start seven results.csv", files)).toMatchObject({
    fault: { type: "not-a-handicap" },
    at: "--start",
  });
  for (const given of ["1390.5", "high", "99999"]) {
    expect(await refusalOf(`card --start 7 --index ${given} results.csv`, files)).toMatchObject({
      fault: { type: "not-an-index", given },
      at: "--index",
    });
  }
  expect(await refusalOf("card --rules none --start 7 results.csv", files)).toMatchObject({ at: "--rules" });
  expect(await refusalOf("card --start 7 elsewhere.csv", files)).toMatchObject({
    fault: { type: "file-not-read", path: "elsewhere.csv" },
  });
  expect(await refusalOf("card --start 7")).toMatchObject({
    fault: { type: "command-line", problem: "missing required argument 'file'" },
  });
});
