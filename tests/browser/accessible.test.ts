/**
 * Every address of the app as somebody meets it who sees little, taps with a thumb, or wants nothing to move: in light and dark, on a
 * phone and on a wide screen. The addresses are the router's own list, so that a new screen is looked at from its first day.
 */
import { readFileSync } from "node:fs";
import type { Page } from "playwright-core";
import { afterAll, beforeAll, expect, test } from "vitest";
import { newDevice } from "../support/browser.ts";
import { player } from "../support/small-club.ts";
import { repository } from "../support/sources.ts";
import type { Scene } from "./at-a-desk.ts";
import { inStep, startScene } from "./at-a-desk.ts";
import { ivy, withNewcomers } from "./desk-club.ts";
import {
  axeFaults,
  contrastFaults,
  motionFaults,
  setTextSize,
  sidewaysFaults,
  takeMeasures,
  targetFaults,
  textFaults,
} from "./measures.ts";

/** What stands first in each line of a list in the app's source, which only a page can load: `["/x", …]` or `"/x": …`. */
function listed(file: string, list: RegExp, line: RegExp): readonly string[] {
  const text = list.exec(readFileSync(`${repository}/packages/client/src/app/${file}`, "utf8"))?.[1] ?? "";
  const found = [...text.matchAll(line)].map(([, first]) => first as string);
  // Every one of them names a screen: one written in another way would be missed.
  expect(found.length, file).toBe([...text.matchAll(/\w+Screen(?=[,\]])|lazyScreen\(/g)].length);
  return found;
}
const patterns = listed("routes.ts", /\broutes\b[^=]*= \[\n([\s\S]*?)^\];/m, /\[\s*"([^"]*)"/g);
const frontPaths = listed("front.ts", /\bscreens\b[^=]*= \{\n([\s\S]*?)^\};/m, /^\s*"([^"]*)":/gm);

let scene: Scene;
let page: Page;
/** Address of the device, up to the slash below which its screens are. */
let base: string;
/** Places of a singles game under way, of a doubles game with a time limit, and of a game that is over. */
let pads: readonly [singles: string, doubles: string, over: string];
let fixture: string;
/** Place of the first card of a round of the yearly check. */
let checked: string;

beforeAll(async () => {
  scene = await startScene();
  await withNewcomers(scene.club);
  page = (await scene.open(scene.club.passes.handicapper, "To do")).page;
  base = /^.*\/d\/[^/]+\//.exec(page.url())![0];
  await page.emulateMedia({ reducedMotion: "reduce" });
  await takeMeasures(page);
  pads = [await singlesPad(), await doublesPad(), await overPad()];
  fixture = await fixturePlace();
  checked = await checkPlace();
});
afterAll(() => scene?.close());

const SIZES = [
  { width: 390, height: 844 },
  { width: 1280, height: 900 },
] as const;
const SCHEMES = ["light", "dark"] as const;

/** Where the page is, below the device. */
const placeNow = (): string => page.url().slice(base.length);

/** Goes there as a link does, without loading the page anew. */
async function goTo(place: string, heading: RegExp): Promise<void> {
  await page.evaluate((to) => {
    history.pushState(null, "", to);
    dispatchEvent(new PopStateEvent("popstate"));
  }, `${base}${place}`);
  await page.getByRole("heading", { level: 1, name: heading }).waitFor({ timeout: 15_000 });
  // Some work in slices, and say so.
  await page.waitForFunction(() => document.querySelector("main progress:not(.check-progress)") === null);
}

async function press(...names: readonly (string | RegExp)[]): Promise<void> {
  for (const name of names) await page.getByRole("button", { name, exact: typeof name === "string" }).click();
}

async function choose(role: string, typed: string, name: string): Promise<void> {
  await page.getByRole("combobox", { name: role, exact: true }).fill(typed);
  await page.getByRole("option", { name: new RegExp(name) }).click();
}

async function begun(): Promise<string> {
  await press("Begin the game");
  await page.getByRole("heading", { level: 1, name: / v / }).waitFor();
  return placeNow();
}

async function singlesPad(): Promise<string> {
  await goTo("lawn", /^Score pad$/);
  await choose("Player", "cass", "Cass Thorley");
  await choose("Opponent", "gwen", "Gwen Ashdown");
  const place = await begun();
  await press("Played, no hoop", "Played, no hoop", /^Extra stroke Gwen Ashdown/);
  return place;
}

async function doublesPad(): Promise<string> {
  await goTo("lawn", /^Score pad$/);
  await page.getByRole("radio", { name: "Doubles" }).check();
  await page.getByLabel("With a time limit").check();
  await choose("Player", "iris", "Iris Copperdale");
  await choose("Partner", "finn", "Finn Sallow");
  await choose("Opponent", "hal", "Hal Brindle");
  await choose("Opponent's partner", "edie", "Edie Fennimore");
  const place = await begun();
  await press("Played, no hoop", "Played, no hoop");
  return place;
}

async function overPad(): Promise<string> {
  await goTo("lawn", /^Score pad$/);
  await page.getByRole("radio", { name: "Level" }).check();
  await page.getByRole("radio", { name: "7", exact: true }).check();
  const place = await begun();
  for (let hoop = 0; hoop < 4; hoop++) await press(/^Hoop for Blue/);
  await page.getByRole("link", { name: "Enter the result" }).waitFor();
  return place;
}

async function fixturePlace(): Promise<string> {
  await goTo("league", /^League$/);
  await page
    .getByRole("link", { name: /Millbrook/ })
    .first()
    .click();
  await page.getByRole("heading", { level: 1, name: /Millbrook/ }).waitFor();
  return placeNow();
}

async function checkPlace(): Promise<string> {
  await goTo("check", /^Yearly check of all cards$/);
  await press("Begin");
  await page.getByText(/^Card 1 of /).waitFor();
  return placeNow();
}

/** For each pattern of the router an example, and the heading by which its screen is known to be there. */
function examples(): Readonly<Record<string, readonly [place: string, heading: RegExp]>> {
  const [ada, kit] = [player("ada"), player("kit")];
  const [event] = scene.club.root.state().events.keys();
  return {
    "/": ["", /^What needs attention$/],
    "/members": ["members", /^Members$/],
    "/members/:player": [`members/${ada}`, /^Ada Wren$/],
    "/moving": ["moving", /^A player from another club$/],
    "/proposals": ["proposals", /^Proposed changes$/],
    "/events/:event": [`events/${event}`, /^Harvest Cup$/],
    "/check": ["check", /^Yearly check of all cards$/],
    "/check/summary": ["check/summary", /^Yearly check: summary$/],
    "/check/:player": [checked, /^\S+ \S+$/],
    "/entry": ["entry", /^Enter a match$/],
    "/league": ["league", /^League$/],
    "/league/:book": [fixture.split("/").slice(0, 2).join("/"), /League$/],
    "/league/join": ["league/join", /^Join a league$/],
    "/league/:book/clubs": [`${fixture.split("/").slice(0, 2).join("/")}/clubs`, /^Clubs of the league$/],
    "/league/:book/fixtures": [`${fixture.split("/").slice(0, 2).join("/")}/fixtures`, /^Fixtures$/],
    "/league/:book/matters": [`${fixture.split("/").slice(0, 2).join("/")}/matters`, /^To settle in the league$/],
    "/league/:book/rules": [`${fixture.split("/").slice(0, 2).join("/")}/rules`, /^League rules$/],
    "/league/:book/table": [`${fixture.split("/").slice(0, 2).join("/")}/table`, /^League table$/],
    "/league/:book/statements": [`${fixture.split("/").slice(0, 2).join("/")}/statements`, /^Handicaps stated$/],
    "/league/:book/:fixture": [fixture, /Millbrook/],
    "/league/:book/:fixture/team": [`${fixture}/team`, /^Team: /],
    "/strokes": ["strokes", /strokes/i],
    "/tables": ["tables", /^Tables$/],
    "/print": ["print", /^Print$/],
    "/print/strokes": ["print/strokes", /^Wall chart$/],
    "/print/handicaps": ["print/handicaps", /^Handicap list$/],
    "/print/report": ["print/report", /^The year's report$/],
    "/print/match": ["print/match", /^Blank match sheet$/],
    "/print/match/:book/:fixture": [`print/match/${fixture.replace("league/", "")}`, /^Match sheet$/],
    "/print/card/:player": [`print/card/${kit}`, /^Kit Underlea: a card that folds$/],
    "/print/chart/:player": [`print/chart/${kit}`, /^Kit Underlea: index over time$/],
    "/lawn": ["lawn", /^Score pad$/],
    "/lawn/:pad": [pads[0], /^Cass Thorley v Gwen Ashdown$/],
    "/lawn/:pad/:step": [`${pads[2]}/result`, /^Enter the result$/],
    "/review": ["review", /^Review$/],
    "/review/:player": [`review/${ivy}`, /Ivy Marsden/],
    "/files": ["files", /^Files$/],
    "/sharing": ["sharing", /^Sharing$/],
  };
}

/** Runs `look` on `on` in light and dark at both widths; what it finds says where. */
async function everyWay(on: Page, where: string, look: () => Promise<readonly string[]>): Promise<string[]> {
  const found: string[] = [];
  for (const viewport of SIZES) {
    await on.setViewportSize(viewport);
    // Drawings follow a frame later.
    await on.evaluate(() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done))));
    for (const colorScheme of SCHEMES) {
      await on.emulateMedia({ colorScheme });
      for (const fault of await look()) found.push(`${where} ${colorScheme} ${viewport.width}: ${fault}`);
    }
  }
  return found;
}

const lookAt = async (on: Page): Promise<readonly string[]> => [
  ...(await axeFaults(on)),
  ...(await sidewaysFaults(on)),
  ...(await motionFaults(on)),
];

test("every pattern of the router has an example, which leads to it", () => {
  expect(Object.keys(examples()).sort()).toEqual([...patterns].sort());
  for (const [pattern, [place]] of Object.entries(examples())) {
    expect(`/${place}`.split("/").length, pattern).toBe(pattern.split("/").length);
  }
});

test("on every screen: axe finds nothing, nothing scrolls sideways, and nothing moves for who wants no motion", async () => {
  const found: string[] = [];
  for (const [place, heading] of Object.values(examples())) {
    await goTo(place, heading);
    found.push(...(await everyWay(page, `/${place}`, () => lookAt(page))));
  }
  expect(found).toEqual([]);
});

test("the same outside any device: the front page with and without devices, and starting, joining and recovering", async () => {
  const found: string[] = [];
  const empty = await newDevice(scene.browser, { locale: "en-GB", reducedMotion: "reduce" });
  for (const path of ["/", ...frontPaths]) {
    await empty.page.goto(`${scene.relay.origin}${path}`);
    await empty.page.getByRole("heading", { level: 1 }).waitFor();
    await takeMeasures(empty.page);
    found.push(...(await everyWay(empty.page, path, () => lookAt(empty.page))));
  }
  await empty.close();
  await page.goto(scene.relay.origin);
  await page.getByRole("link", { name: /Thornfield handicapper/ }).waitFor();
  await takeMeasures(page);
  found.push(...(await everyWay(page, "the devices here", () => lookAt(page))));
  await page.goto(base);
  await inStep(page);
  await takeMeasures(page);
  expect(found).toEqual([]);
});

test("with text at 200 %, nothing of the main screens is cut off, lies on something else or makes the page scroll sideways", async () => {
  const found: string[] = [];
  for (const ratio of [1, 2]) {
    await setTextSize(page, ratio);
    for (const [pattern, [place, heading]] of Object.entries(examples())) {
      // What stands for a sheet of paper has the paper's size.
      if (pattern.startsWith("/print/")) continue;
      await goTo(place, heading);
      for (const viewport of SIZES) {
        await page.setViewportSize(viewport);
        expect(await page.evaluate(() => getComputedStyle(document.documentElement).fontSize)).toBe(`${16 * ratio}px`);
        const faults = [...(await sidewaysFaults(page)), ...(await textFaults(page))];
        found.push(...faults.map((fault) => `/${place} ${ratio * 100} % ${viewport.width}: ${fault}`));
      }
    }
  }
  await setTextSize(page, 1);
  expect(found).toEqual([]);
});

test("every target of the score pad is at least 44 px; all that is read at the lawn has 7:1", async () => {
  const found: string[] = [];
  const atLawn = [
    ["lawn", /^Score pad$/],
    ["strokes", /strokes/i],
    ...pads.map((pad) => [pad, / v /] as const),
  ] as const;
  for (const [place, heading] of atLawn) {
    await goTo(place, heading);
    await page.evaluate(() => {
      for (const one of document.querySelectorAll("details")) one.open = true;
    });
    found.push(
      ...(await everyWay(page, place, async () => [
        ...(await targetFaults(page, "main", 44)),
        ...(await contrastFaults(page, "main", 7)),
        ...(await axeFaults(page)),
      ])),
    );
  }
  expect(found).toEqual([]);
});
