/** The wall chart of extra strokes: every pairing, for a small club and for a large one, and on paper. */
import { afterAll, beforeAll, expect, test } from "vitest";
import { printed } from "../support/printed.ts";
import { before, members, player } from "../support/small-club.ts";
import { today } from "./at-a-desk.ts";
import type { PrintingScene } from "./printing.ts";
import { isWell, minus, onPaper, PREVAIL, rowsOf, startPrinting } from "./printing.ts";

let scene: PrintingScene;

beforeAll(async () => {
  scene = await startPrinting();
});
afterAll(() => scene?.scene.close());

test("the wall chart has every pairing with whose strokes they are, for each length, and prints on one sheet lying down", async () => {
  const page = await scene.go("print/strokes");
  const order = [...members].sort((a, b) => scene.off(a[0]) - scene.off(b[0]) || (a[1] < b[1] ? -1 : 1));
  const shown = await rowsOf(page, ".wall");
  // Difference of handicaps in singles of 13 points: Hassocks Croquet Club, https://www.hassockscroquetclub.net/tournaments
  const cell = (own: number, theirs: number): string =>
    own > theirs ? String(own - theirs) : own === theirs ? "–" : `(${theirs - own})`;
  expect(shown).toEqual(
    order.map(([key, name], row) => [
      key === "finn" ? "Finn S." : name,
      minus(scene.off(key)),
      ...order.map(([other], column) => (row === column ? "■" : cell(scene.off(key), scene.off(other)))),
    ]),
  );
  const sheets = await onPaper(page);
  expect(sheets.map(({ width, height }) => width > height)).toEqual([true]);
  for (const [, name] of order) if (name !== "Finn Sallow") expect(sheets[0]?.text).toContain(name);

  await page.getByLabel("Length of game").selectOption("19");
  // 17 in 13 points is 25 in 19: 17 * 19 / 13 = 24.8.
  await expect.poll(async () => (await rowsOf(page, ".wall")).at(-1)?.[2]).toBe("25");
  await page.getByLabel("At the top").selectOption("every handicap");
  await expect.poll(() => page.locator(".wall thead th").count()).toBe(25);
  await page.getByText("Everybody is on it (12)").click();
  await page.getByRole("button", { name: "Nobody yet" }).click();
  await page.getByText("Nobody is on it: choose some members above.").waitFor();
  for (const name of ["Hal Brindle (−1)", "Gwen Ashdown (16)"]) await page.getByLabel(name).check();
  expect((await rowsOf(page, ".wall")).map(([name]) => name)).toEqual(["Hal Brindle", "Gwen Ashdown"]);
  await page.reload();
  await page.getByText("2 of 12 members are on it").waitFor();
  expect((await rowsOf(page, ".wall")).map(([name]) => name)).toEqual(["Hal Brindle", "Gwen Ashdown"]);
  await isWell(scene.device);
});

test("a large club's wall chart goes over several sheets, each with its head, and every pairing is on one of them", async () => {
  const { root } = scene.scene.club;
  const many = 18;
  const ids = Array.from({ length: many }, (_, at) => player(`extra ${String.fromCharCode(97 + at)}`));
  for (const [at, id] of ids.entries()) {
    const set = {
      player: id,
      handicap: at % 12,
      from: before(today(), 30),
      basis: "initial",
      reason: "start",
    } as const;
    const saved = await root.append([
      { kind: "player-joined", body: { player: id, standing: "member" } },
      { kind: "handicap-set", body: set },
    ]);
    if (!saved.ok) throw new Error(saved.fault.type);
  }
  await root.roster.write(
    new Map(
      ids.map((id, at) => [id, { name: `Aurelius Featherstonehaugh ${at}`, short: `Aurelius Featherston. ${at}` }]),
    ),
  );
  const page = await scene.go("print/strokes");
  await page.getByText("All members on 4 sheets of A4, lying down.").waitFor();
  await expect.poll(() => page.getByRole("rowheader", { name: "Aurelius Featherston. 17" }).count()).toBe(2);
  const cells = await page.locator(".wall tbody tr").evaluateAll((rows) => rows.map((row) => row.children.length - 2));
  expect(cells.reduce((total, each) => total + each, 0)).toBe(30 * 30);
  const sheets = await printed(page, "A4");
  expect(sheets).toHaveLength(4);
  expect(sheets.flatMap(({ cut }) => cut)).toEqual([]);
  for (const [at, { text }] of sheets.entries()) {
    expect(text).toContain("Extra strokes in singles, 13 points");
    expect(text).toContain(`Sheet ${at + 1} of 4.`);
    expect(text).toContain(PREVAIL);
  }
  await page.emulateMedia({ media: "print" });
  // A name that stands on end must stand inside its own cell.
  const outside = await page.locator(".wall-name").evaluateAll(
    (names) =>
      names.filter((name) => {
        const [own, cell] = [name.getBoundingClientRect(), name.closest("th")?.getBoundingClientRect()];
        return cell === undefined || own.top < cell.top - 1 || own.left < cell.left - 1 || own.right > cell.right + 1;
      }).length,
  );
  expect(outside).toBe(0);
  await page.emulateMedia({ media: "screen" });
  await isWell(scene.device);
});
