import { expect, test } from "vitest";
import { answerOf, refusalOf, sward } from "./running.ts";

test("exchange --json gives the points", async () => {
  // common practice, no source
  expect(await answerOf("exchange --play level --winner 4 --loser 4")).toEqual({ points: 10 });
  expect(await answerOf("exchange --rules england-2016 --play level --winner 4 --loser 1")).toEqual({ points: 16 });
  expect(await answerOf("exchange --play level --winner 1 --loser 4")).toEqual({ points: 4 });
  expect(await answerOf("exchange --play level --winner -6 --loser 20")).toEqual({ points: 1 });
  expect(await answerOf("exchange --play level --winner 20 --loser -6")).toEqual({ points: 19 });
  // Croquet England: https://www.croquet.org.uk/?p=games/golf/handicapping/automatic
  expect(await answerOf("exchange --play handicap --winner 16 --loser -2")).toEqual({ points: 10 });
});

test("exchange of a pair", async () => {
  // Newcastle Park club (Croquet NSW): https://www.revolutionise.com.au/newcastlepark/gc-handicaps
  const doubles = "exchange --play handicap --winner 4,9 --loser 10,6";
  expect(await answerOf(`${doubles} --rules new-south-wales-2022`)).toEqual({ points: 5 });
  // Croquet England: https://croquet.org.uk/?p=games%2Fgolf%2Fhandicapping%2Fautomatic
  expect(await answerOf(doubles)).toEqual({ points: 0 });
});

test("exchange for people says where the points come from", async () => {
  const level = await sward("exchange --play level --winner 4 --loser 1");
  expect(level.out).toContain("the winner's index goes up 16, the loser's goes down 16.");
  expect(level.out).toContain("common practice, no published table could be read");
  expect(level.out).toContain("committee always prevail");
  expect((await sward("exchange --play handicap --winner 4 --loser 1")).out).toContain("as published");
});

test("exchange refuses what cannot be, naming the option", async () => {
  expect(await refusalOf("exchange --play level --winner 13 --loser 4")).toMatchObject({
    fault: { type: "exchange-unknown-handicap", side: "winner", handicap: 13 },
    at: "--winner",
  });
  expect(await refusalOf("exchange --play handicap --winner 4 --loser 21")).toMatchObject({ at: "--loser" });
  expect(await refusalOf("exchange --play level --winner 4 --loser four")).toMatchObject({
    fault: { type: "not-a-handicap", given: "four" },
    at: "--loser",
  });
  expect(await refusalOf("exchange --play level --winner 4 --loser 4,6")).toMatchObject({
    fault: { type: "exchange-sides", winners: 1, losers: 2 },
  });
  expect(await refusalOf("exchange --rules new-south-wales-2022 --play level --winner 4,5 --loser 4,6")).toMatchObject({
    fault: { type: "exchange-not-read", play: "level", players: 4 },
  });
});
