/**
 * What the club prints, on the built app in a real browser: the tables of the rules against the published rows, every print read back
 * from its PDF (sheets, text, nothing cut off on A4 or A5), and the choices of each.
 */
import { handicapInForce } from "@sward/core";
import type { Page } from "playwright-core";
import { afterAll, beforeAll, expect, test } from "vitest";
import type { Device } from "../support/browser.ts";
import type { PrintedSheet } from "../support/printed.ts";
import { printed } from "../support/printed.ts";
import { members, player } from "../support/small-club.ts";
import type { Scene } from "./at-a-desk.ts";
import { expectAccessible, inStep, startScene, today } from "./at-a-desk.ts";

let scene: Scene;
let device: Device;

beforeAll(async () => {
  scene = await startScene();
  device = await scene.open(scene.club.passes.handicapper, "Strokes");
});
afterAll(() => scene?.close());

const prevail = "The governing body's regulations and your club's committee always prevail over these numbers.";
const minus = (value: number): string => (value < 0 ? `−${-value}` : String(value));

/** Goes to an address below the device and waits for the screen. */
async function go(place: string): Promise<Page> {
  const { page } = device;
  const base = /\/d\/[^/]+/.exec(page.url())?.[0] ?? "";
  await page.goto(`${scene.relay.origin}${base}/${place}`);
  await inStep(page);
  await page.getByRole("heading", { level: 1 }).waitFor();
  return page;
}

const rowsOf = (page: Page, selector: string): Promise<string[][]> =>
  page
    .locator(`${selector} tbody tr`)
    .evaluateAll((rows) => rows.map((row) => [...row.children].map((cell) => cell.textContent?.trim() ?? "")));

/** Every sheet of a print on both sizes of paper, after what every print must hold. */
async function onPaper(page: Page): Promise<readonly PrintedSheet[]> {
  for (const format of ["A5", "A4"] as const) {
    const sheets = await printed(page, format);
    expect(
      sheets.flatMap(({ cut }) => cut),
      format,
    ).toEqual([]);
    const all = sheets.map(({ text }) => text).join(" ");
    expect(all).toContain("Thornfield Croquet Club");
    expect(all).toContain(prevail);
    expect(all).toContain(String(new Date().getFullYear()));
    for (const furniture of ["Sharing", "In step", "To do", "Skip to", "What is printed"]) {
      expect(all, `${format}: ${furniture}`).not.toContain(furniture);
    }
    for (const { text } of sheets) expect(text.length, "an empty sheet").toBeGreaterThan(150);
    if (format === "A4") return sheets;
  }
  return [];
}

/** What stands beyond the edge of the screen and is not in a box that scrolls. */
const wider = (page: Page, width: number): Promise<readonly string[]> =>
  page.evaluate(
    (edge) =>
      [...document.querySelectorAll("main *")]
        .filter((one) => one.getBoundingClientRect().right > edge + 1)
        .filter((one) => one.closest(".scroll-x, .paper-scroll, .unseen") === null)
        .map((one) => `${one.tagName}.${one.className}: ${one.textContent?.slice(0, 40)}`),
    width,
  );

async function isWell(page: Page): Promise<void> {
  for (const [width, scheme] of [
    [1280, "light"],
    [390, "dark"],
    [390, "light"],
    [1280, "dark"],
  ] as const) {
    await page.setViewportSize({ width, height: 900 });
    await page.emulateMedia({ colorScheme: scheme, media: "screen", reducedMotion: "reduce" });
    await expectAccessible(page);
    expect(await wider(page, width)).toEqual([]);
  }
  expect(device.faults).toEqual([]);
}

test("trigger table on the screen is Table 1, row for row, each with its standing and its source", async () => {
  const page = await go("tables");
  // Croquet England, The Automatic Handicap System for Golf Croquet, Table 1
  // https://www.croquet.org.uk/?p=games/golf/handicapping/automatic
  const table1 = {
    handicaps: [-6, -5, -4, -3, -2, -1, 0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 14, 16, 18, 20],
    triggers: [
      2800, 2650, 2500, 2350, 2200, 2100, 2000, 1900, 1800, 1700, 1600, 1500, 1400, 1350, 1300, 1250, 1200, 1150, 1100,
      1050, 1000, 950, 900,
    ],
  };
  expect(await rowsOf(page, "[data-table=triggers]")).toEqual(
    table1.handicaps.map((handicap, at) => [minus(handicap), String(table1.triggers[at]), "published [2]"]),
  );
  const cited = page.getByRole("region", { name: "Sources" }).getByRole("listitem").nth(1);
  expect(await cited.getByRole("link").getAttribute("href")).toBe(
    "https://www.croquet.org.uk/?p=games/golf/handicapping/automatic",
  );
});

test("starting table on the screen is the published one of 2022, points of a game as published, level play within the bands", async () => {
  const page = await go("tables");
  // Croquet England, Setting an Initial Handicap (since April 2022): https://www.croquet.org.uk/?p=games/golf/handicapping/initial
  expect(await rowsOf(page, "[data-table=assessment]")).toEqual([
    ["50 to 53", "7", "1350", "published [5]"],
    ["54 to 56", "8", "1300", "published [5]"],
    ["57 to 60", "9", "1250", "published [5]"],
    ["61 to 63", "10", "1200", "published [5]"],
    ["64 to 67", "11", "1150", "published [5]"],
    ["68 to 70", "12", "1100", "published [5]"],
    ["71 to 78", "14", "1050", "published [5]"],
    ["79 or more", "16", "1000", "published [5]"],
  ]);
  // Croquet England, The Automatic Handicap System for Golf Croquet: ten points for handicap singles, doubles do not count.
  // https://croquet.org.uk/?p=games%2Fgolf%2Fhandicapping%2Fautomatic
  const points = await rowsOf(page, "[data-table=points]");
  expect(points[0]).toEqual(["Handicap singles", "10", "published [2]"]);
  expect(points[1]?.slice(1)).toEqual(["none: does not move the index", "published [3]"]);
  // No printed level-play table could be read: said beside it, and never "published".
  expect(points[2]?.slice(2)).toEqual(["common practice (no source)"]);
  // Scottish Croquet Association, Automatic Handicap Systems: 11 to 19 for a weaker winner, 1 to 9 for a stronger one.
  // https://scottishcroquet.org.uk/index.php/handicapping
  const matrix = await rowsOf(page, "[data-game=levelSingles]");
  expect(matrix).toHaveLength(23);
  for (const [winner, [, ...cells]] of matrix.entries()) {
    expect(cells).toHaveLength(23);
    for (const [loser, cell] of cells.entries()) {
      const value = Number(cell);
      if (winner === loser) expect(value).toBe(10);
      else if (winner > loser) expect(value).toBeGreaterThanOrEqual(11);
      else expect(value).toBeLessThanOrEqual(9);
    }
  }
  expect(await page.getByText("The printed table for level play could not be read.").count()).toBe(1);
});

test("the tables print on four sheets of A4, all of them, with the list of what is not known", async () => {
  const page = await go("tables");
  const sheets = await onPaper(page);
  expect(sheets).toHaveLength(4);
  const text = sheets.map((sheet) => sheet.text).join(" ");
  for (const words of [
    "Tables: England, since 2016",
    "−6 2800 published [2]",
    "20 900 published [2]",
    "79 or more 16 1000 published [5]",
    "club competition yes published",
    "ad-hoc game no published",
    "Not known, or not as one might think",
    "What happens above an index of 2950",
    "https://www.croquet.org.uk/?p=games/golf/handicapping/automatic",
  ]) {
    expect(text).toContain(words);
  }
  expect(text).not.toContain("Print the tables");
  await isWell(page);
});

test("the wall chart has every pairing with whose strokes they are, for each length, and prints on one sheet lying down", async () => {
  const page = await go("print/strokes");
  const order = [...members].sort((a, b) => off(a[0]) - off(b[0]) || (a[1] < b[1] ? -1 : 1));
  const shown = await rowsOf(page, ".wall");
  // Difference of handicaps in singles of 13 points: Hassocks Croquet Club, https://www.hassockscroquetclub.net/tournaments
  const cell = (own: number, theirs: number): string =>
    own > theirs ? String(own - theirs) : own === theirs ? "–" : `(${theirs - own})`;
  expect(shown).toEqual(
    order.map(([key, name], row) => [
      key === "finn" ? "Finn S." : name,
      minus(off(key)),
      ...order.map(([other], column) => (row === column ? "■" : cell(off(key), off(other)))),
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
  await isWell(page);
});

const off = (key: string): number => handicapInForce(scene.card(key), today()).handicap;

test("the handicap list has everybody's handicap in force, as of today, the young by their short names", async () => {
  const page = await go("print/handicaps");
  const rows = await rowsOf(page, ".list-handicaps");
  expect(new Map(rows.map(([name, handicap]) => [name, handicap]))).toEqual(
    new Map(members.map(([key, name]) => [key === "finn" ? "Finn S." : name, minus(off(key))])),
  );
  expect(rows.map(([name]) => name)).toEqual(rows.map(([name]) => name).sort());
  await page.getByText("1 member has no handicap yet and is not on it.").waitFor();
  await page.getByLabel("In order of").selectOption("handicap");
  await expect.poll(async () => (await rowsOf(page, ".list-handicaps"))[0]?.[0]).toBe("Hal Brindle");
  const sheets = await onPaper(page);
  expect(sheets).toHaveLength(1);
  const long = { weekday: "long", day: "numeric", month: "long", year: "numeric", timeZone: "UTC" } as const;
  const day = new Intl.DateTimeFormat("en-GB", long).format(new Date(`${today()}T00:00:00Z`));
  expect(sheets[0]?.text).toContain(`As of ${day}`);
  expect(sheets[0]?.text).not.toContain("Finn Sallow");
  await isWell(page);
});

test("the year's report counts what the record has", async () => {
  const page = await go("print/report");
  const year = today().slice(0, 4);
  const state = scene.club.root.state();
  const played = [...state.matches.values()].flatMap(({ facts }) => (facts?.date.startsWith(year) ? [facts] : []));
  const games = played.reduce((total, facts) => total + facts.games.length, 0);
  const facts = await page
    .locator(".report-facts")
    .evaluateAll((lists) => lists.map((list) => [...list.children].map((each) => each.textContent ?? "")));
  const all = facts.flat();
  const value = (name: string): number => Number(all[all.indexOf(name) + 1]);
  expect(value("Matches")).toBe(played.length);
  expect(value("Games")).toBe(games);
  expect(value("Games of singles") + value("Games of doubles")).toBe(games);
  expect(value("Games of handicap play") + value("Games of level play")).toBe(games);
  expect(value("Members now")).toBe(members.length + 1);
  const moves = [...state.cards.values()]
    .flatMap(({ lines }) => lines)
    .filter(({ moved, date }) => moved !== null && moved.from !== null && date.startsWith(year));
  expect(value("Lower") + value("Higher")).toBe(moves.length);
  const most = await rowsOf(page, "section:has(h3:text-is('Most games'))");
  const kits = played.filter(({ sides }) => sides.flat().some((seat) => seat.player === player("kit")));
  expect(most.find(([name]) => name === "Kit Underlea")?.[1]).toBe(
    String(kits.reduce((total, one) => total + one.games.length, 0)),
  );
  const sheets = await onPaper(page);
  expect(sheets.length).toBeLessThanOrEqual(2);
  expect(sheets.map(({ text }) => text).join(" ")).toContain(`The year ${year}`);
  await page.getByLabel("A year begins in").selectOption("July");
  await page.getByRole("heading", { name: /^The year \d{4}\/\d\d$/ }).waitFor();
  await isWell(page);
});

test("a card folds: one sheet of A4 lying down, front beside back, games inside, nothing beyond a page of A5", async () => {
  const page = await go(`print/card/${player("kit")}`);
  const sheets = await printed(page, "A4");
  expect(sheets.map(({ width, height }) => [Math.round(width / 10), Math.round(height / 10)])).toEqual([
    [84, 60],
    [84, 60],
  ]);
  expect(sheets.flatMap(({ cut }) => cut)).toEqual([]);
  const [outside = "", inside = ""] = sheets.map(({ text }) => text);
  for (const words of [
    "Kit Underlea",
    "Thornfield Croquet Club",
    "Changes of handicap",
    "6 → 7",
    "Trigger points",
    prevail,
  ]) {
    expect(outside).toContain(words);
  }
  for (const words of ["Games Kit Underlea", "Date Opponent Theirs H/L Score +/− Index Hcp", "Wyn Orchard", prevail]) {
    expect(inside).toContain(words);
  }
  const card = scene.card("kit");
  const indexes = await page.locator(".fold-sheet").nth(1).locator("td:nth-last-child(2)").allTextContents();
  expect(indexes.filter((text) => text !== "")).toEqual(card.lines.map(({ index }) => String(index)));
  await page.emulateMedia({ media: "print" });
  const over = await page
    .locator(".fold-panel")
    .evaluateAll((panels) =>
      panels.map((panel) => [panel.scrollHeight - panel.clientHeight, panel.scrollWidth - panel.clientWidth]),
    );
  expect(over).toEqual([
    [0, 0],
    [0, 0],
    [0, 0],
    [0, 0],
  ]);
  await isWell(page);
});

test("the chart has a sheet of its own with its trigger lines in black, whatever the scheme of the screen", async () => {
  const page = await go(`print/chart/${player("kit")}`);
  await page.emulateMedia({ colorScheme: "dark", media: "screen" });
  const inks = await page.locator(".chart line, .chart path, .chart circle, .chart text").evaluateAll((shapes) => [
    ...new Set(
      shapes.flatMap((shape) => {
        const { stroke, fill } = getComputedStyle(shape);
        return [stroke, fill];
      }),
    ),
  ]);
  expect(inks.filter((ink) => !["rgb(0, 0, 0)", "rgb(255, 255, 255)", "none"].includes(ink))).toEqual([]);
  expect(await page.locator(".chart-next").count()).toBe(2);
  const sheets = await onPaper(page);
  expect(sheets).toHaveLength(1);
  for (const words of ["1500", "1400", "1350", "Handicap 6 to 7"]) expect(sheets[0]?.text).toContain(words);
  await isWell(page);
});

test("a blank match sheet has as many matches as asked for, and prints", async () => {
  const page = await go("print/match");
  expect(await page.locator(".msheet-slot").count()).toBe(5);
  await page.getByLabel("Singles").selectOption("6");
  await page.getByLabel("Doubles").selectOption("3");
  await expect.poll(() => page.locator(".msheet-slot").count()).toBe(9);
  const sheets = await onPaper(page);
  expect(sheets.length).toBe(2);
  expect(sheets.map(({ text }) => text).join(" ")).toContain("9. Doubles, handicap play, 13 points");
  await isWell(page);
});

test("prints are found from where one would look for them, and all of them from one list", async () => {
  const page = await go("print");
  const names = await page.locator(".prints a").allTextContents();
  expect(names).toHaveLength(7);
  await isWell(page);
  for (const [from, link, heading] of [
    ["strokes", "Wall chart to print", "Wall chart"],
    ["strokes", "Trigger and exchange tables", "Tables"],
    ["members", "Handicap list to print", "Handicap list"],
    [`members/${player("kit")}`, "Card to fold", "Kit Underlea: a card that folds"],
    [`members/${player("kit")}`, "Chart to print", "Kit Underlea: index over time"],
    ["sharing", "All that can be printed", "Print"],
  ] as const) {
    await go(from);
    await page.getByRole("link", { name: link }).click();
    await page.getByRole("heading", { level: 1, name: heading }).waitFor();
  }
});

test("strokes: the receiver has a plan for each length of game, folded away", async () => {
  const page = await go("strokes");
  await page.getByLabel("One side, handicap").fill("16");
  await page.getByLabel("The other side, handicap").fill("14");
  await page.getByText("How to use them").click();
  const plans = page.locator(".strokes-plans");
  await plans.getByText("The 16, 2 extra strokes in 13 points. Few: keep them").waitFor();
  await page.getByLabel("The other side, handicap").fill("10");
  await plans.getByText("The 16, 6 extra strokes in 13 points. Enough to spread").waitFor();
  await page.getByLabel("The other side, handicap").fill("4");
  await plans.getByText("The 16, 12 extra strokes in 13 points. Many: one at almost every hoop").waitFor();
  await plans.getByText("Never carry one past the end").waitFor();
  await isWell(page);
});
