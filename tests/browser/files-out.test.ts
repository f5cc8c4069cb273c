/**
 * Members, results and cards taken out as files, read back by readers that share nothing with what wrote them and held to the record.
 * A junior's full name leaves the club only when somebody asks for it.
 */
import { readFile } from "node:fs/promises";
import type { GameLine } from "@sward/core";
import { handicapInForce } from "@sward/core";
import type { Page } from "playwright-core";
import { afterAll, afterEach, beforeAll, expect, test } from "vitest";
import { csvRecords } from "../support/csv-reader.ts";
import { members, player } from "../support/small-club.ts";
import type { Scene } from "./at-a-desk.ts";
import { expectAccessible, startScene, today } from "./at-a-desk.ts";

let scene: Scene;

beforeAll(async () => {
  scene = await startScene();
});
afterEach(() => Promise.all(scene.browser.contexts().map((context) => context.setOffline(false))));
afterAll(() => scene?.close());

async function atFiles(pass: "handicapper" | "reader") {
  const device = await scene.open(scene.club.passes[pass], "Sharing");
  await device.page.getByRole("link", { name: "Members, results and cards as files" }).click();
  await device.page.getByRole("heading", { level: 1, name: "Files" }).waitFor();
  return device;
}

/** Presses a button and reads the file it gives. */
async function taken(page: Page, button: string): Promise<{ readonly name: string; readonly text: string }> {
  const [download] = await Promise.all([
    page.waitForEvent("download"),
    page.getByRole("button", { name: button }).click(),
  ]);
  return { name: download.suggestedFilename(), text: await readFile(await download.path(), "utf8") };
}

const linesOf = (text: string): readonly Record<string, unknown>[] =>
  (JSON.parse(text) as { lines: Record<string, unknown>[] }).lines;

const state = () => scene.club.root.state();
/** Finn is a junior; everybody else is written in full. */
const written = (key: string): string => {
  const [, name, short] = members.find(([one]) => one === key)!;
  return key === "finn" ? short : name;
};

test("the members with handicap and index as the record has them, as CSV and as JSON, without a signal, also on a device that may only look", async () => {
  const device = await atFiles("reader");
  const { page } = device;
  await page.getByText("This device may look and not write, so it brings nothing in.").waitFor();
  await page.evaluate(() => navigator.serviceWorker.ready);
  await device.goOffline();
  const csv = await taken(page, "Members as CSV");
  expect(csv.name).toBe(`thornfield-croquet-club-members-${today()}.csv`);
  const rows = csvRecords(csv.text);
  expect(rows).toHaveLength(state().players.size);
  for (const [key] of members) {
    const card = scene.card(key);
    const { handicap } = handicapInForce(card, today());
    const row = rows.find(({ name }) => name === written(key));
    expect(row, key).toMatchObject({ standing: "member", handicap: String(handicap), index: String(card.index) });
  }
  expect(csv.text).not.toContain("Finn Sallow");
  const json = await taken(page, "Members as JSON");
  expect(json.name).toBe(`thornfield-croquet-club-members-${today()}.json`);
  const asText = linesOf(json.text).map((line) =>
    Object.fromEntries(Object.entries(line).map(([column, cell]) => [column, cell === null ? "" : String(cell)])),
  );
  expect(asText).toEqual(rows);
  expect(JSON.parse(json.text)).toMatchObject({ sheet: "members", club: "Thornfield Croquet Club", on: today() });
  expect(device.faults).toEqual([]);
});

test("a line for each game and for each line of every card; brought in again, every game is found in the record", async () => {
  const device = await atFiles("handicapper");
  const { page } = device;
  const results = await taken(page, "Results as CSV");
  const rows = csvRecords(results.text);
  const games = [...state().matches.values()].flatMap(({ facts, reports }) => (facts ?? reports[0]!.facts).games);
  expect(rows).toHaveLength(games.length);
  const total = (column: "own" | "opponent"): number =>
    rows.reduce((sum, row) => sum + Number(row[column === "own" ? "hoops" : "opponent hoops"]), 0);
  expect(total("own") + total("opponent")).toBe(games.reduce((sum, { score: [a, b] }) => sum + a + b, 0));
  expect(linesOf((await taken(page, "Results as JSON")).text)).toHaveLength(games.length);

  const cards = csvRecords((await taken(page, "Cards as CSV")).text);
  const lines = [...state().cards.values()].flatMap((card) => card.lines);
  expect(cards).toHaveLength(lines.length);
  // Kit's card, line by line.
  const kit = cards.filter((row) => row["player"] === "Kit Underlea" && row["hoops"] !== "");
  const played = scene.games("kit");
  expect(kit.map((row) => [row["date"], row["hoops"], row["opponent hoops"], row["points"], row["index"]])).toEqual(
    played.map(({ date, score, points, index }: GameLine) => [date, ...score, points, index].map(String)),
  );
  expect(linesOf((await taken(page, "Cards as JSON")).text)).toHaveLength(lines.length);

  await page.getByLabel("Or choose a file").setInputFiles({
    name: results.name,
    mimeType: "text/csv",
    buffer: Buffer.from(results.text),
  });
  await page.getByRole("button", { name: `${games.length} already in the record`, exact: true }).waitFor();
  await page.getByText("There is nothing new to save.").waitFor();
  await page.getByRole("button", { name: "Start again" }).click();
  expect(device.faults).toEqual([]);
});

test("a junior's full name is in no file unless it is asked for", async () => {
  const device = await atFiles("handicapper");
  const { page } = device;
  const files = [
    "Members as CSV",
    "Members as JSON",
    "Results as CSV",
    "Results as JSON",
    "Cards as CSV",
    "Cards as JSON",
  ];
  for (const button of files) {
    const { text } = await taken(page, button);
    expect(text, button).toContain("Finn S.");
    expect(text, button).not.toContain("Finn Sallow");
  }
  // Another page: a browser may hold up what one page hands it many times in a row.
  const { page: other } = await atFiles("reader");
  await other.getByLabel("Juniors with their full names").click();
  for (const button of files) expect((await taken(other, button)).text, button).toContain("Finn Sallow");
  // Asked for each time anew.
  await other.reload();
  await other.getByLabel("Juniors with their full names").waitFor();
  expect(await other.getByLabel("Juniors with their full names").isChecked()).toBe(false);
  expect(state().players.has(player("finn"))).toBe(true);
  expect(device.faults).toEqual([]);
});

test("find leads here by what one wants to do, and the screen with lines in it passes axe in light and dark, narrow and wide", async () => {
  const device = await scene.open(scene.club.passes.handicapper, "To do");
  const { page } = device;
  await page.keyboard.press("/");
  await page.getByRole("combobox").waitFor();
  await page.keyboard.type("import");
  await page.keyboard.press("Enter");
  await page.getByRole("heading", { level: 1, name: "Files" }).waitFor();
  for (const colorScheme of ["light", "dark"] as const) {
    for (const width of [390, 1280]) {
      await page.emulateMedia({ colorScheme });
      await page.setViewportSize({ width, height: 844 });
      await expectAccessible(page);
      await page
        .getByLabel("Paste from a spreadsheet")
        .fill(
          [
            "date,player,opponent,score",
            "2/3/2026,Bo Linet,Hal Brindle,7-9",
            `${today()},Kit Underlea,Hal Brindle,7-4`,
          ].join("\n"),
        );
      await page.getByRole("button", { name: "Read what is pasted" }).click();
      await page.getByRole("heading", { name: "The lines" }).waitFor();
      await expectAccessible(page);
      expect(await page.evaluate(() => document.documentElement.scrollWidth <= innerWidth)).toBe(true);
      await page.getByRole("button", { name: "Start again" }).click();
    }
  }
  expect(device.faults).toEqual([]);
});
