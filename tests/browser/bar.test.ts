/** A device is barred in real browsers: from the list, with its last entry; the key changes; what it wrote since is set aside and counted. */
import { afterAll, beforeAll, expect, test } from "vitest";
import type { Scene } from "./at-a-desk.ts";
import { expectAccessible, startScene } from "./at-a-desk.ts";

let scene: Scene;

beforeAll(async () => {
  scene = await startScene();
});
afterAll(() => scene?.close());

test("bar, change of key, what was set aside: counted, undone, left out", async () => {
  const recorder = await scene.open(scene.club.passes.recorder, "Sharing");
  const tablet = recorder.page;
  // Out of reach it goes on writing.
  await tablet.getByLabel("Work offline").check();
  await tablet.getByRole("navigation").getByRole("link", { name: "Enter" }).click();
  await tablet.getByLabel("Played as").selectOption("club competition");
  await tablet.getByRole("combobox", { name: "Player", exact: true }).focus();
  for (const word of ["ada", "gwen", "7", "1"]) {
    await tablet.keyboard.type(word);
    await tablet.keyboard.press("Enter");
  }
  await tablet.getByText("Saved: Ada W. 7–1 Gwen A.").waitFor();

  const { page, faults } = await scene.open(scene.club.passes.handicapper, "Sharing");
  const lock = page.getByRole("region", { name: "The club's key, Thornfield Croquet Club" });
  await lock.getByText("It is the key the record began with").waitFor();
  await page
    .getByRole("button", { name: /^Bar .*pavilion tablet/ })
    .first()
    .click();
  const dialog = page.getByRole("dialog");
  await dialog.getByText("all it has written so far counts").waitFor();
  await expectAccessible(page);
  await dialog.getByRole("button", { name: "Bar this device" }).click();
  await page.getByText(/is barred\. The club changes its key\./).waitFor();
  await lock.getByText("It has been changed once").waitFor();
  await lock.getByText("Every device that is not barred has been handed it").waitFor();
  await expect.poll(() => scene.club.root.state().devices.size).toBeGreaterThan(3);

  // Back in reach, what it wrote lies in the old room, is carried over, and counts for nothing.
  await tablet.getByRole("navigation").getByRole("link", { name: "Sharing" }).click();
  await tablet.getByLabel("Work offline").uncheck();
  await lock.getByRole("heading", { name: "Set aside" }).waitFor();
  const line = lock.getByRole("listitem").filter({ hasText: "Ada W. 7–1 Gwen A." });
  await line.getByText("written after the bar").waitFor();
  await expectAccessible(page);
  await line.getByRole("button", { name: /^Count it/ }).click();
  await page.getByText("An entry that was set aside counts now.").waitFor();
  await line.waitFor({ state: "detached" });
  await page.getByRole("button", { name: /^Undo/ }).click();
  await line.waitFor();
  await line.getByRole("button", { name: /^Leave it out/ }).click();
  await lock.getByText("1 entry left out here").waitFor();
  await lock.getByRole("button", { name: "Look at them again" }).click();
  await line.waitFor();

  // The barred device says so itself.
  await tablet.getByText("Barred.").first().waitFor();
  expect([...faults, ...recorder.faults]).toEqual([]);
});

test("a device does not bar itself and a reader bars none: both are said; the reader has moved to the new key", async () => {
  const { page, faults } = await scene.open(scene.club.passes.handicapper, "Sharing", {
    viewport: { width: 390, height: 844 },
  });
  await page.getByText("A device does not bar itself: ask another handicapper.").first().waitFor();
  const reader = await scene.open(scene.club.passes.reader, "Sharing");
  await reader.page.getByText("A handicapper bars devices.").first().waitFor();
  const lock = reader.page.getByRole("region", { name: "The club's key, Thornfield Croquet Club" });
  await lock.getByText("It has been changed once").waitFor();
  await expectAccessible(reader.page);
  expect([...faults, ...reader.faults]).toEqual([]);
});
