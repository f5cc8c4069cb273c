/** What the README of the demo clubs tells, found in the books that come of the files. */
import { demoPlayer } from "@sward/client/demo";
import type { Card, GameLine, KeyId, MatchKey } from "@sward/core";
import { readLeague } from "@sward/core";
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

test("LG16 LG19 LG21 the league's table is what its files add up to: four fixtures settled, one disputed, one unfinished", () => {
  const { ledger } = books.get("beck-and-combe")!;
  const { table, outcomes, rules } = readLeague({ state: ledger.state(), counted: ledger.counted() }, "2026-11-25");
  expect(rules?.title).toBe("Teams of four, eight singles and two doubles, handicap play");
  expect(outcomes.map(({ result }) => result !== null)).toEqual([true, true, true, true, false, false]);

  // By hand from the file, Ferncombe's reports only: of each settled fixture the games each club won, and its hoops.
  const lines = (demoFiles().get("leagues/beck-and-combe/reports.csv") ?? "").split("\n").slice(1);
  const tallies = new Map<string, { games: number[]; hoops: number[] }>();
  for (const line of lines) {
    const cells = line.split(",");
    const [fixture = "", scores = "", device = ""] = [cells[1], cells[9], cells[11]];
    if (!device.startsWith("ferncombe/") || !/^fixture-[1-4]$/.test(fixture)) continue;
    const tally = tallies.get(fixture) ?? { games: [0, 0], hoops: [0, 0] };
    tallies.set(fixture, tally);
    const [own = 0, other = 0] = scores.split("-").map(Number);
    tally.games[own > other ? 0 : 1]! += 1;
    tally.hoops[0]! += own;
    tally.hoops[1]! += other;
  }
  const wins = [0, 0];
  for (const { games, hoops } of tallies.values()) {
    const [a = 0, b = 0] = games[0] === games[1] ? hoops : games;
    if (a !== b) wins[a > b ? 0 : 1]! += 1;
  }
  expect(wins[0]! + wins[1]!).toBe(4);
  const name = (club: KeyId): string => ledger.state().clubs.get(club)?.name ?? "";
  const rows = table?.rows.map(({ club, won, lost, points }) => [name(club), won, lost, points]);
  expect(new Set(rows)).toEqual(
    new Set([
      ["Ferncombe Croquet Club", wins[0], wins[1], 2 * wins[0]!],
      ["Winterbeck Croquet Club", wins[1], wins[0], 2 * wins[1]!],
    ]),
  );
  // As the README tells it.
  expect(table?.rows.map(({ club, points }) => [name(club), points])).toEqual([
    ["Winterbeck Croquet Club", 4],
    ["Ferncombe Croquet Club", 4],
  ]);
  expect(table?.steps.at(-1)?.by).toBe("games-difference");
});
