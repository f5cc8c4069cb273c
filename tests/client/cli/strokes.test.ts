import { expect, test } from "vitest";
import { answerOf, refusalOf, sward } from "./running.ts";

test("strokes --json lists every lawful choice with the players who receive", async () => {
  // Hassocks Croquet Club, Tournaments (Revised Rules): https://www.hassockscroquetclub.net/tournaments
  expect(await answerOf("strokes --rules england-2016 --format 13 --side 4,9 --side 10,6")).toEqual({
    choices: [
      {
        strokes: [
          { side: 1, handicap: 9, extra: 2 },
          { side: 2, handicap: 10, extra: 3 },
        ],
      },
    ],
  });
  // common practice, no source
  expect(await answerOf("strokes --side 12,11 --side 7,10")).toEqual({
    choices: [
      { strokes: [{ side: 1, handicap: 12, extra: 3 }] },
      {
        strokes: [
          { side: 1, handicap: 12, extra: 2 },
          { side: 1, handicap: 11, extra: 1 },
        ],
      },
    ],
  });
});

test("strokes follows the rule set and the length of the game", async () => {
  // Croquet North Carolina, 2013: http://croquetnc.org/reference/handicap-golf-croquet-introduction
  const older = "strokes --rules england-2016-like-pairing --side 2,7 --side 3,4";
  const shown = (extra: number) => ({
    choices: [
      {
        strokes: [
          { side: 1, handicap: 7, extra },
          { side: 2, handicap: 3, extra: 1 },
        ],
      },
    ],
  });
  expect(await answerOf(`${older} --format 13`)).toEqual(shown(2));
  expect(await answerOf(`${older} --format 7`)).toEqual(shown(1));
  // Australian GC rules course, session 6: https://slideplayer.com./amp/12942944
  expect(await answerOf("strokes --format 19 --side -6 --side 20")).toEqual({
    choices: [{ strokes: [{ side: 2, handicap: 20, extra: 38 }] }],
  });
});

test("strokes takes negative handicaps however they are written", async () => {
  const expected = { choices: [{ strokes: [{ side: 2, handicap: 4, extra: 6 }] }] };
  for (const typed of ["--side -2 --side 4", "--side=-2 --side 4", "--side \u22122 --side 4", "--side -2 --side=4"]) {
    expect(await answerOf(`strokes ${typed}`), typed).toEqual(expected);
  }
  expect(await answerOf("strokes --side -2,4 --side -4,3")).toEqual({
    choices: [
      {
        strokes: [
          { side: 1, handicap: 4, extra: 4 },
          { side: 2, handicap: 3, extra: 3 },
        ],
      },
    ],
  });
});

test("strokes for people: every choice in words, and whose word prevails", async () => {
  const two = await sward("strokes --side 12,11 --side 7,10");
  expect(two.out).toContain("12 and 11 against 7 and 10, 13-point game, handicap play (england-2016):");
  expect(two.out).toContain("choose one of 2 ways");
  expect(two.out).toContain("Choice 1\n  side 1: the 12 receives 3\nChoice 2\n");
  expect(two.out).toContain("committee always prevail");
  expect((await sward("strokes --side 10,10 --side 4,8")).out).toContain("the 10 named second receives 3");
  expect((await sward("strokes --side 4 --side 4")).out).toContain("nobody receives extra strokes");
});

test("strokes refuses what cannot be, naming the option", async () => {
  expect(await refusalOf("strokes --side 4 --side 13")).toMatchObject({
    fault: { type: "strokes-unknown-handicap", handicap: 13, side: 2 },
    at: "--side 13",
    message: expect.stringContaining("There is no handicap 13 in england-2016"),
  });
  expect(await refusalOf("strokes --side 4,x --side 13,4")).toMatchObject({
    fault: { type: "not-a-handicap", given: "x" },
    at: "--side 4,x",
  });
  for (const given of ["4.5", "", "+2", "--2", "4e1", "1000", "0x4"]) {
    expect(await refusalOf(`strokes --side=${given} --side 4`), given).toMatchObject({
      fault: { type: "not-a-handicap", given },
    });
  }
  expect(await refusalOf("strokes --side 4 --side 5,6")).toMatchObject({
    fault: { type: "strokes-sides", players: [1, 2] },
    at: "--side",
    message: expect.stringContaining("1 player and 2 players"),
  });
  expect(await refusalOf("strokes --side 4")).toMatchObject({
    fault: { type: "strokes-sides" },
    message: expect.stringContaining("There is 1 side."),
  });
  expect(await refusalOf("strokes --side 4 --side 5 --side 6")).toMatchObject({ fault: { type: "strokes-sides" } });
  expect(await refusalOf("strokes --rules england-1066 --side 4 --side 5")).toMatchObject({
    fault: { type: "rules-unknown", rules: "england-1066" },
    at: "--rules",
  });
});
