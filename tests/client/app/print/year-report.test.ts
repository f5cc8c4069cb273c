/** A year in counts: what is counted, in which year, and what is not. */
import { expect, test } from "vitest";
import { leagueYear, yearAt, yearReport, yearsOf } from "../../../../packages/client/src/app/print/year-report.ts";
import type { MemoryClub } from "../entry/club-in-memory.ts";
import { clubInMemory, report } from "../entry/club-in-memory.ts";
import { DAY, paperLeague, slotReport } from "../league/paper-league.ts";

const year = yearAt("2031-06-14", 1);

async function played(): Promise<MemoryClub> {
  const club = await clubInMemory([
    { name: "Ann Ash", handicap: 8, index: 1349 },
    { name: "Bob Birch", handicap: 5 },
    { name: "Cy Cedar", handicap: 10 },
    { name: "Di Dogwood", handicap: 12 },
    { name: "Vic Vine", handicap: 6, visitor: "Elsewhere" },
  ]);
  const [ann, bob, cy, di, vic] = ["Ann", "Bob", "Cy", "Di", "Vic"].map((name) => club.id(name));
  await club.save(
    report([[ann!, 8]], [[bob!, 5]], [7, 3], { games: [{ score: [7, 3] }, { score: [2, 7] }, { score: [7, 6] }] }),
    report([[ann!, 7]], [[vic!, 6]], [4, 7], { play: "level", occasion: "inter-club-friendly", date: "2031-06-13" }),
    report(
      [
        [ann!, 8],
        [bob!, 5],
      ] as const,
      [
        [cy!, 10],
        [di!, 12],
      ] as const,
      [4, 2],
      { format: 7, date: "2031-02-01" },
    ),
    report([[cy!, 10]], [[di!, 12]], [7, 1], { date: "2030-12-31" }),
    report([[cy!, 10]], [[di!, 12]], [7, 0], { n: 2, games: [{ score: [7, 0], ended: "walkover" }] }),
  );
  return club;
}

test("games, people and kinds of play of one calendar year; the year before is not in it, nor is a game nobody played", async () => {
  const club = await played();
  const found = yearReport(club.book.state(), year);
  expect(found).toMatchObject({
    matches: 4,
    games: 5,
    singles: 4,
    doubles: 1,
    play: { handicap: 4, level: 1 },
    open: 0,
  });
  expect(found.formats).toEqual([
    [13, 4],
    [7, 1],
    [19, 0],
  ]);
  expect(found.occasions).toEqual([
    ["club-competition", 4],
    ["inter-club-friendly", 1],
  ]);
  expect(found.months.filter(([, many]) => many > 0)).toEqual([
    [2, 1],
    [6, 4],
  ]);
  expect(found.members).toEqual({ now: 4, played: 4, started: 0 });
  expect(found.visitors).toBe(1);
  expect(found.most.map(({ player, games }) => [player, games])).toEqual([
    [club.id("Ann"), 5],
    [club.id("Bob"), 4],
    ...[club.id("Cy"), club.id("Di")].sort().map((player) => [player, 1]),
  ]);
  expect(yearReport(club.book.state(), yearAt("2030-07-01", 1))).toMatchObject({ games: 1, members: { started: 4 } });
});

test("changes of handicap: played for or set, up or down, starting handicaps not among them", async () => {
  const club = await played();
  const set = {
    player: club.id("Bob"),
    handicap: 6,
    from: "2031-06-10",
    basis: "discretionary",
    reason: "back",
  } as const;
  await club.save({ kind: "handicap-set", body: set });
  const { changes } = yearReport(club.book.state(), year);
  expect(changes.map(({ player, from, to, set: bySetting }) => [player, from, to, bySetting])).toEqual([
    [club.id("Bob"), 5, 6, true],
    [club.id("Ann"), 8, 7, false],
  ]);
});

test("a year that begins in July lies across two, and every day is in exactly one year", async () => {
  expect(yearAt("2031-06-30", 7)).toEqual({ name: "2030/31", from: "2030-07-01", until: "2031-07-01" });
  expect(yearAt("2031-07-01", 7)).toEqual({ name: "2031/32", from: "2031-07-01", until: "2032-07-01" });
  expect(yearAt("2099-12-31", 12).name).toBe("2099/00");
  const club = await played();
  expect(yearsOf(club.book.state(), club.today, 1).map(({ name }) => name)).toEqual(["2031", "2030"]);
  expect(yearsOf(club.book.state(), club.today, 7).map(({ name }) => name)).toEqual(["2030/31"]);
  const whole = yearReport(club.book.state(), yearAt(club.today, 7));
  expect(whole.games).toBe(6);
  expect(whole.months[0]?.[0]).toBe(7);
});

test("league matches of the club's own fixtures, seen from its own side", async () => {
  const league = await paperLeague();
  await league.write("north", slotReport(league, 1, [3, 7]));
  const seen = (writer: "north" | "south") => leagueYear(league.as(writer), yearAt(DAY, 1))?.fixtures[0];
  expect(seen("north")).toMatchObject({ home: true, won: 0, lost: 1, open: 1, rival: league.clubs.south });
  expect(seen("south")).toMatchObject({ home: false, won: 1, lost: 0, open: 1, rival: league.clubs.north });
  expect(leagueYear(league.as("north"), yearAt("2030-01-01", 1))).toBeNull();
  expect(leagueYear(league.as("league"), yearAt(DAY, 1))).toBeNull();
});
