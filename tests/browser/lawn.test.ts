/** Games at the lawn on the built app, by thumb on a phone: tapped through, lost and found again, and saved as matches with their record. */
import type { EntryOf } from "@sward/core";
import type { Page } from "playwright-core";
import { afterAll, beforeAll, expect, test } from "vitest";
import { player } from "../support/small-club.ts";
import type { Scene } from "./at-a-desk.ts";
import { expectAccessible, openDevice, startScene, today, toScreen } from "./at-a-desk.ts";
import { foundLeagueWorld } from "./league-world.ts";

let scene: Scene;

beforeAll(async () => {
  scene = await startScene();
});
afterAll(() => scene?.close());

const PHONE = { viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true };

const button = (page: Page, name: string | RegExp) =>
  page.getByRole("button", { name, exact: typeof name === "string" });

async function tap(page: Page, ...names: readonly string[]): Promise<void> {
  for (const name of names) await button(page, name).tap();
}

async function choosePlayer(page: Page, role: string, typed: string, name: string): Promise<void> {
  await page.getByRole("combobox", { name: role, exact: true }).fill(typed);
  await page.getByRole("option", { name: new RegExp(name) }).tap();
}

/** The reports that a browser saved, as the club's root has them. */
const reports = (): readonly EntryOf<"match-reported">[] => {
  const found: EntryOf<"match-reported">[] = [];
  for (const { entry } of scene.club.root.counted()) if (entry.kind === "match-reported") found.push(entry);
  return found;
};
const arrived = (entries: number) =>
  expect.poll(() => scene.club.root.state().entries, { timeout: 15_000 }).toBe(entries);

const PLAYED = "Played, no hoop";

test("a 13-point game with extra strokes: refused where it must be, undone, lost signal and reloaded, saved, on the card", async () => {
  const device = await scene.open(scene.club.passes.recorder, "Enter", PHONE);
  const { page, faults } = device;
  const before = scene.club.root.state().entries;
  await page.getByRole("link", { name: "Score pad" }).tap();
  await choosePlayer(page, "Player", "cass", "Cass Thorley");
  await choosePlayer(page, "Opponent", "gwen", "Gwen Ashdown");
  const told = await page.getByRole("region", { name: "Extra strokes" }).innerText();
  const given = Number(/Gwen A\. receives (\d+) extra strokes/.exec(told)?.[1]);
  expect(given).toBeGreaterThan(4);
  await expectAccessible(page);
  await tap(page, "Begin the game");
  await page.getByRole("heading", { level: 1, name: "Cass Thorley v Gwen Ashdown" }).waitFor();
  const left = (count: number) => page.getByText(`Gwen Ashdown: ${count} of ${given} extra strokes left`).waitFor();
  await left(given);
  await page.getByRole("button", { name: "blue Cass Thorley ▼ next" }).waitFor();

  // Nobody may take one before the own turn; then red may, and again; its own hoop does not count in it.
  await tap(page, PLAYED);
  await page.getByRole("button", { name: "Extra stroke", exact: true }).tap({ force: true });
  await page.getByText("The player who has just played has no extra stroke to take.").waitFor();
  await tap(page, PLAYED, `Extra stroke Gwen Ashdown, ${given} left`);
  await page.getByText("Gwen Ashdown plays an extra stroke with red.").waitFor();
  await page.getByText("After a fault, balls back first.").waitFor();
  // What cannot be looks so, and says why when it is tapped all the same.
  await button(page, "Hoop for Gwen Ashdown").tap({ force: true });
  await page.getByText(/An extra stroke scores nothing for Gwen Ashdown/).waitFor();
  await tap(page, "Take it back Gwen Ashdown");
  await left(given);
  await tap(page, `Extra stroke Gwen Ashdown, ${given} left`, PLAYED);
  await left(given - 1);
  await tap(page, `Extra stroke Gwen Ashdown, ${given - 1} left`, "Hoop for Cass Thorley");
  await left(given - 2);
  await page.getByRole("region", { name: "Cass Thorley: 1 hoop" }).waitFor();
  await page.getByText("Hoop 2", { exact: true }).waitFor();
  // No is final for the turn, and the next turn has a chance of its own.
  await tap(page, "Say no Gwen Ashdown");
  await page.getByText("Gwen Ashdown has said no for this turn. That is final.").waitFor();
  await expectAccessible(page);

  await device.goOffline();
  await tap(page, "Hoop for Gwen Ashdown", "Hoop for Gwen Ashdown", "Undo: the hoop for Gwen Ashdown");
  await page.getByRole("region", { name: "Gwen Ashdown: 1 hoop" }).waitFor();
  await page.reload();
  await page.getByRole("region", { name: "Gwen Ashdown: 1 hoop" }).waitFor();
  await left(given - 2);
  await page.getByRole("button", { name: "yellow Gwen Ashdown ▼ next" }).waitFor();
  await button(page, "red Gwen Ashdown").tap();
  await page.getByRole("button", { name: "red Gwen Ashdown ▼ next" }).waitFor();

  for (let hoop = 0; hoop < 5; hoop++) await tap(page, "Hoop for Cass Thorley", "Hoop for Gwen Ashdown");
  await page.getByText("Hoop 3 again, the 13th").waitFor();
  await page.getByText("The next hoop decides.").waitFor();
  await tap(page, "Hoop for Gwen Ashdown");
  await page.getByText("Gwen Ashdown won 7–6.").waitFor();
  await page.getByText(`${given - 2} extra strokes left over: they lapse.`).waitFor();

  await page.getByRole("link", { name: "Enter the result" }).tap();
  await page.getByRole("heading", { level: 1, name: "Enter the result" }).waitFor();
  expect(await page.getByLabel("Game 1, hoops of own side").inputValue()).toBe("6");
  await page.getByLabel("Played as").selectOption("club competition");
  // Another score than was tapped: what of the record does not fit is said, and gone when the score is put right.
  await page.getByLabel("Game 1, hoops of own side").fill("5");
  const lost = page.getByText("game 1: who scored each hoop, because it comes to another score");
  await lost.waitFor();
  await page.getByLabel("Game 1, hoops of own side").fill("6");
  await lost.waitFor({ state: "detached" });
  await tap(page, "Save the match");
  await page.getByRole("heading", { level: 2, name: "Saved as matches" }).waitFor();
  await device.online();
  await arrived(before + 1);
  const line = scene.games("gwen").find(({ date }) => date === today())!;
  expect(line).toMatchObject({ score: [7, 6], points: 10 });
  const body = reports().find((entry) => entry.body.games[0]?.hoops !== undefined)?.body;
  expect(body?.given).toEqual([[0], [given]]);
  expect(body?.games).toEqual([
    {
      score: [6, 7],
      hoops: [0, 1, 0, 1, 0, 1, 0, 1, 0, 1, 0, 1, 1],
      taken: [
        { side: 1, seat: 0, hoop: 1 },
        { side: 1, seat: 0, hoop: 1 },
      ],
    },
  ]);
  expect(faults).toEqual([]);
});

test("doubles with a time limit: strokes by player, the extension counted, another game, and both games reported", async () => {
  const { page, faults } = await scene.open(scene.club.passes.recorder, "Strokes", PHONE);
  const before = scene.club.root.state().entries;
  await page.getByRole("link", { name: "Score pad" }).tap();
  await page.getByRole("radio", { name: "Doubles" }).check();
  await page.getByRole("radio", { name: "7", exact: true }).check();
  for (const [role, typed, name] of [
    ["Player", "dov", "Dov Marram"],
    ["Partner", "finn", "Finn Sallow"],
    ["Opponent", "hal", "Hal Brindle"],
    ["Opponent's partner", "kit", "Kit Underlea"],
  ] as const) {
    await choosePlayer(page, role, typed, name);
  }
  for (const [at, off] of ["12", "11", "7", "10"].entries()) {
    const role = ["Player", "Partner", "Opponent", "Opponent's partner"][at];
    await page.getByLabel(`${role}'s handicap`, { exact: true }).fill(off);
  }
  // A 13-point game gives 3 and none, or 2 and 1; halved and rounded up for 7 points (Croquet North Carolina, 2013,
  // http://croquetnc.org/reference/handicap-golf-croquet-introduction): 2 and none, or 1 and 1. The pair takes the second.
  const ways = page.getByRole("region", { name: "Extra strokes" }).getByRole("radio");
  await expect.poll(() => ways.count()).toBe(2);
  await ways.nth(1).check();
  await page.getByRole("group", { name: "Who plays the first ball" }).getByRole("radio").nth(1).check();
  await page.getByLabel("With a time limit").check();
  await page.getByLabel("Turns in the extension").fill("x");
  await tap(page, "Begin the game");
  await page.getByText("“x” is not a number from 0 to 40.").waitFor();
  await page.getByLabel("Turns in the extension").fill("2");
  await expectAccessible(page);
  await tap(page, "Begin the game");

  await page.getByRole("button", { name: "blue Hal Brindle ▼ next" }).waitFor();
  await page.getByText("Dov Marram: 1 of 1 extra strokes left").waitFor();
  await page.getByText("Finn Sallow: 1 of 1 extra strokes left").waitFor();
  await tap(page, PLAYED, "Hoop for Dov Marram and Finn Sallow", "Extra stroke Dov Marram, 1 left", PLAYED);
  await page.getByText("Dov Marram: 0 of 1 extra strokes left").waitFor();
  await page
    .getByRole("timer", { name: "Time left" })
    .getByText(/^(50:00|49:\d\d)$/)
    .waitFor();
  await tap(page, "Call time");
  await page.getByText("Extension: 2 turns to play, no extra strokes").waitFor();
  await tap(page, PLAYED, PLAYED);
  await page.getByText("Dov Marram and Finn Sallow won 1–0.").waitFor();
  await page.getByText("Another game of this match").tap();
  await tap(page, "Next game, Dov Marram and Finn Sallow plays blue");
  await page.getByText("Dov Marram: 1 of 1 extra strokes left").waitFor();
  for (let hoop = 0; hoop < 4; hoop++) await tap(page, "Hoop for Hal Brindle and Kit Underlea");
  await page.getByText("Hal Brindle and Kit Underlea won 4–0.").waitFor();

  await page.getByRole("link", { name: "Enter the result" }).tap();
  await page.getByLabel("Played as").selectOption("friendly inside the club");
  await page.getByLabel("Game 2, hoops of opponents").waitFor();
  await tap(page, "Save the match");
  await page.getByRole("heading", { level: 2, name: "Saved as matches" }).waitFor();
  await arrived(before + 1);
  const body = reports().find(({ body: { format, sides } }) => format === 7 && sides[0].length === 2)?.body;
  expect(body?.sides[0].map((seat) => seat.player)).toEqual([player("dov"), player("finn")]);
  expect([body?.given, body?.games]).toEqual([
    [
      [1, 1],
      [0, 0],
    ],
    [
      { score: [1, 0], ended: "time", hoops: [0], taken: [{ side: 0, seat: 0, hoop: 2 }] },
      { score: [0, 4], hoops: [1, 1, 1, 1], taken: [] },
    ],
  ]);
  expect(faults).toEqual([]);
});

test("a match of the league: the fixture settles how it is played, and the result goes into the league's book", async () => {
  const world = await foundLeagueWorld(scene.relay.origin, today());
  const { page, faults, close } = await openDevice(scene.browser, scene.relay.origin, world.home.captain, PHONE);
  await toScreen(page, "Strokes");
  await page.getByRole("link", { name: "Score pad" }).tap();
  await page.getByRole("radio", { name: "7", exact: true }).check();
  const slots = page.getByLabel("In a league match");
  expect(await slots.getByRole("option").count()).toBe(4);
  await slots.selectOption({ index: 2 });
  expect(await page.getByRole("radio", { name: "13", exact: true }).isChecked()).toBe(true);
  await choosePlayer(page, "Player", "ivo", "Ivo Larch");
  await choosePlayer(page, "Opponent", "rae", "Rae Bramble");
  await tap(page, "Begin the game");
  await page.getByText("Ivo Larch: 5 of 5 extra strokes left").waitFor();
  await tap(page, PLAYED, "Extra stroke Ivo Larch, 5 left", PLAYED);
  for (let hoop = 0; hoop < 7; hoop++) await tap(page, "Hoop for Ivo Larch");
  await page.getByRole("link", { name: "Enter the result" }).tap();
  expect(await page.getByLabel("Game 1, hoops of Heronsgate").inputValue()).toBe("7");
  await tap(page, "Save match 2");
  await page.getByRole("heading", { level: 2, name: "Saved as matches" }).waitFor();
  const reported = () =>
    [...world.league.counted()].flatMap(({ entry }) => (entry.kind === "match-reported" ? [entry.body] : []));
  await expect.poll(() => reported().length, { timeout: 15_000 }).toBe(1);
  expect(reported()[0]).toMatchObject({
    occasion: "league",
    slot: { fixture: world.fixture, number: 2 },
    given: [[5], [0]],
    games: [{ score: [7, 0], hoops: [0, 0, 0, 0, 0, 0, 0], taken: [{ side: 0, seat: 0, hoop: 1 }] }],
  });
  expect(faults).toEqual([]);
  await close();
  await world.close();
});

test("every target on the pad is at least 44 px, axe finds nothing in light, dark and sunlight, on a phone and on a desk", async () => {
  const { page } = await scene.open(scene.club.passes.reader, "Strokes", PHONE);
  await page.getByRole("link", { name: "Score pad" }).tap();
  await page.getByLabel("Extra strokes for Opponent").fill("5");
  await tap(page, "Begin the game");
  // A reader's device may keep a pad: nothing of it is in the record yet.
  await page.getByRole("heading", { level: 1, name: "Blue and black v Red and yellow" }).waitFor();
  await tap(page, PLAYED, PLAYED);
  const small = await page.evaluate(() =>
    [...document.querySelectorAll(".lawn-pad button, .lawn-pad summary, .lawn-pad label, .lawn-pad a")]
      .map((one) => ({ box: one.getBoundingClientRect(), text: one.textContent }))
      .filter(({ box }) => box.height > 0 && (box.height < 44 || box.width < 44))
      .map(({ text }) => text),
  );
  expect(small).toEqual([]);
  // Under the thumb nothing moves, whatever is written above, and all of it is on the screen.
  const boxes = () =>
    Promise.all(
      [PLAYED, /^Hoop for Blue/, /^Undo/].map((name) =>
        button(page, name)
          .boundingBox()
          .then((box) => box!),
      ),
    );
  const before = await boxes();
  await tap(page, "Extra stroke Red and yellow, 5 left");
  await page.getByText("After a fault, balls back first.").waitFor();
  expect(await boxes()).toEqual(before);
  expect(Math.max(...before.map(({ y, height }) => y + height))).toBeLessThan(844);
  expect(Math.min(...before.map(({ height }) => height))).toBeGreaterThan(50);
  await tap(page, "Take it back Red and yellow");
  for (const width of [390, 1280]) {
    await page.setViewportSize({ width, height: 844 });
    for (const colorScheme of ["light", "dark"] as const) {
      await page.emulateMedia({ colorScheme });
      await expectAccessible(page);
    }
    await page.getByLabel("Bright for sunlight").check();
    await expectAccessible(page);
    expect(await contrast(page)).toBeGreaterThanOrEqual(7);
    await page.getByLabel("Bright for sunlight").uncheck();
  }
  await page.getByText("More", { exact: true }).click();
  await button(page, "Stop here: time").click();
  await page.getByRole("link", { name: "Enter the result" }).click();
  await page.getByText("This device reads only").waitFor();
});

/** The least contrast of any text on the pad against its own ground, by WCAG 2.2's formula of relative luminance. */
const contrast = (page: Page): Promise<number> =>
  page.evaluate(() => {
    const rgb = (text: string): number[] => (text.match(/[\d.]+/g) ?? []).map(Number);
    const light = ([r = 0, g = 0, b = 0]: number[]): number => {
      const part = (value: number): number =>
        value / 255 <= 0.04045 ? value / 255 / 12.92 : ((value / 255 + 0.055) / 1.055) ** 2.4;
      return 0.2126 * part(r) + 0.7152 * part(g) + 0.0722 * part(b);
    };
    const groundOf = (element: Element | null): number[] => {
      if (element === null) return [255, 255, 255];
      const [r = 0, g = 0, b = 0, alpha = 1] = rgb(getComputedStyle(element).backgroundColor);
      return alpha === 0 ? groundOf(element.parentElement) : [r, g, b];
    };
    const ratios = [...document.querySelectorAll(".lawn-pad *")]
      .filter((one) => one.checkVisibility())
      .filter((one) => [...one.childNodes].some((node) => node.nodeType === 3 && node.textContent?.trim() !== ""))
      .map((one) => {
        const [a, b] = [light(rgb(getComputedStyle(one).color)), light(groundOf(one))];
        return (Math.max(a, b) + 0.05) / (Math.min(a, b) + 0.05);
      });
    return Math.min(...ratios);
  });
