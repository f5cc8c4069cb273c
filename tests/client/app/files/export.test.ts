import fc from "fast-check";
import { expect, test } from "vitest";
import type { ExportSource, Sheet } from "../../../../packages/client/src/app/files/export.ts";
import {
  cardsSheet,
  createLabels,
  membersSheet,
  resultsSheet,
} from "../../../../packages/client/src/app/files/export.ts";
import { sheetCsv, sheetJson } from "../../../../packages/client/src/app/files/export-text.ts";
import { readTable } from "../../../../packages/client/src/app/files/reading.ts";
import { words } from "../../../../packages/client/src/app/words.ts";
import type { MemoryClub } from "../entry/club-in-memory.ts";
import { clubInMemory, report } from "../entry/club-in-memory.ts";

const SEED = 77_001;

async function newClub(): Promise<{ club: MemoryClub; source: ExportSource }> {
  const club = await clubInMemory([
    { name: "Ada Wren", handicap: 7 },
    { name: "Bo Linnet", handicap: 9 },
    { name: "Vic Tarrant", handicap: 5, visitor: "Elm" },
  ]);
  await club.book.roster.write(new Map([[club.id("Bo"), { name: "Bo Linnet", short: "Bo L.", junior: true }]]));
  await club.save(report([[club.id("Ada"), 7]], [[club.id("Bo"), 9]], [7, 4], { date: "2031-06-01", start: "10:00" }));
  await club.save(
    report([[club.id("Vic"), 5]], [[club.id("Bo"), 9]], [2, 7], { date: "2031-05-01", play: "level", excluded: true }),
  );
  const { book, today } = club;
  const named = (player: never) => {
    const record = book.roster.get(player);
    return record === undefined ? null : { ...record, junior: record.junior === true };
  };
  return {
    club,
    source: { state: book.state(), named: named as ExportSource["named"], unnamed: words.nameUnknown, today },
  };
}

const objects = ({ columns, rows }: Sheet) =>
  rows.map((row) => Object.fromEntries(columns.map((column, at) => [column, row[at]])));

test("members with handicap, index and games; a junior by the short name unless asked for in full", async () => {
  const { club, source } = await newClub();
  const card = (first: string) => club.book.state().cards.get(club.id(first))!;
  const sheet = (full: boolean) => objects(membersSheet(source, createLabels(source, full)));
  expect(sheet(false)).toEqual([
    {
      name: "Ada Wren",
      standing: "member",
      "home club": null,
      handicap: card("Ada").handicap,
      index: card("Ada").index,
      games: 1,
    },
    {
      name: "Bo L.",
      standing: "member",
      "home club": null,
      handicap: card("Bo").handicap,
      index: card("Bo").index,
      games: 2,
    },
    { name: "Vic Tarrant", standing: "visitor", "home club": "Elm", handicap: null, index: null, games: 1 },
  ]);
  expect(sheet(true).map(({ name }) => name)).toEqual(["Ada Wren", "Bo Linnet", "Vic Tarrant"]);
});

test("results by day, and every line of every card, as the record has them", async () => {
  const { club, source } = await newClub();
  const label = createLabels(source, true);
  expect(
    objects(resultsSheet(source, label)).map(({ date, start, play, counts, standing }) => [
      date,
      start,
      play,
      counts,
      standing,
    ]),
  ).toEqual([
    ["2031-05-01", null, "L", "no", "one-report"],
    ["2031-06-01", "10:00", "H", "yes", "one-report"],
  ]);
  const lines = objects(cardsSheet(source, label));
  for (const first of ["Ada", "Bo"]) {
    const { lines: own } = club.book.state().cards.get(club.id(first))!;
    const told = lines.filter(({ player }) => String(player).startsWith(first));
    expect(told.map((line) => [line["line"], line["date"], line["index"], line["handicap"]])).toEqual(
      own.map((line, at) => [at + 1, line.date, line.index, line.handicap]),
    );
    for (const [at, line] of own.entries()) {
      if (line.line !== "game") continue;
      const { score, points, off } = line;
      expect(told[at]).toMatchObject({
        hoops: score[0],
        "opponent hoops": score[1],
        points,
        "handicap played off": off,
      });
    }
  }
  // What left is nobody's name but a mark, where the roster has none.
  const stranger: ExportSource = { ...source, named: () => null };
  expect(objects(membersSheet(stranger, createLabels(stranger, false)))[0]?.["name"]).toMatch(/^Player not named/);
});

test("the JSON says the same as the CSV", async () => {
  const { source } = await newClub();
  const sheet = resultsSheet(source, createLabels(source, false));
  const json = JSON.parse(sheetJson(sheet, { club: "Larkhill", on: "2031-06-14" }));
  expect(json).toEqual({ sheet: "results", club: "Larkhill", on: "2031-06-14", lines: objects(sheet) });
  const csv = readTable(sheetCsv(sheet));
  expect(csv.ok && csv.value.rows.map(({ cells }) => cells)).toEqual(
    sheet.rows.map((row) => row.map((value) => (value === null ? "" : String(value)))),
  );
});

/** The first cells of a CSV text by RFC 4180 (https://www.rfc-editor.org/rfc/rfc4180#section-2), as far as the first line goes. */
function cellsOf(csv: string): readonly string[] {
  const cells: string[] = [];
  for (const [whole, quoted, plain, end] of csv.matchAll(/(?:"((?:[^"]|"")*)"|([^,\r\n]*))(,|\r\n)/g)) {
    cells.push(whole.startsWith('"') ? (quoted ?? "").replaceAll('""', '"') : (plain ?? ""));
    if (end !== ",") return cells;
  }
  return cells;
}

test(`no text cell begins a formula, and reading gives back what was written (seed ${SEED})`, () => {
  const text = fc
    .tuple(
      fc.constantFrom("", "=", "+", "-", "@", "\t", "\n", "'", "'=", "＝"),
      fc.string({ unit: "grapheme", maxLength: 8 }),
      fc.constantFrom("", "\n=1"),
    )
    .map((parts) => parts.join(""));
  fc.assert(
    fc.property(fc.array(text, { minLength: 1, maxLength: 5 }), (cells) => {
      const csv = sheetCsv({
        sheet: "members",
        columns: ["a", "b", "c", "d", "e"].slice(0, cells.length),
        rows: [cells, cells.map(() => 1)],
      });
      // As a spreadsheet sees it: the cell's own first sign.
      const seen = cellsOf(csv.slice(csv.indexOf("\r\n") + 2));
      expect(seen).toHaveLength(cells.length);
      for (const [at, cell] of seen.entries()) {
        expect(cell).not.toMatch(/^[=+\-@＝＋－＠\t\r\n]/);
        if (/^[=+\-@]/.test(cells[at]!)) expect(cell).toBe(`'${cells[at]}`);
      }
    }),
    { seed: SEED, numRuns: 300 },
  );
  const numbers = sheetCsv({ sheet: "members", columns: ["n"], rows: [[-2]] });
  expect(numbers).toContain("\r\n-2\r\n");
});
