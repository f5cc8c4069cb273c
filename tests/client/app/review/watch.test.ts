/** Players to look at, strokes over many games, seasons, and the review of the demo clubs as a whole. */
import type { PlayerCounts, ReviewedGame, StrokeRecord } from "@sward/core";
import { findRuleSet, reviewCounts, tally } from "@sward/core";
import { expect, test } from "vitest";
import { reviewClub, shareRow } from "../../../../packages/client/src/app/review/club-review.ts";
import { ALL, seasonAsked, seasonsIn, spanOf } from "../../../../packages/client/src/app/review/season.ts";
import { reviewStrokes } from "../../../../packages/client/src/app/review/strokes-review.ts";
import { LISTED, listedByChance, watch } from "../../../../packages/client/src/app/review/watch.ts";
import { bandWords, chanceWords, reviewWords } from "../../../../packages/client/src/app/words/review.ts";
import { demoFiles, records } from "../../../demo/demo-files.ts";
import { booksFrom } from "../../../demo/written-books.ts";
import { clubs, keyOfMatch, played, player } from "../../../support/cast.ts";

const match = keyOfMatch(played("2026-05-01", "ada 7", "ben 9", "7-4"));

/** So many games of somebody on the first side, so many of them won. */
function countsOf(name: string, play: "handicap" | "level", games: number, won: number, difference = 0): PlayerCounts {
  const nothing = { games: 0, won: 0 };
  const own = Array.from({ length: games }, (_, at) => {
    const game: ReviewedGame = {
      match,
      game: at + 1,
      date: "2026-05-01",
      play,
      format: 13,
      rules: "england-2016",
      sides: [
        { player: player(name), off: 9 },
        { player: player("other"), off: 9 },
      ],
      winner: at < won ? 0 : 1,
      strokes: [0, 0],
      difference,
    };
    return { game, side: 0 as const, won: at < won };
  });
  const all = tally(own);
  const [handicap, level] = play === "handicap" ? [all, nothing] : [nothing, all];
  return { player: player(name), handicap, level, giving: nothing, receiving: nothing, even: handicap, games: own };
}

test("listed are those whom chance takes so far one time in ten or less, the strongest evidence first", () => {
  const found = watch(
    [
      countsOf("even", "handicap", 20, 10),
      countsOf("some", "handicap", 18, 13), // 0.096
      countsOf("less", "handicap", 18, 12), // 0.238
      countsOf("most", "handicap", 18, 16),
      countsOf("few", "handicap", 9, 9),
    ],
    findRuleSet,
  );
  expect(found.listed.map((look) => look.player)).toEqual([player("most"), player("some")]);
  expect(found.listed[1]).toMatchObject({ games: 18, won: 13, expected: 9 });
  expect(found.listed[1]!.chance).toBeCloseTo(0.0963, 4);
  expect(found).toMatchObject({ players: 4, looks: 4 });
});

test("in level play the expectation is the curve's: a favourite who wins half is the odd one", () => {
  const level = watch([countsOf("strong", "level", 12, 6, 350), countsOf("even", "level", 12, 6)], findRuleSet);
  expect(level.listed.map((look) => look.player)).toEqual([player("strong")]);
  expect(level.listed[0]!.expected).toBeCloseTo(12 / (1 + 10 ** -0.7), 10);
  // The same games from the second side: triggers 350 below the opponent's.
  const weak = countsOf("weak", "level", 12, 6, 350);
  const second = { ...weak, games: weak.games.map((own) => ({ ...own, side: 1 as const })) };
  expect(watch([second], findRuleSet).listed[0]!.expected).toBeCloseTo(12 / (1 + 10 ** 0.7), 10);
});

test("how many chance alone would list is the chance of a listed result, added up over everybody", () => {
  // Of 10 games, 0, 1, 9 and 10 wins are listed: 2 * (1 + 10) / 1024. Two wins, at 0.109, are not.
  expect(listedByChance(new Array<number>(10).fill(0.5))).toBeCloseTo(22 / 1024, 12);
  const players = Array.from({ length: 40 }, (_, at) => countsOf(`p${at}`, "handicap", 10, 5));
  expect(watch(players, findRuleSet)).toMatchObject({ listed: [], looks: 40 });
  expect(watch(players, findRuleSet).byChance).toBeCloseTo((40 * 22) / 1024, 10);
  expect(reviewWords.watch.byChance(watch(players, findRuleSet))).toBe(
    "40 players have 10 games or more of one kind. Look at so many and some will seem odd: chance alone puts about one of them on this list. It has 0 entries.",
  );
  expect(listedByChance(new Array<number>(60).fill(0.7))).toBeLessThanOrEqual(LISTED);
});

const record = (given: number, hoops: readonly [number, boolean | null][], won: boolean | null): StrokeRecord => ({
  match,
  game: 1,
  date: "2026-05-01",
  player: player("ada"),
  given,
  taken: hoops.map(([hoop, made]) => ({ hoop, made })),
  unused: Math.max(0, given - hoops.length),
  won,
});

test("strokes over many games: given, used, lapsed, by how it ended and by hoop", () => {
  const review = reviewStrokes([
    record(
      3,
      [
        [1, true],
        [2, false],
        [2, null],
      ],
      true,
    ),
    record(5, [[2, true]], false),
    record(1, [[13, false]], false),
    record(2, [], null),
  ])!;
  expect(review.all).toEqual({ records: 4, given: 11, taken: 5, unused: 6 });
  expect(review.won).toEqual({ records: 1, given: 3, taken: 3, unused: 0 });
  expect(review.lost).toEqual({ records: 2, given: 6, taken: 2, unused: 4 });
  expect(review.lostWithUnused).toBe(1);
  expect(review.hoops).toEqual([
    { hoop: 1, taken: 1, known: 1, made: 1 },
    { hoop: 2, taken: 3, known: 2, made: 1 },
    { hoop: 13, taken: 1, known: 1, made: 0 },
  ]);
  expect(reviewStrokes([])).toBeNull();
});

test("a share is shown with its games and range, and with nothing where there are none", () => {
  expect(shareRow("giving", { games: 20, won: 15 })).toMatchObject({
    games: 20,
    won: 15,
    share: 0.75,
    standing: "above",
  });
  expect(shareRow("giving", { games: 0, won: 0 })).toMatchObject({ share: null, interval: null, standing: "too-few" });
});

test("members have cards here; newcomers are those still here", () => {
  const { north } = clubs("north");
  north.member("ada", 9);
  north.member("ben", 9);
  north.handicapper.joins("vic", "visitor");
  for (const day of [1, 2, 3]) {
    north.recorder.reports(played(`2026-05-0${day}`, "ada 9", "ben 9", "7-4"));
    north.recorder.reports(played(`2026-05-0${day}`, "ada 9", "vic 5", "7-4"));
  }
  const review = () => {
    const ledger = north.ledger();
    const counts = reviewCounts(ledger.state(), ledger.counted(), spanOf(ALL));
    return reviewClub(ledger.state(), counts, findRuleSet, reviewWords.fairness.band);
  };
  const both = new Set(["ada", "ben"].map(player));
  expect(new Set(review().members.map((each) => each.player))).toEqual(both);
  expect(new Set(review().newcomers.map((each) => each.player))).toEqual(both);
  north.handicapper.writes("player-left", { player: player("ben"), on: "2026-06-01" });
  expect(review().newcomers.map((each) => each.player)).toEqual([player("ada")]);
  expect(review().members).toHaveLength(2);
});

test("seasons are the record's years, the one that has begun last unless another is asked for", () => {
  const { north } = clubs("north");
  north.member("ada", 7);
  north.member("ben", 9);
  for (const date of ["2024-05-01", "2026-05-01", "2025-06-01", "2026-06-01"]) {
    north.recorder.reports(played(date, "ada 7", "ben 9", "7-4"));
  }
  const seasons = seasonsIn(north.state());
  expect(seasons).toEqual(["2026", "2025", "2024"]);
  expect(seasonAsked(undefined, seasons, "2026-11-25")).toBe("2026");
  expect(seasonAsked(undefined, seasons, "2025-12-31")).toBe("2025");
  expect(seasonAsked("2024", seasons, "2026-11-25")).toBe("2024");
  expect(seasonAsked("1999", seasons, "2026-11-25")).toBe("2026");
  expect(seasonAsked(ALL, seasons, "2026-11-25")).toBe(ALL);
  expect(seasonAsked(undefined, [], "2026-11-25")).toBe(ALL);
  const games = (season: string) => reviewCounts(north.state(), north.ledger().counted(), spanOf(season)).games.length;
  expect([games("2026"), games("2025"), games(ALL)]).toEqual([2, 1, 4]);
});

test("words: bands, chances, and no number without its games", () => {
  expect(bandWords(4, 6)).toBe("4 to 6");
  expect(bandWords(7, null)).toBe("7 or more");
  expect([0.9, 0.5, 0.4, 0.03, 0.0066, 0.00001].map(chanceWords)).toEqual([
    "more often than not",
    "more often than not",
    "about one time in 3",
    "about one time in 33",
    "about one time in 150",
    "less than one time in 1,000",
  ]);
  const look = {
    player: player("ada"),
    play: "handicap",
    games: 18,
    won: 14,
    expected: 9,
    chance: 0.0308837890625,
  } as const;
  expect(reviewWords.watch.evidence(look)).toBe(
    "has won 14 of 18 handicap games; chance alone would be as uneven as that, one way or the other, about one time in 32",
  );
  expect(reviewWords.player.words({ games: 4, won: 4 }, { low: 0.4, high: 1 }, "too-few")).toBe(
    "Only 4 games: too few to say anything (10 at least).",
  );
  expect(reviewWords.player.words({ games: 20, won: 10 }, { low: 0.27, high: 0.73 }, "about")).toBe(
    "Won 10 of 20 games (50%). So many games fit any true share of 27% to 73%. One half is among them: no sign that the handicap is wrong.",
  );
});

test("the demo clubs: every match is looked at or left out, and what is shown is what an independent count gives", () => {
  for (const [slug, { ledger }] of booksFrom(demoFiles())) {
    const state = ledger.state();
    if (state.as !== "club") continue;
    const counts = reviewCounts(state, ledger.counted(), spanOf("2026"));
    const review = reviewClub(state, counts, findRuleSet, reviewWords.fairness.band);
    const all = [...state.matches.values()].map((each) => (each.facts ?? each.reports[0]?.facts)?.games.length ?? 0);
    const leftOut = [...counts.leftOut.values()].reduce((sum, games) => sum + games, 0);
    expect([slug, counts.games.length + leftOut]).toEqual([slug, all.reduce((sum, games) => sum + games, 0)]);

    // The cards say the same of their members' games: lines of singles that moved the index.
    for (const card of state.cards.values()) {
      const lines = card.lines.flatMap((line) => (line.line === "game" && line.opponents.length === 1 ? [line] : []));
      const handicap = lines.filter(({ reason }) => reason === "handicap-singles");
      const own = counts.players.get(card.player)?.handicap ?? { games: 0, won: 0 };
      expect(own).toEqual({ games: handicap.length, won: handicap.filter(({ points }) => points > 0).length });
    }
    const receivers = review.receivers.reduce((sum, { games }) => sum + games, 0);
    expect(receivers + review.noStrokes).toBe(counts.games.filter(({ play }) => play === "handicap").length);
    expect(review.watch.players).toBeGreaterThan(10);
    expect(review.strokes).toBeNull();
  }
});

/** Extra strokes of a difference of handicaps: 7 and 19 points in proportion to 13, halves up. */
const strokesOf = (difference: number, format: number): number => Math.floor((2 * difference * format + 13) / 26);

interface Played {
  readonly offs: readonly number[];
  readonly format: number;
  /** Handicap the winner was played off. */
  readonly winner: number;
}

/** Receivers' games and wins by band. */
function inBands(games: readonly Played[]): readonly (readonly [games: number, won: number])[] {
  const bands = [1, 2, 3].map(() => [0, 0] as [number, number]);
  for (const { offs, format, winner } of games) {
    const strokes = strokesOf(Math.max(...offs) - Math.min(...offs), format);
    const band = bands[strokes === 0 ? -1 : strokes <= 3 ? 0 : strokes <= 6 ? 1 : 2];
    if (band === undefined) continue;
    band[0] += 1;
    if (winner === Math.max(...offs)) band[1] += 1;
  }
  return bands;
}

/** Handicap singles that count, from the expected cards and the lines they name: nothing of it is worked out by core. */
function gamesInFiles(club: string): readonly Played[] {
  const files = demoFiles();
  const written = records(files, `clubs/${club}/games.csv`);
  const told = records(files, "leagues/beck-and-combe/reports.csv");
  const rowOf = new Map([
    ...told.map((row) => [`${row["fixture"]}/${row["slot"]}`, row] as const),
    ...written.map((row) => [row["id"]!, row] as const),
  ]);
  const sidesOf = (row: Record<string, string>) => [row["side_a"]!, row["side_b"]!].map((side) => side.split(" "));
  const cards = records(files, `expected/${club}.csv`);
  const games = new Map<string, Played>();
  for (const card of cards.filter(({ why }) => why === "handicap-singles")) {
    const [own, other] = sidesOf(rowOf.get(card["game"]!)!).sort(([name]) => (name === card["player"] ? -1 : 1));
    const winner = Number(card["points"]!.startsWith("+") ? own![1] : other![1]);
    const offs = [Number(own![1]), Number(other![1])];
    games.set(`${card["game"]} ${card["number"]}`, { offs, format: Number(card["format"]), winner });
  }
  // Two visitors in the club's own tournament: on no card, and in the book all the same.
  const members = new Set(cards.map(({ player: who }) => who));
  for (const row of written.filter(
    ({ play, side_a, occasion }) => play === "handicap" && !side_a!.includes("+") && occasion === "calendar-event",
  )) {
    const sides = sidesOf(row);
    if (sides.some(([name]) => members.has(name!))) continue;
    const [a, b] = row["scores"]!.split("-").map(Number);
    const offs = sides.map(([, off]) => Number(off));
    games.set(row["id"]!, { offs, format: Number(row["format"]), winner: offs[a! > b! ? 0 : 1]! });
  }
  return [...games.values()];
}

test.each(["ferncombe", "winterbeck", "magpie-reach"])("receivers at %s, counted from the expected cards", (club) => {
  const { ledger } = booksFrom(demoFiles()).get(club)!;
  const { receivers } = reviewCounts(ledger.state(), ledger.counted(), spanOf("2026"));
  const counted = inBands(gamesInFiles(club));
  expect(counted.every(([games]) => games > 25)).toBe(true);
  expect(receivers.map(({ games, won }) => [games, won])).toEqual(counted);
});
