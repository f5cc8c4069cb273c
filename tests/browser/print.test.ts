/** The club's other prints on the built app in a real browser, each read back from its PDF; and where they are found. */
import type { Draft } from "@sward/core";
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

test("the handicap list has everybody's handicap in force, as of today, the young by their short names", async () => {
  const page = await scene.go("print/handicaps");
  const rows = await rowsOf(page, ".list-handicaps");
  expect(new Map(rows.map(([name, handicap]) => [name, handicap]))).toEqual(
    new Map(members.map(([key, name]) => [key === "finn" ? "Finn S." : name, minus(scene.off(key))])),
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
  await isWell(scene.device);
});

test("the year's report counts what the record has", async () => {
  const page = await scene.go("print/report");
  const year = today().slice(0, 4);
  const state = scene.scene.club.root.state();
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
  await isWell(scene.device);
});

test("a card folds: one sheet of A4 lying down, front beside back, games inside, nothing beyond a page of A5", async () => {
  const page = await scene.go(`print/card/${player("kit")}`);
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
    PREVAIL,
  ]) {
    expect(outside).toContain(words);
  }
  for (const words of ["Games Kit Underlea", "Date Opponent Theirs H/L Score +/− Index Hcp", "Wyn Orchard", PREVAIL]) {
    expect(inside).toContain(words);
  }
  const card = scene.scene.card("kit");
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
  await isWell(scene.device);
});

test("the chart has a sheet of its own with its trigger lines in black, whatever the scheme of the screen", async () => {
  const page = await scene.go(`print/chart/${player("kit")}`);
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
  await isWell(scene.device);
});

test("a blank match sheet has as many matches as asked for, and prints", async () => {
  const page = await scene.go("print/match");
  expect(await page.locator(".msheet-slot").count()).toBe(5);
  await page.getByLabel("Singles").selectOption("6");
  await page.getByLabel("Doubles").selectOption("3");
  await expect.poll(() => page.locator(".msheet-slot").count()).toBe(9);
  const sheets = await onPaper(page);
  expect(sheets.length).toBe(2);
  expect(sheets.map(({ text }) => text).join(" ")).toContain("9. Doubles, handicap play, 13 points");
  await isWell(scene.device);
});

test("prints are found from where one would look for them, and all of them from one list", async () => {
  const page = await scene.go("print");
  const names = await page.locator(".prints a").allTextContents();
  expect(names).toHaveLength(7);
  await isWell(scene.device);
  for (const [from, link, heading] of [
    ["strokes", "Wall chart to print", "Wall chart"],
    ["strokes", "Trigger and exchange tables", "Tables"],
    ["members", "Handicap list to print", "Handicap list"],
    [`members/${player("kit")}`, "Card to fold", "Kit Underlea: a card that folds"],
    [`members/${player("kit")}`, "Chart to print", "Kit Underlea: index over time"],
    ["sharing", "All that can be printed", "Print"],
  ] as const) {
    await scene.go(from);
    await page.getByRole("link", { name: link }).click();
    await page.getByRole("heading", { level: 1, name: heading }).waitFor();
  }
});

test("strokes: the receiver has a plan for each length of game, folded away", async () => {
  const page = await scene.go("strokes");
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
  await isWell(scene.device);
});

test("a full card of doubles with long names goes over several sheets and nothing runs off its page", async () => {
  const { root } = scene.scene.club;
  const seat = (key: string) => ({ player: player(key), off: scene.off(key) });
  const saved = await root.append(
    Array.from(
      { length: 70 },
      (_, at): Draft => ({
        kind: "match-reported",
        body: {
          date: before(today(), 70 - at),
          occasion: "club-friendly",
          n: 1,
          play: "handicap",
          format: 13,
          sides: [
            [seat("kit"), seat("ada")],
            [seat("cass"), seat("dov")],
          ],
          games: [{ score: [7, 5] }],
        },
      }),
    ),
  );
  if (!saved.ok) throw new Error(saved.fault.type);
  const long = {
    ada: "Wilhelmina F.-Cholmondeley",
    cass: "Maximilian Throckmorton W.",
    dov: "Bartholomew Wigglesworth",
  };
  await root.roster.write(
    new Map(Object.entries(long).map(([key, short]) => [player(key), { name: `${short} the younger`, short }])),
  );
  const page = await scene.go(`print/card/${player("kit")}?games=all`);
  await page.getByText(/^\d+ sheets, both sides of each\.$/).waitFor();
  await expect.poll(() => page.getByText("Maximilian Throckmorton W.").count()).toBeGreaterThan(60);
  const sides = await page.locator(".fold-sheet").count();
  const sheets = await printed(page, "A4");
  expect(sheets).toHaveLength(sides);
  expect(sheets.flatMap(({ cut }) => cut)).toEqual([]);
  await page.emulateMedia({ media: "print" });
  const over = await page
    .locator(".fold-panel")
    .evaluateAll((panels) => panels.filter((panel) => panel.scrollHeight > panel.clientHeight).length);
  expect(over).toBe(0);
  const rows = await page.locator(".fold-panel:has(th:text-is('Opponent')) tbody tr:not(.fold-blank)").count();
  expect(rows).toBe(scene.scene.card("kit").lines.length);
});
