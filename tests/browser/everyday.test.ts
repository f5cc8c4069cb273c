/**
 * What every screen has, in a real browser: find, keys, going back, addresses that lead straight to a screen, the reader's own dates,
 * and no more motion than is wanted. With and without the server.
 */
import type { Page } from "playwright-core";
import { afterAll, afterEach, beforeAll, expect, test } from "vitest";
import { player } from "../support/small-club.ts";
import type { Scene } from "./at-a-desk.ts";
import { expectAccessible, inStep, openDevice, startScene, today } from "./at-a-desk.ts";

let scene: Scene;

beforeAll(async () => {
  scene = await startScene();
});
// A test that fails without a signal must not take the others with it.
afterEach(() => Promise.all(scene.browser.contexts().map((context) => context.setOffline(false))));
afterAll(() => scene?.close());

const heading = (page: Page, name: string | RegExp) => page.getByRole("heading", { level: 1, name });
const options = (page: Page) =>
  page
    .getByRole("dialog")
    .getByRole("option")
    .evaluateAll((all) => all.map((one) => one.querySelector(".search-title")?.textContent ?? ""));
const chosen = (page: Page) =>
  page.getByRole("dialog").getByRole("option", { selected: true }).locator(".search-title").textContent();
/** The path below the device. */
const place = (page: Page) => new URL(page.url()).pathname.replace(/^\/d\/[^/]+\//, "") + new URL(page.url()).search;

test("a slash and a few letters find people, events, fixtures, screens and commands, without leaving the keyboard or a signal", async () => {
  const device = await scene.open(scene.club.passes.handicapper, "To do");
  const { page } = device;
  // From then on every script is on the device.
  await page.evaluate(() => navigator.serviceWorker.ready);
  await device.goOffline();
  const find = async (letters: string): Promise<void> => {
    await page.keyboard.press("/");
    await page.getByRole("dialog").getByRole("combobox").waitFor();
    await page.keyboard.type(letters);
  };
  await find("und");
  await expect.poll(() => options(page)).toEqual(["Kit Underlea"]);
  await page.keyboard.press("Enter");
  await heading(page, "Kit Underlea").waitFor();
  await expect.poll(() => page.evaluate(() => document.activeElement?.tagName)).toBe("H1");
  expect(place(page)).toBe(`members/${player("kit")}`);

  await find("harrow");
  await expect.poll(() => options(page)).toEqual(["Vic Tarrant"]);
  await page.keyboard.press("Enter");
  await page.getByText("A visitor from Harrow Green.").waitFor();

  await find("harv");
  await page.keyboard.press("Enter");
  await heading(page, "Harvest Cup").waitFor();
  expect(await page.locator("main tbody tr").count()).toBe(3);
  expect(await page.locator("main tbody tr").first().innerText()).toContain("7–5");

  await find("millb");
  await page.getByRole("option", { name: /Thornfield v Millbrook Three Rivers League/ }).waitFor();
  await page.keyboard.press("Enter");
  await expect.poll(() => place(page)).toMatch(/^league\/.+\/.+/);

  // A word of what a screen is for, and the arrows.
  await find("h");
  await expect.poll(() => chosen(page)).toBe("Hal Brindle");
  await page.keyboard.press("ArrowDown");
  const second = (await options(page))[1];
  expect(await chosen(page)).toBe(second);
  await page.keyboard.press("ArrowUp");
  await page.keyboard.press("ArrowUp");
  expect(await chosen(page)).toBe((await options(page)).at(-1));
  await page.keyboard.press("Escape");
  expect(await page.getByRole("dialog").count()).toBe(0);

  await find("three rounds");
  await expect.poll(() => options(page)).toEqual(["Add a member or a visitor"]);
  await page.keyboard.press("Enter");
  await page.getByRole("dialog").getByLabel("Round 1").waitFor();
  expect(place(page)).toBe("members?add=1");
  await page.keyboard.press("Escape");
  await expect.poll(() => place(page)).toBe("members");

  await find("zzz");
  await page.getByText("Nothing here begins like “zzz”.").waitFor();
  await page.keyboard.press("Enter");
  expect(await page.getByRole("dialog").count()).toBe(1);
  await page.keyboard.press("Escape");

  await device.online();
  await inStep(page);
  await find("offl");
  await page.keyboard.press("Enter");
  await page.getByRole("link", { name: /Offline, as you asked/ }).waitFor();
  await find("share again");
  await page.keyboard.press("Enter");
  await inStep(page);
  expect(device.faults).toEqual([]);
});

test("the button finds too, and undoing what was saved last is a command", async () => {
  const device = await scene.open(scene.club.passes.handicapper, "To do");
  const { page } = device;
  await page.getByRole("button", { name: "Find" }).click();
  await page.getByRole("option", { name: "Members screen" }).waitFor();
  expect(await page.getByRole("option", { name: /Undo/ }).count()).toBe(0);
  await page.keyboard.press("Escape");
  await expect.poll(() => page.evaluate(() => document.activeElement?.textContent)).toBe("Find");
  const box = page.getByRole("article", { name: "Ada Wren: handicap 7 to 6" });
  await box.getByRole("button", { name: /^Sign off up to/ }).click();
  await expect.poll(() => box.count()).toBe(0);
  await page.getByRole("button", { name: "Find" }).click();
  await page.getByRole("option", { name: /Undo what was saved last Ada Wren's card is signed off/ }).click();
  await box.waitFor();
  expect(device.faults).toEqual([]);
});

test("a question mark shows the keys; two keys go from screen to screen; single keys can be switched off for good", async () => {
  const device = await scene.open(scene.club.passes.handicapper, "To do");
  const { page } = device;
  await page.keyboard.press("?");
  const dialog = page.getByRole("dialog");
  await dialog.getByText("goes to Members").waitFor();
  await page.keyboard.press("Escape");
  for (const [letter, title] of [
    ["m", "Members"],
    ["c", "Yearly check of all cards"],
    ["a", "What needs attention"],
  ] as const) {
    await page.keyboard.press("g");
    await page.keyboard.press(letter);
    await heading(page, title).waitFor();
  }
  await page.keyboard.press("g");
  await page.keyboard.press("e");
  // In a field they are letters.
  await page.locator("main input[type=text], main input:not([type])").first().focus();
  await page.keyboard.type("g/?");
  expect(await page.getByRole("dialog").count()).toBe(0);
  await page.getByRole("navigation").getByRole("link", { name: "Members" }).click();
  await heading(page, "Members").waitFor();
  await page.keyboard.press("?");
  await dialog.getByText("opens the first one").waitFor();
  await dialog.getByLabel("Single keys work on this device").click();
  await page.keyboard.press("Escape");
  await page.reload();
  await heading(page, "Members").waitFor();
  await inStep(page);
  await page.keyboard.press("/");
  await page.keyboard.press("?");
  expect(await page.getByRole("dialog").count()).toBe(0);
  await page.getByRole("button", { name: "Find" }).click();
  await page.getByRole("dialog").getByRole("option").first().waitFor();
  await page.keyboard.type("keys");
  await page.keyboard.press("Enter");
  await dialog.getByLabel("Single keys work on this device").click();
  await page.keyboard.press("Escape");
  await page.keyboard.press("/");
  await page.getByRole("dialog").getByRole("combobox").waitFor();
  expect(device.faults).toEqual([]);
});

test("each address leads straight to its screen, also with the server gone, and one cut short says so", async () => {
  const device = await scene.open(scene.club.passes.handicapper, "To do");
  const { page } = device;
  const base = /^.*\/d\/[^/]+\//.exec(page.url())![0];
  const [league] = [...scene.club.passes.handicapper.leagues];
  const addresses: [string, string | RegExp][] = [
    ["", "What needs attention"],
    ["members", "Members"],
    [`members/${player("kit")}`, "Kit Underlea"],
    [`members/${player("kit")}?line=3`, "Kit Underlea"],
    ["entry", /match|Enter/],
    [`league/${league!.book}`, /League/],
    ["strokes", /strokes/i],
    ["sharing", "Sharing"],
    ["check", "Yearly check of all cards"],
    ["check/summary", "Yearly check: summary"],
    ["nowhere", "There is no such screen"],
    ["events/none", "There is no such screen"],
  ];
  for (const offline of [false, true]) {
    if (offline) await device.goOffline();
    for (const [address, title] of addresses) {
      await page.goto(`${base}${address}`);
      await heading(page, title).waitFor();
      expect(await page.title()).toContain("Sward");
    }
  }
  await device.online();
  expect(device.faults).toEqual([]);
});

test("going back finds the page where it was left; going on begins at the top with the focus on its heading", async () => {
  const device = await scene.open(scene.club.passes.handicapper, "Members");
  const { page } = device;
  await page.setViewportSize({ width: 1280, height: 500 });
  await heading(page, "Members").waitFor();
  const link = page.getByRole("link", { name: "Hal Brindle" });
  await link.scrollIntoViewIfNeeded();
  await page.evaluate(() => scrollTo(0, document.body.scrollHeight));
  await expect.poll(() => page.evaluate(() => scrollY)).toBeGreaterThan(200);
  const left = await page.evaluate(() => scrollY);
  // By keyboard, so that nothing is scrolled to be clicked.
  await link.evaluate((one) => (one as HTMLElement).focus({ preventScroll: true }));
  await page.keyboard.press("Enter");
  await heading(page, "Hal Brindle").waitFor();
  await expect.poll(() => page.evaluate(() => scrollY)).toBe(0);
  await expect.poll(() => page.evaluate(() => document.activeElement?.textContent)).toBe("Hal Brindle");
  await page.goBack();
  await heading(page, "Members").waitFor();
  await expect.poll(() => page.evaluate(() => scrollY)).toBe(left);
  await page.goForward();
  await heading(page, "Hal Brindle").waitFor();
  await expect.poll(() => page.evaluate(() => scrollY)).toBe(0);
  await page.setViewportSize({ width: 1280, height: 900 });
  expect(device.faults).toEqual([]);
});

test("dates are written as the reader's browser writes them, and nothing moves, for who wants no motion and for who does not say", async () => {
  const last = scene.games("kit").at(-1)!.date;
  const shown = new Intl.DateTimeFormat("de-DE", { day: "numeric", month: "short", year: "numeric", timeZone: "UTC" });
  const device = await openDevice(scene.browser, scene.relay.origin, scene.club.passes.reader, {
    locale: "de-DE",
    reducedMotion: "reduce",
  });
  const { page } = device;
  await page.goto(`${/^.*\/d\/[^/]+\//.exec(page.url())![0]}members/${player("kit")}`);
  await page
    .getByRole("cell", { name: shown.format(new Date(`${last}T00:00:00Z`)) })
    .first()
    .waitFor();
  expect(last <= today()).toBe(true);
  const moving = () =>
    page.evaluate(
      () =>
        [...document.querySelectorAll("*")].filter((one) => {
          const { transitionDuration, animationName } = getComputedStyle(one);
          return animationName !== "none" || transitionDuration.split(", ").some((time) => Number.parseFloat(time) > 0);
        }).length,
    );
  expect(await moving()).toBe(0);
  // Nor for anybody else: a background that fades costs a phone two frames after each press.
  await page.emulateMedia({ reducedMotion: "no-preference" });
  expect(await moving()).toBe(0);
  // The same question finds what does move, so it can be answered with more than none.
  await page
    .locator(".button")
    .first()
    .evaluate((button: HTMLElement) => {
      button.style.transition = "background-color 120ms";
    });
  expect(await moving()).toBe(1);
  expect(device.faults).toEqual([]);
  await device.close();
});

test("find, the keys and an event pass axe in light and dark, on a phone and on a wide screen", async () => {
  const { page } = await scene.open(scene.club.passes.handicapper, "To do");
  for (const colorScheme of ["light", "dark"] as const) {
    for (const width of [390, 1280]) {
      await page.emulateMedia({ colorScheme });
      await page.setViewportSize({ width, height: 844 });
      await page.getByRole("button", { name: "Find" }).click();
      await page.getByRole("dialog").getByRole("option").first().waitFor();
      await expectAccessible(page);
      await page.keyboard.type("harvest");
      await page.keyboard.press("Enter");
      await heading(page, "Harvest Cup").waitFor();
      await expectAccessible(page);
      await page.keyboard.press("?");
      await page.getByRole("dialog").getByText("goes to Members").waitFor();
      await expectAccessible(page);
      await page.keyboard.press("Escape");
      await page.getByRole("button", { name: "Find" }).click();
      await page.getByRole("dialog").getByRole("option").first().waitFor();
      await page.keyboard.type("qqq");
      await page.getByText("Nothing here begins like").waitFor();
      await expectAccessible(page);
      await page.keyboard.press("Escape");
    }
  }
});
