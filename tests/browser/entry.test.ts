/** Entering matches on the built app in a real browser, at a real relay: what the screen promised is what every device's card says. */
import { extraStrokes, findRuleSet } from "@sward/core";
import type { Page } from "playwright-core";
import { afterAll, beforeAll, expect, test } from "vitest";
import { player } from "../support/small-club.ts";
import type { Scene } from "./at-a-desk.ts";
import { expectAccessible, startScene, today } from "./at-a-desk.ts";

let scene: Scene;

beforeAll(async () => {
  scene = await startScene();
});
afterAll(() => scene?.close());

const effectText = (page: Page): Promise<string> => page.getByRole("region", { name: "If you save this" }).innerText();

/** Presses a key until the field with this id has the focus. */
async function pressUntil(page: Page, key: string, field: string): Promise<void> {
  for (let press = 0; press < 40; press++) {
    if ((await page.evaluate(() => document.activeElement?.getAttribute("data-field"))) === field) return;
    await page.keyboard.press(key);
  }
  throw new Error(`${key} never came to ${field}`);
}

const typeAll = async (page: Page, ...words: string[]): Promise<void> => {
  for (const word of words) {
    await page.keyboard.type(word);
    await page.keyboard.press("Enter");
  }
};

/** The club's root has taken in what the browser saved. */
const arrived = (entries: number) =>
  expect.poll(() => scene.club.root.state().entries, { timeout: 15_000 }).toBe(entries);

test("three matches in a row with no hand on the mouse, each with the effect that the card then shows", async () => {
  const { page, faults } = await scene.open(scene.club.passes.recorder, "Enter");
  const before = scene.club.root.state().entries;

  await pressUntil(page, "Shift+Tab", "occasion");
  await page.keyboard.type("club c");
  await pressUntil(page, "Tab", "player-0");

  const played: readonly (readonly [string[], string])[] = [
    [["ada", "gwen", "7"], "5"],
    [["cass t", "kit u", "3"], "7"],
    [["1", "6"], "7"],
  ];
  for (const [at, [words, last]] of played.entries()) {
    if (words[0] === "1") await page.keyboard.press("1");
    await typeAll(page, ...words.slice(words[0] === "1" ? 1 : 0));
    await page.keyboard.type(last);
    if (at === 2) {
      // Cass and Kit again: it is asked whether that is the same match, and answered by keyboard.
      await page.getByText("Is it the same one?").waitFor();
      await page.keyboard.press("Enter");
      await pressUntil(page, "Tab", "same");
      await page.keyboard.press("ArrowDown");
      await pressUntil(page, "Tab", "score-0-1");
    }
    const promised = await effectText(page);
    await page.keyboard.press("Enter");
    await page.getByText("Saved: ").waitFor();
    await arrived(before + at + 1);
    for (const name of at === 0 ? ["ada", "gwen"] : ["cass", "kit"]) {
      const line = scene
        .games(name)
        .filter(({ date }) => date === today())
        .at(-1)!;
      expect(promised).toContain(`Index ${line.index - line.points} → ${line.index}`);
    }
    expect(await page.evaluate(() => document.activeElement?.getAttribute("data-field"))).toBe("player-0");
  }
  expect(scene.matches("cass", "kit").filter(({ n, facts }) => facts?.date === today() && n === 2)).toHaveLength(1);
  const lately = page.getByRole("region", { name: "Entered on this device" }).getByRole("listitem");
  await expect.poll(() => lately.nth(0).innerText()).toMatch(/Kit U\. 6–7 Cass T\.|Cass T\. 6–7 Kit U\./);
  await expect.poll(() => lately.nth(0).innerText()).toContain("at the relay");
  expect(faults).toEqual([]);
});

test("a match is taken back with Undo, and corrected from the list", async () => {
  const { page, faults } = await scene.open(scene.club.passes.recorder, "Enter");
  const before = scene.club.root.state().entries;
  const index = scene.card("dov").index;
  await page.getByLabel("Played as").selectOption("club competition");
  await page.getByRole("combobox", { name: "Player", exact: true }).focus();
  await typeAll(page, "dov", "lou", "7", "2");
  await arrived(before + 1);
  expect(scene.card("dov").index).toBe(index + 10);

  await page.getByRole("button", { name: "Undo: Dov M. 7–2 Lou P." }).click();
  await page.getByText("Taken back: Dov M. 7–2 Lou P.").waitFor();
  await arrived(before + 2);
  expect(scene.card("dov").index).toBe(index);

  await typeAll(page, "dov", "lou", "7", "3");
  await arrived(before + 3);
  await page.getByRole("link", { name: "Correct Dov M. 7–3 Lou P." }).click();
  await page.getByRole("heading", { name: "Correct a match" }).waitFor();
  expect(await page.getByRole("combobox", { name: "Player", exact: true }).inputValue()).toBe("Dov Marram");
  await page.getByLabel("Game 1, hoops of own side").fill("3");
  await page.getByLabel("Game 1, hoops of opponents").fill("7");
  expect(await effectText(page)).toContain(`Index ${index} → ${index - 10}`);
  await page.getByRole("button", { name: "Save the correction" }).click();
  await page.getByRole("heading", { name: "Enter a match" }).waitFor();
  await arrived(before + 4);
  expect(scene.card("dov").index).toBe(index - 10);
  expect(scene.matches("dov", "lou").filter(({ facts }) => facts?.date === today())).toHaveLength(1);
  expect(faults).toEqual([]);
});

test("doubles show every lawful way of the extra strokes, and move no index under these rules", async () => {
  const { page, faults } = await scene.open(scene.club.passes.recorder, "Enter");
  await page.getByLabel("Played as").selectOption("club competition");
  await page.getByRole("radio", { name: "Doubles" }).check();
  await page.getByRole("combobox", { name: "Player", exact: true }).focus();
  await typeAll(page, "dov", "finn", "iris", "lou");
  const names = ["Player", "Partner", "Opponent", "Opponent's partner"];
  for (const [seat, off] of ["12", "11", "7", "10"].entries()) {
    await page.getByLabel(`${names[seat]}'s handicap`, { exact: true }).fill(off);
  }
  const wanted = extraStrokes(findRuleSet("england-2016")!, {
    format: 13,
    sides: [
      [12, 11],
      [7, 10],
    ],
  });
  const ways = page.getByRole("region", { name: "Extra strokes" }).getByRole("radio");
  expect(wanted.ok && (await ways.count())).toBe(wanted.ok && wanted.value.choices.length);
  const told = await page.getByRole("region", { name: "Extra strokes" }).innerText();
  expect(told).toContain("Dov M. receives 3 extra strokes.");
  expect(told).toContain("Dov M. receives 2 extra strokes, Finn S. 1.");
  await page.getByLabel("Game 1, hoops of own side").fill("7");
  await page.getByLabel("Game 1, hoops of opponents").fill("6");
  expect(await effectText(page)).toContain("doubles do not move the index here");
  // What was played off is not what the record says, and that is said before saving.
  expect(await page.getByRole("group", { name: "Own side" }).innerText()).toMatch(/The record says \d+ on this day/);
  await expectAccessible(page);
  const before = scene.club.root.state().entries;
  await page.keyboard.press("Enter");
  await arrived(before + 1);
  const line = scene.games("dov").find(({ date, partner }) => date === today() && partner !== null);
  expect(line).toMatchObject({ off: 12, points: 0, reason: "doubles-do-not-count" });
  expect(faults).toEqual([]);
});

test("what cannot be is refused at its field in words, and nothing is saved", async () => {
  const { page, faults } = await scene.open(scene.club.passes.recorder, "Enter");
  const before = scene.club.root.state().entries;
  const own = page.getByRole("combobox", { name: "Player", exact: true });
  const opponent = page.getByRole("combobox", { name: "Opponent", exact: true });
  const refused = async (sentence: RegExp): Promise<void> => {
    await page.keyboard.press("Control+Enter");
    await page.getByText(sentence).first().waitFor();
    await page.getByText(/^. ?Not saved: \d+ things? to put right/).waitFor();
  };
  await own.focus();
  await refused(/Choose a player/);
  await page.getByText("Say what it was played as").waitFor();
  await page.getByLabel("Played as").selectOption("club competition");
  await own.focus();
  await typeAll(page, "hal", "edie");
  await page.keyboard.type("6");
  await page.keyboard.press("Enter");
  await page.keyboard.type("5");
  await refused(/6–5 cannot be the end of a 13-point game/);
  expect(await page.evaluate(() => document.activeElement?.getAttribute("data-field"))).toBe("score-0-0");
  await page.getByLabel("Game 1, hoops of own side").fill("7");

  await page.getByLabel("Player's handicap", { exact: true }).fill("13");
  await refused(/There is no handicap 13 in the table/);
  await page.getByLabel("Player's handicap", { exact: true }).fill("-1");

  await opponent.fill("Hal Brindle");
  await refused(/Hal Brindle is in this match already/);
  await opponent.fill("Nobody Atall");
  await page.keyboard.press("Escape");
  await refused(/Nobody called “Nobody Atall” was chosen/);
  await opponent.fill("edie");
  await page.keyboard.press("Enter");

  const tomorrow = new Date(Date.now() + 36 * 3_600_000).toISOString().slice(0, 10);
  await page.getByLabel("Date").fill(tomorrow);
  await refused(/has not come yet: today is/);
  await page.getByLabel("Date").fill(today());
  await expectAccessible(page);

  expect(scene.club.root.state().entries).toBe(before);
  await page.getByRole("button", { name: "Save the match" }).click();
  await arrived(before + 1);
  expect(faults).toEqual([]);
});

test("a visitor nobody has met joins with the match, by thumb on a phone", async () => {
  const phone = { viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true };
  const { page, faults } = await scene.open(scene.club.passes.handicapper, "Enter", phone);
  const before = scene.club.root.state().entries;
  await page.getByLabel("Played as").selectOption("inter-club-friendly");
  await page.getByRole("combobox", { name: "Player", exact: true }).tap();
  await page.keyboard.type("jem");
  await page.getByRole("option", { name: /Jem Holloway/ }).tap();
  await page.keyboard.type("Zora Quill");
  await page.getByRole("option", { name: "Add “Zora Quill” as a visitor" }).tap();
  const dialog = page.getByRole("dialog", { name: "Add a visitor" });
  await dialog.getByRole("button", { name: "Add and go on" }).tap();
  await dialog.getByText("Write the handicap as a whole number").waitFor();
  await dialog.getByLabel("Home club").fill("Sallow Bank");
  await dialog.getByLabel("Handicap today").fill("5");
  await dialog.getByRole("button", { name: "Add and go on" }).tap();
  await page.getByLabel("Game 1, hoops of own side").fill("7");
  await page.getByLabel("Game 1, hoops of opponents").fill("6");
  expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(390);
  await page.getByRole("button", { name: "Save the match" }).tap();
  await arrived(before + 2);
  const opponent = scene.games("jem").at(-1)!.opponents[0]!;
  expect(opponent.off).toBe(5);
  await expect.poll(() => scene.club.root.roster.get(opponent.player)?.name).toBe("Zora Quill");
  expect(scene.club.root.state().players.get(opponent.player)).toMatchObject({
    standing: "visitor",
    home: { club: "Sallow Bank" },
  });
  expect(scene.card("jem").player).toBe(player("jem"));
  expect(faults).toEqual([]);
});

test("a device that may only read says so instead of showing a form", async () => {
  const { page } = await scene.open(scene.club.passes.reader, "Enter");
  await page.getByText("This device reads only").waitFor();
  expect(await page.getByRole("combobox").count()).toBe(0);
});
