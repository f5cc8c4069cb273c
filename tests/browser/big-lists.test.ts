/**
 * A club of two thousand: what is drawn of its list is counted, not timed, and the list is used as a person does. Everybody is in it for
 * the browser's own search, for paper, and for whoever scrolls to the end.
 */
import type { Draft, MatchReported, PlayerId } from "@sward/core";
import type { Page } from "playwright-core";
import { afterAll, beforeAll, expect, test } from "vitest";
import { until } from "../support/meeting.ts";
import { before, player } from "../support/small-club.ts";
import type { Scene } from "./at-a-desk.ts";
import { startScene } from "./at-a-desk.ts";

const MEMBERS = 2_000;
/** Rows that three screens hold, and a block at either end. */
const MOST_ROWS = 150;

let scene: Scene;

const nameOf = (n: number): string => `Pat Fenwick-${String(n).padStart(4, "0")}`;

beforeAll(async () => {
  scene = await startScene();
  const { root, today } = scene.club;
  const newcomers = Array.from({ length: MEMBERS }, (_, n) => [player(`pat ${n}`), n] as const);
  const drafts = newcomers.flatMap(([who, n]): Draft[] => [
    { kind: "player-joined", body: { player: who, standing: "member" } },
    {
      kind: "handicap-set",
      body: { player: who, handicap: n % 13, from: before(today, 60), basis: "initial", reason: "start" },
    },
  ]);
  const saved = await root.append(drafts);
  if (!saved.ok) throw new Error(JSON.stringify(saved.fault));
  const names = new Map<PlayerId, { name: string; short: string }>();
  for (const [who, n] of newcomers) names.set(who, { name: nameOf(n), short: `Pat ${n}` });
  await root.roster.write(names);
  await until("the relay has them all", () => root.waiting() === 0, 120_000);
}, 180_000);
afterAll(() => scene?.close());

const rows = (page: Page) => page.locator("table.roll tbody tr[aria-rowindex]");
/** As long as it takes: a busy machine is not a fault of a list. */
const eventually = <T>(look: () => Promise<T>) => expect.poll(look, { timeout: 60_000 });
const elements = (page: Page): Promise<number> => page.evaluate(() => document.querySelectorAll("*").length);
const row = (page: Page, n: number) => rows(page).filter({ hasText: nameOf(n) });

test("of two thousand members a few screens are drawn, wherever somebody scrolls and whatever is typed; the field finds each, and so does the browser", async () => {
  const { page } = await scene.open(scene.club.passes.reader, "Members");
  await row(page, 0).waitFor();
  expect(await page.locator("table.roll").first().getAttribute("aria-rowcount")).toBe(
    String([...scene.club.root.state().players.values()].filter(({ standing }) => standing === "member").length + 1),
  );
  expect(await rows(page).count()).toBeLessThan(MOST_ROWS);
  expect(await elements(page)).toBeLessThan(4_000);

  // To the end, where the last one is, and the first ones are no more.
  await eventually(async () => {
    await page.evaluate(() => document.querySelector("table.roll")?.scrollIntoView({ block: "end" }));
    return row(page, MEMBERS - 1).count();
  }).toBe(1);
  await eventually(() => rows(page).count()).toBeLessThan(MOST_ROWS);
  await eventually(() => row(page, 0).count()).toBe(0);
  expect(await elements(page)).toBeLessThan(4_000);

  // A letter more: still few, and those that are meant.
  await page.getByRole("searchbox").fill("fenwick");
  await page.getByText(/^2,?000 of /).waitFor();
  expect(await rows(page).count()).toBeLessThan(MOST_ROWS);
  await page.getByRole("searchbox").fill("fenwick 1234");
  await eventually(() => rows(page).allTextContents()).toHaveLength(1);
  expect(await row(page, 1234).count()).toBe(1);

  // The browser's own search: the name is in the page, where its row will be.
  await page.getByRole("searchbox").fill("");
  await eventually(() => row(page, 0).count()).toBe(1);
  expect(await row(page, 1500).count()).toBe(0);
  expect(await page.evaluate((name) => window.find(name), nameOf(1500))).toBe(true);
  await row(page, 1500).waitFor();
  expect(await rows(page).count()).toBeLessThan(MOST_ROWS);
}, 120_000);

test("on a phone a block that is not drawn is as tall as its rows are: what is looked at stays where it is", async () => {
  const { page } = await scene.open(scene.club.passes.reader, "Members");
  await page.setViewportSize({ width: 390, height: 800 });
  await rows(page).first().waitFor();
  await eventually(() => rows(page).count()).toBeLessThan(MOST_ROWS);
  const far = page.locator("tr.long-rows-far").first();
  const [outside, inside] = await far.evaluate((one) => [
    one.getBoundingClientRect().height,
    one.firstElementChild?.getBoundingClientRect().height,
  ]);
  expect(outside).toBe(inside);
  await page.setViewportSize({ width: 1280, height: 900 });
}, 120_000);

test("on paper the whole list is there, and after it the screen has few rows again", async () => {
  const { page } = await scene.open(scene.club.passes.reader, "Members");
  await row(page, 0).waitFor();
  const whole = await page.evaluate(() => {
    window.dispatchEvent(new Event("beforeprint"));
    return document.querySelectorAll("table.roll tbody tr[aria-rowindex]").length;
  });
  expect(whole).toBeGreaterThan(MEMBERS);
  await page.evaluate(() => window.dispatchEvent(new Event("afterprint")));
  await eventually(() => rows(page).count()).toBeLessThan(MOST_ROWS);
}, 120_000);

declare global {
  interface Window {
    /** The browser's search in the page, as far as a script may use it. */
    find(text: string): boolean;
  }
}

test("a card of six hundred games shows its last seasons, and all of them when asked, a few at a time", async () => {
  const games = 600;
  const { root, today } = scene.club;
  const drafts = Array.from({ length: games }, (_, n): Draft => {
    const score: [number, number] = n % 2 === 0 ? [7, 4] : [4, 7];
    const sides: MatchReported["sides"] = [
      [{ player: player("pat 7"), off: 7 }],
      [{ player: player("pat 8"), off: 8 }],
    ];
    const date = before(today, 59 - Math.floor(n / 12));
    const body = { date, occasion: "club-competition", n: (n % 12) + 1, play: "handicap", format: 13, sides } as const;
    return { kind: "match-reported", body: { ...body, games: [{ score }] } };
  });
  const saved = await root.append(drafts);
  if (!saved.ok) throw new Error(JSON.stringify(saved.fault));
  await until("the relay has them all", () => root.waiting() === 0, 120_000);

  const { page } = await scene.open(scene.club.passes.reader, "Members");
  await page.getByRole("searchbox").fill("fenwick 0007");
  await page.getByRole("link", { name: nameOf(7) }).click();
  const lines = page.locator("table.card-lines tr.card-line");
  await eventually(() => lines.count()).toBeGreaterThanOrEqual(48);
  expect(await lines.count()).toBeLessThan(100);
  await page.evaluate(() => {
    const table = document.querySelector("table.card-lines");
    const count = (): number => table?.querySelectorAll("tr.card-line").length ?? 0;
    const seen = window as unknown as { steps: number[] };
    seen.steps = [count()];
    if (table !== null) new MutationObserver(() => seen.steps.push(count())).observe(table, { childList: true });
  });
  await page.getByRole("button", { name: /^Show \d+ more lines$/ }).click();
  // The games, and the handicap they began with.
  await eventually(() => lines.count()).toBe(games + 1);
  const steps = await page.evaluate(() => (window as unknown as { steps: number[] }).steps);
  const grown = steps.slice(1).map((count, at) => count - (steps[at] ?? 0));
  expect(Math.max(...grown)).toBeLessThanOrEqual(200);
  expect(await page.getByRole("button", { name: /more line/ }).count()).toBe(0);
}, 180_000);

test("a game told late is in the front of a card and in what can be seen of its lines at once, and in the others when they are looked at", async () => {
  const { root, today } = scene.club;
  const { page } = await scene.open(scene.club.passes.reader, "Members");
  await page.getByRole("searchbox").fill("fenwick 0007");
  await page.getByRole("link", { name: nameOf(7) }).click();
  const index = page.locator(".card-index-value");
  const newest = page.locator("table.card-lines tr.card-line .cell-index").first();
  await newest.waitFor();
  const tellLate = async (n: number): Promise<string> => {
    const sides: MatchReported["sides"] = [
      [{ player: player("pat 7"), off: 7 }],
      [{ player: player("pat 8"), off: 8 }],
    ];
    const date = before(today, 40);
    const body = { date, occasion: "club-competition", n, play: "handicap", format: 13, sides } as const;
    const saved = await root.append([{ kind: "match-reported", body: { ...body, games: [{ score: [7, 1] }] } }]);
    if (!saved.ok) throw new Error(JSON.stringify(saved.fault));
    return String(root.state().cards.get(player("pat 7"))?.index);
  };

  // What both said whenever one of them changed.
  await page.evaluate(() => {
    const said = window as unknown as { said: string[] };
    said.said = [];
    const read = (selector: string): string =>
      /\d+/.exec(document.querySelector(selector)?.textContent ?? "")?.[0] ?? "";
    const note = (): void =>
      void said.said.push(`${read(".card-index-value")} ${read("table.card-lines tr.card-line .cell-index")}`);
    const watched = document.querySelector("main");
    if (watched !== null)
      new MutationObserver(note).observe(watched, { childList: true, subtree: true, characterData: true });
  });
  await page.locator("table.card-lines").scrollIntoViewIfNeeded();
  await page.evaluate(() => document.getElementById("card-lines")?.scrollIntoView({ block: "start" }));
  const inSight = await tellLate(13);
  await eventually(() => index.textContent()).toBe(inSight);
  const first = await page.evaluate(() => (window as unknown as { said: string[] }).said);
  expect(first.filter((both) => both.split(" ")[0] !== both.split(" ")[1])).toEqual([]);

  await page.evaluate(() => scrollTo(0, 0));
  const outOfSight = await tellLate(14);
  expect(outOfSight).not.toBe(inSight);
  await eventually(() => index.textContent()).toBe(outOfSight);
  await page.evaluate(() => document.getElementById("card-lines")?.scrollIntoView({ block: "start" }));
  await eventually(() => newest.textContent()).toContain(outOfSight);
}, 120_000);
