/** What the form reads of the record: handicaps to prefill, matches of the same day, what was entered last. */
import type { EntryId } from "@sward/core";
import { expect, test } from "vitest";
import { extrasOf } from "../../../../packages/client/src/app/entry/extras.ts";
import { enteredLately, lastPairings } from "../../../../packages/client/src/app/entry/lately.ts";
import { adviseOff } from "../../../../packages/client/src/app/entry/played-off.ts";
import { rulesOnDay } from "../../../../packages/client/src/app/entry/rules-on.ts";
import { nextNumber, reportedIn, sameDayMatches } from "../../../../packages/client/src/app/entry/same-match.ts";
import { clubInMemory, report, TODAY } from "./club-in-memory.ts";

const members = [
  { name: "Bea Fairlamb", handicap: 7, index: 1390 },
  { name: "Carl Underhill", handicap: 4 },
  { name: "Vera Ashdown", handicap: 0, visitor: "Winterbeck" },
];

test("a member is off what the card says for that day, and a change that waits is told", async () => {
  const club = await clubInMemory(members);
  const bea = club.id("Bea");
  await club.save(report([[bea, 7]], [[club.id("Carl"), 4]], [7, 5], { date: "2031-06-10" }));
  expect(adviseOff(club.desk, bea, "2031-06-09")).toEqual({ from: "card", off: 7, waiting: null });
  expect(adviseOff(club.desk, bea, "2031-06-10")).toEqual({
    from: "card",
    off: 7,
    waiting: { to: 6, after: "2031-06-10" },
  });
  expect(adviseOff(club.desk, bea, TODAY)).toEqual({ from: "card", off: 6, waiting: null });
});

test("a visitor is off what was last played off by that day; of a new one nobody knows", async () => {
  const club = await clubInMemory(members);
  const vera = club.id("Vera");
  expect(adviseOff(club.desk, vera, TODAY)).toEqual({ from: "nobody" });
  await club.save(report([[club.id("Bea"), 7]], [[vera, 3]], [7, 5], { date: "2031-06-10" }));
  await club.save(report([[club.id("Bea"), 7]], [[vera, 4]], [7, 5], { date: "2031-06-02" }));
  expect(adviseOff(club.desk, vera, TODAY)).toEqual({ from: "last-played", off: 3, on: "2031-06-10" });
  expect(adviseOff(club.desk, vera, "2031-06-05")).toEqual({ from: "last-played", off: 4, on: "2031-06-02" });
  expect(adviseOff(club.desk, vera, "2031-06-01")).toEqual({ from: "nobody" });
});

test("matches of the same players on a day are found whichever side was written first", async () => {
  const club = await clubInMemory(members);
  const [bea, carl] = [club.id("Bea"), club.id("Carl")];
  const [first] = await club.save(report([[bea, 7]], [[carl, 4]], [7, 5]));
  await club.save(report([[bea, 7]], [[carl, 4]], [7, 5], { play: "level" }));
  await club.save(report([[bea, 7]], [[club.id("Vera"), 4]], [7, 5]));
  const draft = report([[carl, 4]], [[bea, 7]], [7, 1]).body;
  const found = sameDayMatches(club.book.state(), draft, null);
  expect(found.map(({ alike }) => alike).sort()).toEqual([false, true]);
  expect(sameDayMatches(club.book.state(), draft, first!).map(({ alike }) => alike)).toEqual([false]);
  expect(sameDayMatches(club.book.state(), { ...draft, date: "2031-06-13" }, null)).toEqual([]);
  expect(nextNumber(club.book.state(), draft, null)).toBe(2);
  // A correction of the first keeps its number, also with the other side first.
  expect(nextNumber(club.book.state(), { ...draft, replaces: first! }, first!)).toBe(1);
  expect(reportedIn(club.book.state(), first!)?.reports.map(({ entry }) => entry)).toEqual([first]);
  expect(reportedIn(club.book.state(), "nothing" as EntryId)).toBeUndefined();
});

test("what was entered last stands first; taken back or corrected it does not stand", async () => {
  const club = await clubInMemory(members);
  const [bea, carl, vera] = [club.id("Bea"), club.id("Carl"), club.id("Vera")];
  const [one] = await club.save(report([[bea, 7]], [[carl, 4]], [7, 5]));
  const [two] = await club.save(report([[vera, 4]], [[bea, 7]], [7, 5]));
  const [three] = await club.save(report([[bea, 7]], [[carl, 4]], [7, 6], { n: 2 }));
  const entries = () => enteredLately(club.book, [one!, two!, three!], 9).map(({ report: { entry } }) => entry);
  expect(entries()).toEqual([three, two, one]);
  await club.save({ kind: "entry-withdrawn", body: { withdraws: two!, reason: "slip" } });
  expect(entries()).toEqual([three, one]);
  const lately = enteredLately(club.book, [one!, three!], 9);
  expect(lastPairings(lately, (player) => player === carl, 5)).toEqual([[[carl], [bea]]]);
});

test("extra strokes are there as soon as both handicaps are, every lawful way of them", async () => {
  const club = await clubInMemory(members);
  const rules = rulesOnDay(club.book.state(), TODAY);
  const game = { play: "handicap", format: 13 } as const;
  expect(extrasOf(rules, game, [[7], [16]])).toEqual({ type: "ways", ways: [[[0], [9]]] });
  expect(extrasOf(rules, game, null)).toEqual({ type: "not-yet" });
  expect(extrasOf(rules, { ...game, play: "level" }, [[7], [16]])).toEqual({ type: "level" });
  // 12 and 11 against 7 and 10: 3 and none, or 2 and 1. // common practice, no source
  expect(
    extrasOf(rules, game, [
      [12, 11],
      [7, 10],
    ]),
  ).toEqual({
    type: "ways",
    ways: [
      [
        [3, 0],
        [0, 0],
      ],
      [
        [2, 1],
        [0, 0],
      ],
    ],
  });
  expect(rulesOnDay({ rules: [] }, TODAY)).toBeUndefined();
});
