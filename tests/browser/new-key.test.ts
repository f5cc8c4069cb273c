/** One key in two browsers: the first that sees it says so, takes a new key, is admitted with it after the codes were compared, and writes. */
import { afterAll, beforeAll, expect, test } from "vitest";
import type { Scene } from "./at-a-desk.ts";
import { expectAccessible, inStep, openDevice, startScene, toScreen } from "./at-a-desk.ts";

let scene: Scene;

beforeAll(async () => {
  scene = await startScene();
});
afterAll(() => scene?.close());

test("a key in use elsewhere is given up for a new one, and everything it held comes along", async () => {
  const { club, browser, relay } = scene;
  const first = await openDevice(browser, relay.origin, club.passes.recorder);
  const second = await openDevice(browser, relay.origin, club.passes.recorder);
  const desk = await openDevice(browser, relay.origin, club.passes.handicapper);
  const { page } = first;
  const address = new URL(page.url()).pathname;

  const enter = async (on: typeof page, words: readonly string[]): Promise<void> => {
    await toScreen(on, "Enter");
    await on.getByLabel("Played as").selectOption("club competition");
    await on.getByRole("combobox", { name: "Player", exact: true }).focus();
    for (const word of words) {
      await on.keyboard.type(word);
      await on.keyboard.press("Enter");
    }
    await on.getByText(/Saved: /).waitFor();
  };
  await enter(second.page, ["ada", "gwen", "7", "2"]);

  await page.getByText("This device's key is in use somewhere else").waitFor();
  await page.getByRole("navigation").getByRole("link", { name: "Sharing" }).click();
  const section = page.getByRole("region", { name: "This device takes a new key" });
  await section.getByText("The ask lies at the relay.").waitFor();
  await expectAccessible(page);
  const code = await page.locator(".invite-digits").innerText();
  // A reload changes nothing: the old key stays unused and the ask is the same.
  await page.reload();
  await expect.poll(() => page.locator(".invite-digits").innerText()).toBe(code);

  await toScreen(desk.page, "Sharing");
  await desk.page.getByRole("heading", { name: /asks for a new key$/ }).waitFor();
  expect(await desk.page.locator(".invite-digits").innerText()).toBe(code);
  await expectAccessible(desk.page);
  await desk.page.getByRole("button", { name: "Admit the new key…" }).click();
  const dialog = desk.page.getByRole("dialog");
  await dialog.getByLabel("The other screen shows the same code").check();
  expect(await dialog.getByLabel("Whose device it is").inputValue()).not.toBe("");
  await dialog.getByRole("radio", { name: "Recorder" }).and(dialog.locator(":checked")).waitFor();
  await dialog.getByRole("button", { name: "Admit", exact: true }).click();

  await page.getByText("This device has its new key, and writes with it from now on.").waitFor();
  expect(new URL(page.url()).pathname).not.toBe(address);
  await inStep(page);
  const before = scene.matches("ada", "hal").length;
  await enter(page, ["ada", "hal", "7", "5"]);
  await expect.poll(() => scene.matches("ada", "hal").length, { timeout: 20_000 }).toBe(before + 1);
  // The old key is gone from this browser's front page.
  await page.goto(relay.origin);
  await page
    .getByRole("link", { name: /^Open / })
    .first()
    .waitFor();
  expect(await page.locator(`a[href^="${address}"]`).count()).toBe(0);
  expect([...first.faults, ...second.faults, ...desk.faults]).toEqual([]);
});
