import { expect, test } from "vitest";
import { decodeFile } from "../../../../packages/client/src/app/files/decoding.ts";
import type { Table } from "../../../../packages/client/src/app/files/reading.ts";
import { MOST_ROWS, readTable } from "../../../../packages/client/src/app/files/reading.ts";

const table = (text: string): Table => {
  const read = readTable(text);
  if (!read.ok) throw new Error(read.fault.type);
  return read.value;
};

test("commas, semicolons and what a spreadsheet pastes are told apart by the first line", () => {
  for (const [sign, name] of [
    [",", ","],
    [";", ";"],
    ["\t", "\t"],
  ] as const) {
    const read = table(`${["date", "player", "opponent"].join(sign)}\n${["2031-06-01", "Ada", "Bo"].join(sign)}`);
    expect([read.delimiter, read.heading, read.rows]).toEqual([
      name,
      ["date", "player", "opponent"],
      [{ line: 2, cells: ["2031-06-01", "Ada", "Bo"] }],
    ]);
  }
  expect(table('"Wren, Ada, the elder";Bo;7-4').delimiter).toBe(";");
});

test("lines are counted as an editor shows them, over empty lines and quoted ones", () => {
  const read = table('\uFEFFdate,player,opponent\r\n\r\n2031-06-01,"Ada\nWren",Bo\r\n,,\r\n2031-06-02,Ada,Bo\r\n');
  expect(read.rows.map(({ line }) => line)).toEqual([3, 6]);
  expect(read.heading?.[0]).toBe("date");
});

test("the first row is a heading when its words are, and data when it is a game", () => {
  expect(table("Ada Wren\tBo Linnet\t7-4\nCass\tDov\t7-5").heading).toBeNull();
  expect(table("Ada Wren\tBo Linnet\t7-4").rows[0]?.line).toBe(1);
  expect(table("Played on\tWinner\tx\n1/6/2031\tAda\t7-4").heading).toEqual(["Played on", "Winner", "x"]);
  // In words nobody told us: what is above a game and has nothing of one.
  expect(table("Tag;Heim;Gast;Ergebnis\n1.6.2031;Ada;Bo;7:4").heading).toEqual(["Tag", "Heim", "Gast", "Ergebnis"]);
  expect(table("Ada;Bo;seven four\nCass;Dov;none").heading).toBeNull();
  expect(readTable("Ada,Bo,7-4", "yes")).toEqual({ ok: false, fault: { type: "table-empty" } });
});

test("the apostrophe that keeps a cell from being a formula is taken off, once", () => {
  expect(table("Ada,'=1+1,''-2,'tis,O'Hara").rows[0]?.cells).toEqual(["Ada", "=1+1", "'-2", "'tis", "O'Hara"]);
});

test("an unclosed quotation mark is told with the line it opens on, and nothing is read over it", () => {
  expect(readTable('date,player\n2031-06-01,"Ada\n2031-06-02,Bo\n')).toEqual({
    ok: false,
    fault: { type: "table-quotes", line: 2 },
  });
});

test("nothing, and too much, are refused", () => {
  expect(readTable(" \n,,\n")).toEqual({ ok: false, fault: { type: "table-empty" } });
  const long = readTable("Ada,Bo,7-4\n".repeat(MOST_ROWS + 1));
  expect(long).toEqual({ ok: false, fault: { type: "table-too-long", lines: MOST_ROWS + 1, most: MOST_ROWS } });
});

test("bytes are read as what the spreadsheet wrote them in; a workbook and a picture are not text", () => {
  const name = "Zoë Brünn";
  const utf8 = new TextEncoder().encode(name);
  const utf16 = Uint8Array.from([0xff, 0xfe, ...[...name].flatMap((sign) => [sign.charCodeAt(0), 0])]);
  // The letters of this name have the same place in windows-1252 as in Unicode
  // (https://encoding.spec.whatwg.org/index-windows-1252.txt).
  const western = Uint8Array.from([...name].map((sign) => sign.charCodeAt(0)));
  for (const bytes of [utf8, utf16, western]) expect(decodeFile(bytes)).toEqual({ ok: true, value: name });
  // First bytes of a zip file, which a workbook is: PKWARE, APPNOTE 4.3.7, https://pkware.cachefly.net/webdocs/casestudies/APPNOTE.TXT
  expect(decodeFile(Uint8Array.from([0x50, 0x4b, 3, 4, 20]))).toEqual({
    ok: false,
    fault: { type: "file-is-workbook" },
  });
  expect(decodeFile(Uint8Array.from([1, 0, 2]))).toEqual({ ok: false, fault: { type: "file-not-text" } });
});
