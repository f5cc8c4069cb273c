/** Whatever file somebody picks: a table or a refusal, nothing thrown, and no more work than its size allows. */
import fc from "fast-check";
import { expect, test } from "vitest";
import { decodeFile, MOST_BYTES } from "../../../../packages/client/src/app/files/decoding.ts";
import { MOST_ROWS, readTable } from "../../../../packages/client/src/app/files/reading.ts";
import { anyBytes, spoiltBytes } from "../../../support/spoilt.ts";

const SEED = 71_204;
const good = new TextEncoder().encode(
  [
    "Date,Winner,Loser,Score,Occasion",
    '2026-05-01,"Wren, Ada",Ben Ash,7-4,club',
    "2026-05-02,Cat Elm,Dan Fir,7-6,club",
    '2026-05-03,"Eve\nGorse",Fay Hazel,7-2 3-7 7-5,friendly',
    "",
  ].join("\r\n"),
);

test(`any bytes, and a good file a little changed: a table with as many cells in each row, or why not (seed ${SEED})`, () => {
  console.info(`seed ${SEED}`);
  let tables = 0;
  let refused = 0;
  fc.assert(
    fc.property(fc.oneof(anyBytes, spoiltBytes(good)), fc.constantFrom("detect", "yes", "no"), (bytes, heading) => {
      const text = decodeFile(bytes);
      const table = text.ok ? readTable(text.value, heading) : text;
      if (!table.ok) {
        refused += 1;
        expect(table.fault.type).toMatch(/^(file|table)-/);
        return;
      }
      tables += 1;
      const { rows, width } = table.value;
      for (const { cells, line } of rows) {
        expect(cells.length).toBe(width);
        expect(line).toBeGreaterThan(0);
      }
      // What is in the table was in the file.
      expect(rows.flatMap(({ cells }) => cells).join("").length).toBeLessThanOrEqual(text.ok ? text.value.length : 0);
    }),
    { seed: SEED, numRuns: 2_000 },
  );
  expect(tables).toBeGreaterThan(500);
  expect(refused).toBeGreaterThan(100);
});

test("a file over the limit is not read, nor a table of too many rows kept", () => {
  expect(decodeFile(new Uint8Array(MOST_BYTES + 1))).toMatchObject({ fault: { type: "file-too-big" } });
  const rows = "a,b\n".repeat(MOST_ROWS + 1);
  expect(readTable(rows, "no")).toMatchObject({ fault: { type: "table-too-long" } });
});
