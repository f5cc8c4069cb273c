/**
 * That the benches of a browser work, with books so small that nothing is said about speed: every stage gives a figure beside its
 * floor, and what is looked for on the screens of the built app is found there.
 */
import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Browser } from "playwright-core";
import { afterAll, beforeAll, expect, test } from "vitest";
import type { Figure } from "../../packages/client/bench/measure.ts";
import { launch } from "../support/browser.ts";
import { benchClub } from "../tooling/browser-bench/club.ts";
import { lateGame } from "../tooling/browser-bench/late-game.ts";
import { stagePages } from "../tooling/browser-bench/stages.ts";
import { firstJoin, warmStarts } from "../tooling/browser-bench/starts.ts";
import { unheardDevice } from "../tooling/browser-bench/unheard-page.ts";
import { startRelayWithApp } from "./at-a-desk.ts";

let browser: Browser;

beforeAll(async () => {
  browser = await launch();
});
afterAll(() => browser?.close());

const isTime = (value: number): boolean => Number.isFinite(value) && value >= 0;

test("in a page every stage has a time and a floor", async () => {
  const folder = await mkdtemp(join(tmpdir(), "sward-bench-"));
  const pages = await stagePages(browser, { folder, patience: 120_000 });
  try {
    const figures: Figure[] = [
      ...(await pages.entries(200, 1)),
      ...(await pages.games(200, 1)),
      ...(await pages.render(200, 1)),
    ];
    const names = figures.map(({ what }) => what);
    expect(new Set(names).size).toBe(names.length);
    expect(names).toEqual(
      expect.arrayContaining([
        "load the vault",
        "open envelopes",
        "hash ids",
        "verify signatures",
        "admit",
        "first join, end to end",
        "first join, beside signatures alone",
        "cold start, end to end",
        "the very first cold start",
        "reconcile",
        "fold",
        "render the list of members",
        "render a card",
      ]),
    );
    for (const { what, value, size, floor } of figures) {
      expect(isTime(value) && isTime(floor?.value ?? Number.NaN), what).toBe(true);
      expect(size).toBe(200);
    }
    expect(isTime(await pages.bare(200))).toBe(true);
    const big = await pages.big(2_000);
    expect(big).toMatchObject({ entries: 2_000, cards: 40 });
    for (const value of [big.opened, big.saved, big.task]) expect(isTime(value ?? Number.NaN)).toBe(true);
    // More than its entries' bare numbers, and less than a page may have.
    expect(big.held).toBeGreaterThan(2_000 * 100);
    expect(big.held).toBeLessThan(200_000_000);
  } finally {
    await pages.close();
    await rm(folder, { recursive: true, force: true });
  }
}, 300_000);

test("a page nobody hears of says what an expression comes to and what goes wrong in it, and is no page of who drives the browser", async () => {
  const relay = await startRelayWithApp();
  const device = await unheardDevice(browser);
  const page = await device.page({ first: "globalThis.first = document.readyState" });
  try {
    const before = browser.contexts().length;
    await page.goto(relay.origin);
    await expect.poll(() => page.value("location.origin")).toBe(relay.origin);
    expect(await page.value("first")).toBe("loading");
    expect(await page.value("new Promise((done) => setTimeout(done, 5, { a: [7] }))")).toEqual({ a: [7] });
    expect(await page.run((n: number, { of }: { of: string }) => [of, n + 1], 6, { of: '"seven"' })).toEqual([
      '"seven"',
      7,
    ]);
    await expect(page.value("nothing.such")).rejects.toThrow("Runtime.evaluate");
    expect([browser.contexts().length, before]).toEqual([before, 0]);
  } finally {
    await device.close();
    await relay.close();
  }
}, 60_000);

test("in the built app a join, a start and a late game are seen to come to their right numbers", async () => {
  const relay = await startRelayWithApp();
  const club = await benchClub(3_000, relay.origin);
  try {
    const joined = await firstJoin(browser, relay.origin, club, { bare: () => Promise.resolve(1), runs: 2 });
    expect(joined.seen[0]?.note).toMatch(/moved [1-9]/);
    const starts = await warmStarts(joined, club, { slower: 1, runs: 1, places: ["members"] });
    const late = await lateGame(joined, club, { slower: 1, runs: 1, screens: ["members"] });
    expect([...starts, ...late]).toHaveLength(3 + 7);
    // What a game adds may be less than nothing, by chance, and no task need be long.
    for (const { what, value, runs } of [...starts, ...late])
      expect([what, value > 0 || / adds |longest task/.test(what), runs]).toEqual([what, true, 1]);
    expect(joined.seen).toMatchObject([{ what: expect.stringMatching(/^first join/), runs: 2 }]);
    expect(joined.seen[0]!.value).toBeGreaterThan(0);
    const [useful, current] = starts;
    expect(useful!.value).toBeLessThanOrEqual(current!.value);
    await joined.device.close();
  } finally {
    await club.close();
    await relay.close();
  }
}, 300_000);
