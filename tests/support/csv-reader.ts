/**
 * A reader of comma-separated values by the grammar of RFC 4180, section 2 (https://www.rfc-editor.org/rfc/rfc4180#section-2), letter
 * by letter: what is taken out of the record is read back by something that shares no code with what wrote it.
 */

/** Rows of cells; a mark of byte order is taken off. @throws on a quotation mark where none may stand, or one that is not closed */
export function readCsv(text: string): readonly (readonly string[])[] {
  const rows: string[][] = [];
  let row: string[] = [];
  let at = text.startsWith("\uFEFF") ? 1 : 0;
  while (at < text.length) {
    let cell = "";
    if (text[at] === '"') {
      for (at += 1; text[at] !== '"' || text[at + 1] === '"'; at += 1) {
        if (at >= text.length) throw new Error("a quotation mark is not closed");
        if (text[at] === '"') at += 1;
        cell += text[at];
      }
      at += 1;
    } else {
      for (; at < text.length && text[at] !== "," && text[at] !== "\r"; at += 1) {
        if (text[at] === '"') throw new Error("a quotation mark within a plain cell");
        cell += text[at];
      }
    }
    row.push(cell);
    if (text[at] === ",") at += 1;
    else if (text.startsWith("\r\n", at)) {
      at += 2;
      rows.push(row);
      row = [];
    } else throw new Error(`neither a comma nor the end of a line at ${at}`);
  }
  return rows;
}

/** Each row by the names of the first. */
export function csvRecords(text: string): readonly Readonly<Record<string, string>>[] {
  const [heading = [], ...rows] = readCsv(text);
  return rows.map((row) => {
    if (row.length !== heading.length) throw new Error(`a row of ${row.length} cells under ${heading.length} headings`);
    return Object.fromEntries(heading.map((name, at) => [name, row[at] ?? ""]));
  });
}
