/**
 * The app on a browser whose storage fails: said in words, with what to do, and nothing that was saved or typed is lost. The faults are
 * the browser's own, through its debugging protocol (https://chromedevtools.github.io/devtools-protocol/tot/Storage/).
 */
import { encodePass } from "@sward/client";
import type { CDPSession, Page } from "playwright-core";
import { afterAll, beforeAll, expect, test } from "vitest";
import type { Device } from "../support/browser.ts";
import { newDevice } from "../support/browser.ts";
import type { Scene } from "./at-a-desk.ts";
import { expectAccessible, inStep, startScene, toScreen } from "./at-a-desk.ts";

let scene: Scene;

beforeAll(async () => {
  scene = await startScene();
});
afterAll(() => scene?.close());

const cdpOf = ({ context, page }: Device): Promise<CDPSession> => context.newCDPSession(page);

/** Types a result as far as it goes before the score is saved. */
async function typeResult(page: Page, ...words: string[]): Promise<void> {
  await page.getByLabel("Played as").selectOption("club competition");
  await page.getByRole("combobox", { name: "Player", exact: true }).focus();
  for (const word of words) {
    await page.keyboard.type(word);
    await page.keyboard.press("Enter");
  }
}

/** Whether the browser takes a little more from this site: it goes by what it knew of the room some seconds ago. */
const takesMore = (page: Page): Promise<boolean> =>
  page.evaluate(
    () =>
      new Promise<boolean>((done) => {
        const opening = indexedDB.open("scratch", 1);
        opening.onupgradeneeded = () => opening.result.createObjectStore("bytes", { autoIncrement: true });
        opening.onerror = () => done(false);
        opening.onsuccess = () => {
          const db = opening.result;
          const tx = db.transaction("bytes", "readwrite");
          tx.objectStore("bytes").add(new Uint8Array(1_000));
          const end = (taken: boolean) => () => {
            db.close();
            done(taken);
          };
          tx.oncomplete = end(true);
          tx.onabort = end(false);
        };
      }),
  );

test("no room left: NOT saved, why and what to do; what was typed is still there, and is saved when there is room", async () => {
  const device = await scene.open(scene.club.passes.recorder, "Enter");
  const { page } = device;
  const cdp = await cdpOf(device);
  const { origin } = scene.relay;
  const before = scene.club.root.state().entries;
  await cdp.send("Storage.overrideQuotaForOrigin", { origin, quotaSize: 1 });
  await expect.poll(() => takesMore(page), { timeout: 90_000, interval: 1_000 }).toBe(false);
  await typeResult(page, "ada", "gwen", "7", "1");
  await page.getByText("It was NOT saved.").waitFor();
  await page.getByText("The last thing you saved was NOT saved").waitFor();
  await page.getByText("There is no room left for this app on this device.").waitFor();
  await expectAccessible(page);
  expect(await page.getByText("Saved: Ada W.").count()).toBe(0);
  expect(await page.getByRole("combobox", { name: "Player", exact: true }).inputValue()).toContain("Ada");
  expect(scene.club.root.state().entries).toBe(before);

  await cdp.send("Storage.overrideQuotaForOrigin", { origin });
  await expect.poll(() => takesMore(page), { timeout: 90_000, interval: 1_000 }).toBe(true);
  await page.getByRole("button", { name: /^Save/ }).first().click();
  await page.getByText("Saved: Ada W. 7–1 Gwen A.").waitFor();
  await expect.poll(() => page.getByText("NOT saved").count()).toBe(0);
  await expect.poll(() => scene.club.root.state().entries, { timeout: 20_000 }).toBe(before + 1);
});

test("site data cleared while the app is open: said, put back, and what was typed is still there; a reload finds everything", async () => {
  const device = await scene.open(scene.club.passes.recorder, "Enter");
  const { page, faults } = device;
  const cdp = await cdpOf(device);
  await page.getByLabel("Played as").selectOption("club competition");
  await page.getByRole("combobox", { name: "Player", exact: true }).focus();
  await page.keyboard.type("kit");
  await page.keyboard.press("Enter");
  const { entries } = scene.club.root.state();
  await cdp.send("Storage.clearDataForOrigin", { origin: scene.relay.origin, storageTypes: "all" });
  await page
    .getByText("The browser threw this device's record away, and it has been put back")
    .waitFor({ timeout: 60_000 });
  await expectAccessible(page);
  expect(await page.getByRole("combobox", { name: "Player", exact: true }).inputValue()).toContain("Kit");
  await page.getByRole("button", { name: "I have read it" }).click();
  await page.getByRole("combobox", { name: "Opponent", exact: true }).focus();
  for (const word of ["lou", "7", "2"]) {
    await page.keyboard.type(word);
    await page.keyboard.press("Enter");
  }
  await page.getByText("Saved: Kit U. 7–2 Lou P.").waitFor();
  await expect.poll(() => scene.club.root.state().entries, { timeout: 20_000 }).toBe(entries + 1);
  // Without the relay, so that whatever is shown comes from this device.
  await page.reload();
  await inStep(page);
  await toScreen(page, "Members");
  await page.getByRole("link", { name: "Kit Underlea" }).first().waitFor();
  expect([...scene.club.root.state().devices.values()].every(({ forkedAt }) => forkedAt === null)).toBe(true);
  expect(faults).toEqual([]);
});

test("site data cleared while the app is closed: it says so, and by the device's address it reads its record again and goes on", async () => {
  const device = await scene.open(scene.club.passes.handicapper, "Members");
  const { page } = device;
  const address = page.url();
  const cdp = await cdpOf(device);
  await page.goto("about:blank");
  await cdp.send("Storage.clearDataForOrigin", { origin: scene.relay.origin, storageTypes: "all" });
  await page.goto(address);
  await page.getByRole("heading", { name: "This browser is not a device of a club yet" }).waitFor();
  await page.getByText("or short of space has thrown it away").waitFor();
  await page.goto(`${scene.relay.origin}/#pass=${encodePass(scene.club.passes.handicapper)}`);
  await toScreen(page, "Members");
  const before = scene.card("hal").signatures.length;
  await page.getByRole("link", { name: "Hal Brindle" }).first().click();
  await page.getByRole("button", { name: "Sign off this card" }).click();
  await page.getByRole("dialog").getByRole("button", { name: "Sign off" }).click();
  await page.getByText("Hal Brindle's card is signed off up to").waitFor();
  await expect.poll(() => scene.card("hal").signatures.length, { timeout: 20_000 }).toBe(before + 1);
  expect([...scene.club.root.state().devices.values()].every(({ forkedAt }) => forkedAt === null)).toBe(true);
});

test("a browser that gives no storage is told so, with what to do, and is not taken for a device", async () => {
  const { page, context, close } = await newDevice(scene.browser, { locale: "en-GB" });
  await context.addInitScript(() => Object.defineProperty(window, "indexedDB", { value: undefined }));
  await page.goto(`${scene.relay.origin}/#pass=${encodePass(scene.club.passes.reader)}`);
  await page.getByRole("heading", { name: "The record could not be opened" }).waitFor();
  await page.getByText("it is a private window, or is set to keep nothing").waitFor();
  await page.getByText("Open the app in an ordinary window").waitFor();
  await expectAccessible(page);
  await close();
});

test("the browser is asked to keep the record, and its answer is shown, whichever it is", async () => {
  const answers: string[] = [];
  for (const granted of [false, true]) {
    const { page, context, close } = await newDevice(scene.browser, { locale: "en-GB" });
    // The answer alone is the browser's own business, by how much the site is used; here it is given.
    await context.addInitScript((answer) => {
      let asked = 0;
      Object.assign(window, { timesAsked: () => asked });
      navigator.storage.persisted = () => Promise.resolve(answer && asked > 0);
      navigator.storage.persist = () => {
        asked += 1;
        return Promise.resolve(answer);
      };
    }, granted);
    await page.goto(`${scene.relay.origin}/#pass=${encodePass(scene.club.passes.reader)}`);
    await toScreen(page, "Sharing");
    // At every opening, unasked.
    await expect.poll(() => page.evaluate(() => (window as unknown as { timesAsked(): number }).timesAsked())).toBe(1);
    if (!granted) await page.getByRole("button", { name: "Ask the browser to keep it" }).click();
    const region = page.getByRole("region", { name: "Storage on this device" });
    await region
      .getByText(/promise/)
      .first()
      .waitFor();
    answers.push(await region.innerText());
    await close();
  }
  expect(answers[0]).toContain("The browser did not promise it.");
  expect(answers[1]).toContain("The browser has promised to keep the record");
});
