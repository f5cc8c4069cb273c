/** The match sheet of a league fixture in a real browser: line-ups chosen, strokes worked out, both ways in doubles, and on paper. */
import type { Browser } from "playwright-core";
import { afterAll, beforeAll, expect, test } from "vitest";
import type { Device } from "../support/browser.ts";
import { launch } from "../support/browser.ts";
import type { TestRelay } from "../support/meeting.ts";
import { until } from "../support/meeting.ts";
import { printed } from "../support/printed.ts";
import { before } from "../support/small-club.ts";
import { expectAccessible, openDevice, startRelayWithApp, today, toScreen } from "./at-a-desk.ts";
import type { LeagueWorld } from "./league-world.ts";
import { foundLeagueWorld } from "./league-world.ts";

let [relay, browser, world, device] = [] as unknown as [TestRelay, Browser, LeagueWorld, Device];

beforeAll(async () => {
  [relay, browser] = [await startRelayWithApp(), await launch()];
  world = await foundLeagueWorld(relay.origin, today());
  // An odd difference on both sides of a doubles: then the pair has a choice.
  const ivo = { player: world.home.players.get("Ivo")!, handicap: 9, from: before(today(), 60) } as const;
  const set = { ...ivo, basis: "discretionary", reason: "came back" } as const;
  const saved = await world.home.book.append([{ kind: "handicap-set", body: set }]);
  if (!saved.ok) throw new Error(saved.fault.type);
  await until("the relay has it", () => world.home.book.waiting() === 0);
  device = await openDevice(browser, relay.origin, world.home.captain);
});
afterAll(async () => {
  await browser?.close();
  await world?.close();
  await relay?.close();
});

test("a captain tries a line-up: handicaps as stated with their day, strokes for every slot, both ways of a half; nothing is entered", async () => {
  const { page } = device;
  await toScreen(page, "League");
  await page.getByRole("link", { name: "Heronsgate v Withy" }).click();
  await page.getByRole("link", { name: "Match sheet to print" }).click();
  await page.getByRole("heading", { level: 1, name: "Match sheet" }).waitFor();
  const entries = world.league.state().entries;
  expect(await page.getByText("Extra strokes: to be worked out when both sides are known.").count()).toBe(3);

  await page.getByText("Line-ups", { exact: true }).click();
  const slot = (number: number) => page.getByRole("group", { name: new RegExp(`^${number}\\.`) });
  await slot(1).getByLabel("Heronsgate player").selectOption("Ivo Larch");
  await slot(1).getByLabel("Withy player").selectOption("Pip Rowan");
  // 9 against 6 in a 13-point game: the difference.
  await page.getByText("Ivo Larch receives 3 extra strokes.").waitFor();
  await slot(3).getByLabel("Heronsgate player").selectOption("Nan Sedge");
  await slot(3).getByLabel("Heronsgate partner").selectOption("Oz Teasel");
  await slot(3).getByLabel("Withy player").selectOption("Rae Bramble");
  await slot(3).getByLabel("Withy partner").selectOption("Quin Alder");
  // 5 and 12 against 3 and 10: 12 - 3 is 9, half 4½ up to 5; 10 - 5 is 5, half 2½ up to 3: a half on each side, so one way.
  // Hassocks Croquet Club, Tournaments (Revised Rules): https://www.hassockscroquetclub.net/tournaments
  await page.getByText("Oz Teasel receives 5 extra strokes, Quin Alder 3.").waitFor();
  await slot(3).getByLabel("Heronsgate player").selectOption("Ivo Larch");
  await slot(3).getByLabel("Withy partner").selectOption("Pip Rowan");
  // 9 and 12 against 3 and 6: 4½ and 1½, of which one rounds up.
  await page.getByText("The pair chooses before the game. Tick one:").waitFor();
  await page.getByText("Ivo Larch receives 2 extra strokes, Oz Teasel 4.").waitFor();
  await page.getByText("Ivo Larch receives 1 extra stroke, Oz Teasel 5.").waitFor();
  expect(world.league.state().entries).toBe(entries);

  await page.reload();
  await page.getByText("Ivo Larch receives 3 extra strokes.").waitFor();
  const stated = await page.locator(".msheet-slot").first().locator("td.msheet-off").allInnerTexts();
  expect(stated[0]).toMatch(/^9 card, as of/);
  expect(stated[1]).toMatch(/^6 stated as of/);
});

test("the sheet prints on one side of A4 with boxes for scores and both captains, and nothing is cut off", async () => {
  const { page } = device;
  for (const [format, most] of [
    ["A4", 1],
    ["A5", 3],
  ] as const) {
    const sheets = await printed(page, format);
    expect(sheets.length).toBeLessThanOrEqual(most);
    expect(sheets.flatMap(({ cut }) => cut)).toEqual([]);
    const text = sheets.map((sheet) => sheet.text).join(" ");
    for (const words of ["Heronsgate v Withy", "Osier League", "Game 3", "Captain ✓", "Matches won", "Ivo Larch"]) {
      expect(text).toContain(words);
    }
    expect(text).not.toContain("Quin Alder");
    expect(text).toContain("committee always prevail");
    for (const furniture of ["Line-ups", "by hand", "Sharing"]) expect(text).not.toContain(furniture);
  }
  for (const [width, colorScheme] of [
    [390, "dark"],
    [1280, "light"],
  ] as const) {
    await page.setViewportSize({ width, height: 900 });
    await page.emulateMedia({ colorScheme, media: "screen", reducedMotion: "reduce" });
    await expectAccessible(page);
  }
  expect(device.faults).toEqual([]);
});

test("without a line-up in the address the sheet goes back to what is reported, here to nothing", async () => {
  const { page } = device;
  await page.getByRole("button", { name: "As reported or named, or blank" }).click();
  await expect.poll(() => page.getByText("Extra strokes: to be worked out when both sides are known.").count()).toBe(3);
});
