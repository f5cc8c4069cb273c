/** What the README of the demo clubs tells, found in the books that come of the files. */
import { demoPlayer } from "@sward/client/demo";
import type { Card, GameLine, MatchKey } from "@sward/core";
import { expect, test } from "vitest";
import { changed, demoFiles } from "./demo-files.ts";
import { booksFrom } from "./written-books.ts";

const books = booksFrom(demoFiles());

const cardOf = (slug: string, key: string, from = books): Card => {
  const card = from.get(slug)?.ledger.state().cards.get(demoPlayer(key));
  if (card === undefined) throw new Error(`${key} has no card at ${slug}`);
  return card;
};

const gamesOf = (card: Card, from = "", to = "9999"): GameLine[] =>
  card.lines.filter((line) => line.line === "game").filter(({ date }) => from <= date && date <= to);

const moves = (lines: readonly GameLine[]): (readonly [string, number, number])[] =>
  lines.flatMap(({ date, moved }) => (moved === null ? [] : [[date, moved.from, moved.to] as const]));

test("RP13 Oswin passes 1150 in the four days of the August Open, comes back, and is still 12", () => {
  const open = gamesOf(cardOf("ferncombe", "oswin-b"), "2026-08-13", "2026-08-16");
  expect(open.map(({ index }) => index)).toEqual([1140, 1150, 1160, 1150, 1140, 1130, 1140]);
  expect(moves(open)).toEqual([]);
});

test("RP19 RP22 Clemency's game of 10 October, found in November, makes her 9 under a signature that says 10", () => {
  const card = cardOf("ferncombe", "clemency-s");
  expect(moves(gamesOf(card))).toEqual([["2026-11-14", 10, 9]]);
  const [, signed] = card.signatures;
  expect(signed).toMatchObject({ upto: "2026-11-15", handicap: 10, index: 1243, standing: "touched" });
  expect(card.lines[signed?.firstTouched ?? -1]).toMatchObject({ date: "2026-10-10", score: [7, 5] });

  const files = demoFiles();
  const games = files.get("clubs/ferncombe/games.csv") ?? "";
  files.set("clubs/ferncombe/games.csv", games.replace(/^f298,.*\n/m, ""));
  const without = cardOf("ferncombe", "clemency-s", booksFrom(files));
  expect(without).toMatchObject({ handicap: 10, index: 1243 });
  expect(without.signatures.map(({ standing }) => standing)).toEqual(["holds", "holds"]);
});

test("RP7 Kezia was played off 9 when her card said 8", () => {
  const line = gamesOf(cardOf("winterbeck", "kezia-m"), "2026-11-19", "2026-11-19");
  expect(line).toEqual([expect.objectContaining({ off: 9, notice: { off: 9, record: 8 }, points: -10 })]);
});

test("MA7 MA8 the league match that two captains tell differently moves no card, and counts once one is corrected", () => {
  const disputed = (from: typeof books): MatchKey[] =>
    [...from.get("beck-and-combe")!.ledger.state().matches.values()]
      .filter(({ status }) => status === "held")
      .map(({ key }) => key);
  const [held] = disputed(books);
  expect(disputed(books)).toHaveLength(1);
  for (const [slug, key] of [
    ["ferncombe", "lorna-f"],
    ["winterbeck", "hamid-s"],
  ] as const) {
    expect(gamesOf(cardOf(slug, key)).some(({ match }) => match === held)).toBe(false);
  }

  const last = "b116,fixture-6,";
  const correction = `b117,fixture-5,4,2026-08-30,,handicap,13,hamid-s 10,lorna-f 14,5-7,,winterbeck/captains-phone,2026-11-24,b088,\n`;
  const settled = booksFrom(changed("leagues/beck-and-combe/reports.csv", last, correction + last));
  expect(disputed(settled)).toEqual([]);
  for (const [slug, key, points] of [
    ["ferncombe", "lorna-f", 10],
    ["winterbeck", "hamid-s", -10],
  ] as const) {
    expect(gamesOf(cardOf(slug, key, settled)).find(({ match }) => match === held)?.points).toBe(points);
  }
});

test("RP10 at Magpie Reach a handicap changes with the game, and a doubles win is worth five", () => {
  const jarrah = gamesOf(cardOf("magpie-reach", "jarrah-t"));
  expect(jarrah.at(-1)).toMatchObject({ date: "2026-11-18", index: 1202, moved: { from: 11, to: 10, after: null } });
  expect(
    new Set(jarrah.filter(({ reason }) => reason === "handicap-doubles").map(({ points }) => Math.abs(points))),
  ).toEqual(new Set([5]));
});

test("Keiko's games in England are on her card at home, seven of them, played off her own handicap", () => {
  const open = gamesOf(cardOf("magpie-reach", "keiko-b"), "2026-08-13", "2026-08-16");
  expect(open.map(({ off, notice }) => [off, notice])).toEqual(Array(7).fill([5, null]));
  expect(books.get("ferncombe")?.ledger.state().players.get(demoPlayer("keiko-b"))?.standing).toBe("visitor");
  expect(books.get("ferncombe")?.ledger.state().cards.has(demoPlayer("keiko-b"))).toBe(false);
});
