/** Rows of text in columns, numbers to the right as on a printed card. The last column is not padded, so it may be long. */
export function columns(head: readonly string[], rows: readonly (readonly (string | number)[])[]): string[] {
  const all = [head, ...rows];
  const isNumeric = head.map((_, at) => rows.length > 0 && rows.every((row) => /^[+-]?\d+$|^$/.test(String(row[at]))));
  const widths = head.map((_, at) => Math.max(...all.map((row) => String(row[at] ?? "").length)));
  const cell = (row: readonly (string | number)[], at: number): string => {
    const text = String(row[at] ?? "");
    if (isNumeric[at]) return text.padStart(widths[at] ?? 0);
    return at === head.length - 1 ? text : text.padEnd(widths[at] ?? 0);
  };
  return all.map((row) =>
    head
      .map((_, at) => cell(row, at))
      .join("  ")
      .trimEnd(),
  );
}
