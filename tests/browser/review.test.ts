/**
 * The review on the built app in a real browser: what it says is what the record gives, with the games it is about; what a score pad
 * kept is in it; it is there without a signal, on paper, and for a reader of any screen.
 */
import type { Draft, Game } from "@sward/core";
import { findRuleSet, reviewCounts } from "@sward/core";
import type { Page } from "playwright-core";
import { afterAll, beforeAll, expect, test } from "vitest";
import { reviewClub } from "../../packages/client/src/app/review/club-review.ts";
import { spanOf } from "../../packages/client/src/app/review/season.ts";
import { reviewWords } from "../../packages/client/src/app/words/review.ts";
import { before, player } from "../support/small-club.ts";
import type { Scene } from "./at-a-desk.ts";
import { expectAccessible, startScene } from "./at-a-desk.ts";

let scene: Scene;

beforeAll(async () => {
  scene = await startScene();
});
afterAll(() => scene.close());

async function toReview(page: Page): Promise<void> {
  await page.getByRole("link", { name: "What the games say" }).click();
  await page.getByRole("heading", { level: 1, name: "Review" }).waitFor();
}

async function showAll(page: Page): Promise<void> {
  await page.getByLabel("Season").selectOption("all");
  await page.waitForURL(/season=all/);
}

function counted(season: string) {
  const { root } = scene.club;
  const counts = reviewCounts(root.state(), root.counted(), spanOf(season));
  return { counts, review: reviewClub(root.state(), counts, findRuleSet, reviewWords.fairness.band) };
}

/** A table's rows as texts, the heading cell first. */
const rowsOf = (page: Page, section: string): Promise<string[][]> =>
  page
    .getByRole("region", { name: section })
    .locator("tbody tr")
    .evaluateAll((rows) => rows.map((row) => [...row.children].map((cell) => cell.textContent ?? "")));

test("receivers of strokes against one half: table and picture say what the record gives, with games and range", async () => {
  const device = await scene.open(scene.club.passes.handicapper, "Members");
  const { page } = device;
  await toReview(page);
  await showAll(page);
  const { review } = counted("all");
  expect(review.receivers.reduce((sum, { games }) => sum + games, 0)).toBeGreaterThan(30);
  const rows = await rowsOf(page, "Do extra strokes make games even?");
  expect(rows.map((row) => row.slice(0, 3))).toEqual(
    review.receivers.map(({ label, games, won }) => [label, String(games), String(won)]),
  );
  for (const row of rows) expect(row[4]).toMatch(/^\d+% to \d+%$/);
  const picture = page.getByRole("img", { name: /^How often receivers of strokes won/ });
  const said = (await picture.getAttribute("aria-label")) ?? "";
  for (const { label, games, won } of review.receivers) expect(said).toContain(`${label}: ${won} of ${games} games`);

  const leftOut = page.getByText(/^\d+ games left out$/);
  await leftOut.click();
  await page.getByText("2: friendlies and other games that do not count").waitFor();
  expect(device.faults).toEqual([]);
});

test("level play, everybody and one player: wins of games as on the cards", async () => {
  const { page } = await scene.open(scene.club.passes.handicapper, "Members");
  await toReview(page);
  await showAll(page);
  const { counts } = counted("all");
  await page.getByRole("img", { name: /^Level play: share the lower handicap/ }).waitFor();
  await page.getByText(/Tossing a coin for each would score 0\.69\./).waitFor();
  const ada = counts.players.get(player("ada"))!;
  const cells = (await rowsOf(page, "Everybody")).find(([name]) => name === "Ada Wren");
  expect(cells?.[1]).toBe(`${ada.handicap.won} of ${ada.handicap.games}`);

  await page.getByRole("region", { name: "Everybody" }).getByRole("link", { name: "Ada Wren" }).click();
  await page.getByRole("heading", { level: 1, name: "Review: Ada Wren" }).waitFor();
  const lines = scene.games("ada").filter(({ reason }) => reason === "handicap-singles");
  const won = lines.filter(({ points }) => points > 0).length;
  const rows = await rowsOf(page, "Handicap play");
  expect(rows[0]?.slice(0, 3)).toEqual(["all handicap games", String(lines.length), String(won)]);
  await page.getByText(/^Over the last \d+ games since the handicap was last set/).waitFor();
  await page.goBack();
  await page.getByRole("heading", { level: 1, name: "Review", exact: true }).waitFor();
  expect(await page.getByLabel("Season").inputValue()).toBe("all");
});

test("from a card to its player's review and back; an address nobody has says so", async () => {
  const { page } = await scene.open(scene.club.passes.handicapper, "Members");
  await page.getByRole("link", { name: "Bo Linnet" }).click();
  await page.getByRole("link", { name: "What the games say" }).click();
  await page.getByRole("heading", { level: 1, name: "Review: Bo Linnet" }).waitFor();
  await page.getByRole("link", { name: "Bo Linnet's card" }).click();
  await page.getByRole("heading", { level: 1, name: "Bo Linnet" }).waitFor();
  await page.goto(page.url().replace(/\/members\/.*$/, "/review/nobody"));
  await page.getByText("Nobody with this address is in the club's record").waitFor();
});

test("what a score pad kept: strokes used and lapsed, and at which hoops, as soon as it is saved anywhere", async () => {
  const { page } = await scene.open(scene.club.passes.handicapper, "Members");
  await toReview(page);
  await showAll(page);
  const strokes = page.getByRole("region", { name: "Extra strokes: used and unused" });
  await strokes.getByText(/No game of this season was kept with the score pad/).waitFor();
  const games: Game[] = [
    {
      score: [7, 4],
      hoops: [0, 1, 0, 0, 1, 0, 0, 1, 1, 0, 0],
      taken: [
        { side: 1, seat: 0, hoop: 2 },
        { side: 1, seat: 0, hoop: 3 },
        { side: 1, seat: 0, hoop: 2 },
      ],
    },
  ];
  const pad: Draft = {
    kind: "match-reported",
    body: {
      date: before(scene.club.today, 1),
      occasion: "club-competition",
      n: 1,
      play: "handicap",
      format: 13,
      sides: [[{ player: player("cass"), off: 4 }], [{ player: player("lou"), off: 9 }]],
      games,
      given: [[0], [5]],
    },
  };
  const saved = await scene.club.root.append([pad]);
  expect(saved.ok).toBe(true);
  await strokes.getByText("Of 5 strokes given in 1 game, 3 were used and 2 lapsed.").waitFor();
  await strokes
    .getByText(/^In 1 of the 1 game they lost, receivers had strokes left at the end: 2 strokes in all\./)
    .waitFor();
  expect(await rowsOf(page, "Extra strokes: used and unused")).toEqual([
    ["2", "2", "2 of 2"],
    ["3", "1", "0 of 1"],
  ]);
});

test("players to look at are for a handicapper's device; another one says why it has none", async () => {
  const { review } = counted("all");
  const handicapper = await scene.open(scene.club.passes.handicapper, "Members");
  await toReview(handicapper.page);
  await showAll(handicapper.page);
  const watched = handicapper.page.getByRole("region", { name: "Players to look at" });
  await watched.getByText(/chance alone puts .* on this list\. It has/).waitFor();
  expect(await watched.getByRole("listitem").count()).toBe(review.watch.listed.length);
  const newcomers = handicapper.page.getByRole("region", { name: /^Newcomers/ });
  expect(await newcomers.getByRole("listitem").count()).toBe(review.newcomers.length);
  expect(review.newcomers.length).toBeGreaterThan(0);
  await newcomers.getByText(/An estimate, not a ruling\./).waitFor();

  const recorder = await scene.open(scene.club.passes.recorder, "Members");
  await toReview(recorder.page);
  await recorder.page.getByText("This list is shown on a handicapper's device only").waitFor();
  expect(await recorder.page.getByRole("heading", { name: /^Newcomers/ }).count()).toBe(0);
});

test("without a signal, reloaded, the review is there; on paper it has its own heading and no buttons", async () => {
  const device = await scene.open(scene.club.passes.handicapper, "Members");
  const { page } = device;
  await toReview(page);
  await page.evaluate(() => navigator.serviceWorker.ready);
  await device.goOffline();
  await page.reload();
  await page.getByRole("img", { name: /^How often receivers of strokes won/ }).waitFor();
  await page.emulateMedia({ media: "print" });
  await page.getByText(/^Review of handicaps\. Thornfield Croquet Club/).waitFor();
  expect(await page.getByRole("button", { name: "Print the review" }).isVisible()).toBe(false);
  expect(await page.getByRole("navigation").isVisible()).toBe(false);
  await page.emulateMedia({ media: "screen" });
  await device.online();
});

test("the review passes axe in light and dark, on a phone and on a wide screen, and nothing is wider than the phone", async () => {
  const { page } = await scene.open(scene.club.passes.handicapper, "Members");
  for (const colorScheme of ["light", "dark"] as const) {
    for (const width of [390, 1280]) {
      await page.emulateMedia({ colorScheme });
      await page.setViewportSize({ width, height: 844 });
      await page.getByRole("navigation").getByRole("link", { name: "Members" }).click();
      await toReview(page);
      await showAll(page);
      await page.getByText(/^\d+ games left out$/).click();
      await expectAccessible(page);
      expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(width);
      await page.getByRole("region", { name: "Everybody" }).getByRole("link", { name: "Ada Wren" }).click();
      await page.getByRole("heading", { level: 1, name: "Review: Ada Wren" }).waitFor();
      await expectAccessible(page);
      expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(width);
    }
  }
  await page.setViewportSize({ width: 1280, height: 900 });
});
