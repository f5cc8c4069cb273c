/**
 * What a person relies on without thinking of it: the screens open with the server gone and saving still holds, two tabs do not
 * fight over one device, a card fits its sheet of paper, and large text stays on the screen.
 */
import { cpSync, readFileSync, writeFileSync } from "node:fs";
import type { Relay } from "@sward/relay";
import type { Page } from "playwright-core";
import { afterAll, beforeAll, expect, inject, test } from "vitest";
import type { Device } from "../support/browser.ts";
import { newDevice } from "../support/browser.ts";
import { temporaryFolders } from "../support/folders.ts";
import { relayWith } from "../support/meeting.ts";
import { player } from "../support/small-club.ts";
import type { Scene } from "./at-a-desk.ts";
import { startScene } from "./at-a-desk.ts";

const temporaryFolder = temporaryFolders();
let scene: Scene;
let later: Relay | null = null;

beforeAll(async () => {
  scene = await startScene();
});
afterAll(async () => {
  await scene?.close();
  await later?.close();
});

const heading = (page: Page, name: string) => page.getByRole("heading", { level: 1, name });

/** A second tab of the same browser at the same address. */
async function secondTab(device: Device): Promise<Page> {
  const tab = await device.context.newPage();
  await tab.goto(device.page.url());
  return tab;
}

test("a second tab is told that the device is open elsewhere; taking it over closes the first, and both write one history", async () => {
  const device = await scene.open(scene.club.passes.handicapper, "Members");
  const other = await secondTab(device);
  await heading(other, "Open in another tab").waitFor();
  await other.getByRole("button", { name: "Use it here" }).click();
  await heading(other, "Members").waitFor();
  await heading(device.page, "Taken over by another tab").waitFor();

  const sign = async (page: Page, name: string): Promise<void> => {
    await page.getByRole("navigation").getByRole("link", { name: "Members" }).click();
    await page.getByRole("link", { name, exact: true }).click();
    await page.getByRole("button", { name: "Sign off this card" }).click();
    await page.getByRole("dialog").getByRole("button", { name: "Sign off" }).click();
    await page.getByText(`${name}'s card is signed off up to`).waitFor();
  };
  await sign(other, "Ada Wren");
  await device.page.getByRole("button", { name: "Open it here again" }).click();
  await heading(device.page, "Members").waitFor();
  await heading(other, "Taken over by another tab").waitFor();
  await sign(device.page, "Kit Underlea");
  const signed = (name: string) => scene.card(name).signatures.length;
  await expect.poll(() => [signed("ada"), signed("kit")], { timeout: 15_000 }).toEqual([1, 1]);
  expect([...scene.club.root.state().devices.values()].every(({ forkedAt }) => forkedAt === null)).toBe(true);
  await other.close();
  expect(device.faults).toEqual([]);
});

test("a printed card has no screen about it, is black on white, and fits A4 and A5", async () => {
  const { page } = await scene.open(scene.club.passes.reader, "Members");
  for (const [format, inner] of [
    ["A4", 710],
    ["A5", 476],
  ] as const) {
    await page.emulateMedia({ media: "screen", colorScheme: "dark" });
    await page.setViewportSize({ width: 1280, height: 900 });
    await page.getByRole("navigation").getByRole("link", { name: "Members" }).click();
    await page.getByRole("link", { name: "Kit Underlea" }).click();
    await heading(page, "Kit Underlea").waitFor();
    await page.emulateMedia({ media: "print" });
    await page.setViewportSize({ width: inner, height: 900 });
    const print = page.locator(".print-card");
    for (const gone of ["banner", "navigation", "button", "img"] as const) {
      expect(await page.getByRole(gone).count(), gone).toBe(0);
    }
    const rows = print.getByRole("table").nth(1).getByRole("row");
    expect(await rows.count()).toBe(scene.card("kit").lines.length + 1);
    expect(await rows.first().getByRole("columnheader").allInnerTexts()).toEqual([
      "Date",
      "Opponent",
      "Theirs",
      "H/L",
      "Score",
      "+/−",
      "Index",
      "Hcp",
    ]);
    await print.getByText("Handicap 6 to 7").first().waitFor();
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(inner);
    const ink = await print.evaluate((card) => {
      const cell = card.querySelector("td") ?? card;
      return [getComputedStyle(cell).color, getComputedStyle(document.body).backgroundColor];
    });
    expect(ink).toEqual(["rgb(0, 0, 0)", "rgb(255, 255, 255)"]);
    const pdf = await page.pdf({ format, preferCSSPageSize: false });
    expect(pdf.subarray(0, 5).toString()).toBe("%PDF-");
  }
});

test("text twice as large stays on a phone's screen, on each of these screens", async () => {
  const { page } = await scene.open(scene.club.passes.handicapper, "To do");
  await page.setViewportSize({ width: 390, height: 844 });
  await page.addStyleTag({ content: "html { font-size: 200% }" });
  const wide = (): Promise<readonly string[]> =>
    page.evaluate(() => {
      /** Inside a box that fits and scrolls by itself, as a drawing's does whose words would not fit. */
      const isInScrolling = (element: Element): boolean => {
        for (let box = element.parentElement; box !== null && box !== document.body; box = box.parentElement) {
          const { overflowX } = getComputedStyle(box);
          if ((overflowX === "auto" || overflowX === "scroll") && box.getBoundingClientRect().right <= 391) return true;
        }
        return false;
      };
      return [...document.querySelectorAll("body *")]
        .filter(
          (element) =>
            element.getBoundingClientRect().right > 391 &&
            element.closest(".unseen, .skip, table thead") === null &&
            !isInScrolling(element),
        )
        .map((element) => `${element.tagName}.${element.getAttribute("class")}`);
    });
  await heading(page, "What needs attention").waitFor();
  expect(await wide()).toEqual([]);
  await page.getByRole("navigation").getByRole("link", { name: "Members" }).click();
  await page.getByRole("link", { name: "Kit Underlea" }).waitFor();
  expect(await wide()).toEqual([]);
  await page.getByRole("link", { name: "Kit Underlea" }).click();
  await heading(page, "Kit Underlea").waitFor();
  expect(await wide()).toEqual([]);
});

test("a device whose storage is full says that nothing was saved, and nothing is in the record", async () => {
  const { page } = await scene.open(scene.club.passes.recorder, "Members");
  await page.getByRole("button", { name: "Add somebody" }).click();
  const before = scene.club.root.state().entries;
  await page.evaluate(() => {
    IDBObjectStore.prototype.add = () => {
      throw new DOMException("no space left", "QuotaExceededError");
    };
    IDBObjectStore.prototype.put = IDBObjectStore.prototype.add;
  });
  const dialog = page.getByRole("dialog");
  await dialog.getByLabel("Name", { exact: true }).fill("Otto Quill");
  await dialog.getByRole("button", { name: "Save" }).click();
  await dialog.getByRole("alert").getByText("It was NOT saved.").waitFor();
  await page.keyboard.press("Escape");
  await page.getByText("The last thing you saved was NOT saved").waitFor();
  expect(await page.getByText("Otto Quill").count()).toBe(0);
  expect(scene.club.root.state().entries).toBe(before);
});

test("a newer version of the app waits until the person says so, and then takes over", async () => {
  const folder = temporaryFolder();
  cpSync(inject("app"), folder, { recursive: true });
  const relay = await relayWith({ app: folder });
  const device = await newDevice(scene.browser);
  const { page } = device;
  await page.goto(relay.origin);
  await page.evaluate(() => navigator.serviceWorker.ready.then(() => 0));
  await expect.poll(() => page.evaluate(() => navigator.serviceWorker.controller !== null)).toBe(true);
  const worker = readFileSync(`${folder}/sw.js`, "utf8");
  const newer = worker.replace(/"version":"\w+"/, '"version":"newer"');
  expect(newer).not.toBe(worker);
  writeFileSync(`${folder}/sw.js`, newer);
  await page.evaluate(() => navigator.serviceWorker.ready.then((registration) => registration.update()).then(() => 0));
  await page.getByText("A new version of the app is ready").waitFor();
  expect(await page.evaluate(() => caches.keys())).toHaveLength(2);
  await page.getByRole("button", { name: "Load it now" }).click();
  await expect.poll(() => page.evaluate(() => caches.keys())).toEqual(["sward-app-newer"]);
  await page.getByText("This browser is not a device of a club yet").waitFor();
  await expect.poll(() => page.getByText("A new version of the app is ready").count()).toBe(0);
  await device.close();
  await relay.close();
});

test("with the server gone the app opens, shows the card, and saves; when a relay is back, the rest of the club has it", async () => {
  const { page, faults } = await scene.open(scene.club.passes.handicapper, "Members");
  await page.evaluate(() => navigator.serviceWorker.ready.then(() => 0));
  await page.getByRole("link", { name: "Jem Holloway" }).click();
  await heading(page, "Jem Holloway").waitFor();
  await expect.poll(() => page.evaluate(() => navigator.serviceWorker.controller !== null)).toBe(true);

  await scene.relay.close();
  await page.reload();
  await heading(page, "Jem Holloway").waitFor();
  await page.getByRole("heading", { level: 2, name: "Signatures" }).waitFor();
  const signatures = await page.locator(".card-signatures li").count();
  await page.getByRole("button", { name: "Sign off this card" }).click();
  await page.getByRole("dialog").getByRole("button", { name: "Sign off" }).click();
  await page.getByText("Jem Holloway's card is signed off up to").waitFor();
  await page.getByRole("link", { name: /entry saved here, not yet at the relay/ }).waitFor();
  await page.reload();
  await heading(page, "Jem Holloway").waitFor();
  await page.getByRole("heading", { level: 2, name: "Signatures" }).waitFor();
  expect(await page.locator(".card-signatures li").count()).toBe(signatures + 1);
  await page.getByRole("link", { name: /No signal.*1 entry saved here, not yet at the relay/ }).waitFor();

  // Another relay at the same address, with an empty store: it is filled again from the devices.
  later = await relayWith({ app: inject("app"), port: scene.relay.port });
  await page.getByRole("link", { name: "In step" }).waitFor({ timeout: 60_000 });
  const held = () => scene.club.root.state().cards.get(player("jem"))?.signatures.length;
  await expect.poll(held, { timeout: 60_000 }).toBe(signatures + 1);
  expect(faults).toEqual([]);
});
