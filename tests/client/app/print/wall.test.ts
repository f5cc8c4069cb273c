/** The wall chart: every pairing once, on sheets that fit, and each cell what core says of it. */
import type { RuleSet } from "@sward/core";
import { extraStrokes, findRuleSet } from "@sward/core";
import fc from "fast-check";
import { expect, test } from "vitest";
import type { WallPerson } from "../../../../packages/client/src/app/print/wall-plan.ts";
import {
  chosenPeople,
  columnsOfHandicaps,
  columnsOfPeople,
  evenly,
  rowName,
  SHEET,
  tokenOf,
  wallCells,
  wallPeople,
  wallSheets,
} from "../../../../packages/client/src/app/print/wall-plan.ts";
import { clubInMemory } from "../entry/club-in-memory.ts";

const england = findRuleSet("england-2016") as RuleSet;
const handicaps = england.triggers.map(({ handicap }) => handicap);
const people = (many: number): readonly WallPerson[] =>
  Array.from({ length: many }, (_, at) => ({
    player: `${String(at).padStart(8, "0")}${"x".repeat(14)}` as WallPerson["player"],
    name: `Person ${at}`,
    short: `P ${at}`,
    handicap: handicaps[at % handicaps.length]!,
  }));

test("members with a card, strongest first; visitors, people who left and people without a handicap are not on it", async () => {
  const club = await clubInMemory([
    { name: "Zoe Ash", handicap: 4 },
    { name: "Abe Oak", handicap: 12 },
    { name: "Bea Elm", handicap: 4 },
    { name: "Vic Fir", handicap: 7, visitor: "Elsewhere" },
  ]);
  const named = (player: WallPerson["player"]) => {
    const record = club.book.roster.get(player)!;
    return { name: record.name, short: record.short };
  };
  const found = wallPeople(club.book.state(), named, club.today);
  expect(found.map(({ name, handicap }) => [name, handicap])).toEqual([
    ["Bea Elm", 4],
    ["Zoe Ash", 4],
    ["Abe Oak", 12],
  ]);
});

test("every pairing is on exactly one sheet, and no sheet is larger than paper", () => {
  const seed = 20_261_125;
  console.info(`wall sheets, seed ${seed}`);
  const size = fc.record({ rows: fc.integer({ min: 1, max: 30 }), columns: fc.integer({ min: 1, max: 30 }) });
  fc.assert(
    fc.property(fc.integer({ min: 0, max: 120 }), fc.integer({ min: 0, max: 120 }), size, (rows, columns, most) => {
      const sheets = wallSheets(people(rows), columnsOfPeople(people(columns)), most);
      const pairs = sheets.flatMap((sheet) =>
        sheet.rows.flatMap((row) => sheet.columns.map((column) => `${row.player} ${column.key}`)),
      );
      expect(pairs).toHaveLength(rows * columns);
      expect(new Set(pairs).size).toBe(rows * columns);
      for (const sheet of sheets) {
        expect(sheet.rows.length).toBeLessThanOrEqual(most.rows);
        expect(sheet.columns.length).toBeLessThanOrEqual(most.columns);
      }
    }),
    { seed, numRuns: 60 },
  );
});

test("sheets are evenly filled: one member more than fits makes two halves, not a sheet with one row", () => {
  expect(evenly(people(SHEET.rows + 1), SHEET.rows).map((part) => part.length)).toEqual([12, 11]);
  expect(wallSheets(people(22), columnsOfHandicaps(england))).toHaveLength(1);
  expect(wallSheets(people(60), columnsOfPeople(people(60)))).toHaveLength(9);
  expect(wallSheets(people(60), columnsOfHandicaps(england))).toHaveLength(3);
});

test("each cell says what core says, to whom the strokes belong, and marks oneself and a handicap the table lacks", () => {
  const all = people(23);
  for (const format of [13, 7, 19] as const) {
    const cellOf = wallCells(england, format);
    for (const row of all) {
      for (const column of columnsOfPeople(all)) {
        const cell = cellOf(row, column);
        if (row.player === column.player) {
          expect(cell).toEqual({ type: "self" });
          continue;
        }
        const asked = extraStrokes(england, { format, sides: [[row.handicap], [column.handicap]] });
        const [stroke] = asked.ok ? asked.value.choices[0]!.strokes : [];
        expect(cell).toEqual(
          stroke === undefined
            ? { type: "none" }
            : { type: stroke.side === 1 ? "receives" : "gives", extra: stroke.extra },
        );
      }
    }
  }
  // A difference of 4 in a 13-point game, 5 against 9: West Chiltington Croquet Club, Handicaps gives the difference itself.
  // https://www.westchiltingtoncroquet.com/handicaps
  const [five, nine] = [
    { ...all[0]!, handicap: 5 },
    { ...all[1]!, handicap: 9 },
  ];
  expect(wallCells(england, 13)(nine, columnsOfPeople([five])[0]!)).toEqual({ type: "receives", extra: 4 });
  expect(wallCells(england, 13)(five, columnsOfPeople([nine])[0]!)).toEqual({ type: "gives", extra: 4 });
  const thirteen = { ...all[2]!, handicap: 13 };
  expect(wallCells(england, 13)(thirteen, columnsOfPeople([five])[0]!)).toEqual({ type: "unknown" });
});

test("a name too long for one line of a row is written short", () => {
  const [one] = people(1);
  expect(rowName({ ...one!, name: "Persephone Featherstonehau" })).toBe("Persephone Featherstonehau");
  expect(rowName({ ...one!, name: "Persephone Featherstonehaugh" })).toBe("P 0");
});

test("an address names those who are on it; one that names nobody is empty, and none at all is everybody", () => {
  const all = people(5);
  expect(chosenPeople(all, undefined)).toEqual(all);
  expect(chosenPeople(all, "")).toEqual([]);
  expect(chosenPeople(all, `${tokenOf(all[3]!.player)}.${tokenOf(all[1]!.player)}.gone`)).toEqual([all[1], all[3]]);
});
