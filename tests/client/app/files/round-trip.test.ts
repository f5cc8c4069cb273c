/** What is taken out and brought in again: every line is found in the record, whatever the record holds. */
import type { Draft, EventId, Game, MatchReported } from "@sward/core";
import fc from "fast-check";
import { expect, test } from "vitest";
import type { ExportSource } from "../../../../packages/client/src/app/files/export.ts";
import { createLabels, resultsSheet } from "../../../../packages/client/src/app/files/export.ts";
import { sheetCsv } from "../../../../packages/client/src/app/files/export-text.ts";
import { words } from "../../../../packages/client/src/app/words.ts";
import type { MemoryClub } from "../entry/club-in-memory.ts";
import { clubInMemory, report } from "../entry/club-in-memory.ts";
import { importAt, outcomeOf, told } from "./import-at-hand.ts";

const SEED = 20_310_614;

/** Two Veras with one short name, one whose name is another's short name, a name that is a formula, a pair's sign and a comma in names. */
const people = [
  { name: "Vera Lisle", handicap: 4 },
  { name: "Vela Lorne", handicap: -2 },
  { name: "=Rex Orme", handicap: 7 },
  { name: "Ida & Co", handicap: 9 },
  { name: "Noll, Pim", handicap: 11 },
  { name: "Ötti O’Hara-Lund", handicap: 2 },
];

async function newClub(): Promise<MemoryClub> {
  const club = await clubInMemory([...people, { name: "Gast Fremd", handicap: 5, visitor: "Elsewhere" }]);
  // The same short name for two, a full name that is another's short name, and one without any name.
  await club.book.roster.write(
    new Map([
      [club.id("Vera"), { name: "Vera Lisle", short: "V. L.", junior: true }],
      [club.id("Vela"), { name: "Vela Lorne", short: "V. L.", junior: true }],
      [club.id("Gast"), { name: "V L", short: "'=V" }],
    ]),
  );
  await club.save({
    kind: "event-opened",
    body: { event: CUP, title: "+Cup", occasion: "club-competition", from: "2031-05-01", to: "2031-05-03" },
  });
  return club;
}

const CUP = "AAAAAAAAAAAAAAAAAAAAAA" as EventId;

const source = ({ book, today }: MemoryClub): ExportSource => ({
  state: book.state(),
  named: (player) => {
    const record = book.roster.get(player);
    return record === undefined ? null : { ...record, junior: record.junior === true };
  },
  unnamed: words.nameUnknown,
  today,
});

const score: fc.Arbitrary<Game> = fc.oneof(
  fc.tuple(fc.constant(7), fc.nat(6)).map(([a, b]): Game => ({ score: [a, b] })),
  fc.tuple(fc.nat(6), fc.constant(7)).map(([a, b]): Game => ({ score: [a, b] })),
  fc.tuple(fc.nat(6), fc.nat(6)).map(([a, b]): Game => ({ score: [a, b], ended: "time" })),
);

interface Plan {
  readonly seats: readonly number[];
  readonly doubles: boolean;
  readonly day: number;
  readonly games: readonly Game[];
  readonly change: Partial<MatchReported>;
}

const plan: fc.Arbitrary<Plan> = fc.record({
  seats: fc.shuffledSubarray([0, 1, 2, 3, 4, 5, 6], { minLength: 4, maxLength: 4 }),
  doubles: fc.boolean(),
  day: fc.integer({ min: 1, max: 3 }),
  games: fc.array(score, { minLength: 1, maxLength: 3 }),
  change: fc.record(
    {
      play: fc.constantFrom("handicap" as const, "level" as const),
      start: fc.constantFrom("09:30", "14:00"),
      occasion: fc.constantFrom("ad-hoc" as const, "club-friendly" as const),
      excluded: fc.constant(true as const),
      event: fc.constant(CUP),
      n: fc.integer({ min: 1, max: 3 }),
    },
    { requiredKeys: [] },
  ),
});

function draftOf(club: MemoryClub, { seats, doubles, day, games, change }: Plan): Draft {
  const all = [...people, { name: "Gast Fremd", handicap: 5 }];
  const seated = (seats.length > 0 ? seats : [0, 1, 2, 3]).map((seat) => {
    const { name, handicap } = all[seat]!;
    return [club.id(name.split(" ")[0]!), handicap] as const;
  });
  const [a, b, c, d] = seated as [Seat, Seat, Seat, Seat];
  const sides: readonly [readonly Seat[], readonly Seat[]] = doubles
    ? [
        [a, b],
        [c, d],
      ]
    : [[a], [b]];
  return report(sides[0], sides[1], [7, 0], { date: `2031-05-0${day}`, games: [...games], ...change });
}
type Seat = readonly [ReturnType<MemoryClub["id"]>, number];

const takenOut = (club: MemoryClub, juniorsInFull: boolean): string =>
  sheetCsv(resultsSheet(source(club), createLabels(source(club), juniorsInFull)));

test(`results taken out and brought in again are all in the record (seed ${SEED})`, async () => {
  const check = fc.asyncProperty(
    fc.array(plan, { minLength: 1, maxLength: 14 }),
    fc.boolean(),
    async (plans, inFull) => {
      const club = await newClub();
      for (const one of plans) await club.save(draftOf(club, one));
      const text = takenOut(club, inFull);
      const importing = importAt(club);
      await importing.take("results.csv", text);
      const { counts, matches } = outcomeOf(importing);
      const games = [...club.book.state().matches.values()].reduce(
        (sum, { facts, reports }) => sum + (facts ?? reports[0]!.facts).games.length,
        0,
      );
      expect([told(importing).filter((line) => !/^\d+ recorded$/.test(line)), counts.recorded]).toEqual([[], games]);
      expect(matches).toEqual([]);
    },
  );
  await fc.assert(check, { seed: SEED, numRuns: 40 });
});

test(`so are they without the numbers of match and game, and in any order of lines (seed ${SEED})`, async () => {
  const check = fc.asyncProperty(fc.array(plan, { minLength: 1, maxLength: 10 }), fc.nat(), async (plans, turn) => {
    const club = await newClub();
    for (const one of plans) await club.save(draftOf(club, one));
    const sheet = resultsSheet(source(club), createLabels(source(club), false));
    const kept = sheet.columns.map((column) => column !== "match" && column !== "game");
    const without = (row: readonly (string | number | null)[]) => row.filter((_, at) => kept[at]);
    const rows = sheet.rows.map(without);
    const from = turn % rows.length;
    const turned = [...rows.slice(from), ...rows.slice(0, from)].reverse();
    const importing = importAt(club);
    await importing.take("", sheetCsv({ ...sheet, columns: without(sheet.columns) as string[], rows: turned }));
    expect(told(importing).filter((line) => !line.endsWith("recorded"))).toEqual([]);
  });
  await fc.assert(check, { seed: SEED, numRuns: 30 });
});

test("what is brought into an empty record is there the same, matches of several games too", async () => {
  const one = await newClub();
  const games: Game[] = [{ score: [7, 3] }, { score: [2, 7] }, { score: [6, 5], ended: "time" }];
  const level = { doubles: false, day: 1, change: { play: "level" as const } };
  for (const [at, seats] of [
    [0, 1],
    [1, 2],
    [2, 5],
  ].entries()) {
    await one.save(draftOf(one, { ...level, seats: [...seats, 3, 4], games: games.slice(0, at + 1) }));
  }
  const excluded = { seats: [0, 1, 2, 3], doubles: true, day: 2, change: { excluded: true as const } };
  await one.save(draftOf(one, { ...excluded, games: [{ score: [7, 6] }] }));
  // The other club's people have other ids, so what tells people of one name apart is left away: full names do here.
  const text = takenOut(one, true).replaceAll(/ \([A-Za-z0-9_-]{4,}\)/g, "");

  const other = await newClub();
  const importing = importAt(other);
  await importing.take("results.csv", text);
  expect(told(importing)).toEqual(Array.from({ length: 7 }, (_, at) => `${at + 2} new`));
  const { matches } = outcomeOf(importing);
  expect(matches.map((body) => body.games.length).sort()).toEqual([1, 1, 2, 3]);
  await other.save(...matches.map((body): Draft => ({ kind: "match-reported", body })));
  await importing.rework();
  expect(told(importing)).toEqual(Array.from({ length: 7 }, (_, at) => `${at + 2} recorded`));
});
