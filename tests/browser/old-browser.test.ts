/**
 * A phone whose browser has neither Ed25519 nor X25519, which browsers have had only for some years: it is a device like any other, only
 * slower. Here it is the handicapper's own: it signs, checks what others signed, bars, and seals the next key for those who stay.
 */

import { encodePass } from "@sward/client";
import { afterAll, beforeAll, expect, test } from "vitest";
import { newDevice } from "../support/browser.ts";
import type { Scene } from "./at-a-desk.ts";
import { inStep, startScene, toScreen } from "./at-a-desk.ts";

let scene: Scene;

beforeAll(async () => {
  scene = await startScene();
});
afterAll(() => scene?.close());

/** Runs in the page, before anything else does: WebCrypto as it was before it had these curves. */
function withoutTheCurves(): void {
  const nameOf = (algorithm: AlgorithmIdentifier): string =>
    typeof algorithm === "string" ? algorithm : algorithm.name;
  const missing = /^(Ed25519|X25519)$/i;
  for (const method of ["importKey", "generateKey", "sign", "verify", "deriveBits"] as const) {
    const whole = SubtleCrypto.prototype[method] as (...given: unknown[]) => Promise<unknown>;
    const lacking = function (this: SubtleCrypto, ...given: unknown[]): Promise<unknown> {
      const algorithm = given[method === "importKey" ? 2 : 0] as AlgorithmIdentifier;
      if (missing.test(nameOf(algorithm))) {
        return Promise.reject(new DOMException("Unrecognized algorithm name", "NotSupportedError"));
      }
      return whole.apply(this, given);
    };
    Object.defineProperty(SubtleCrypto.prototype, method, { value: lacking });
  }
}

test("it opens the record, enters a match that counts elsewhere, bars a device and hands the others the next key", async () => {
  const { page, faults } = await newDevice(scene.browser, { locale: "en-GB", viewport: { width: 390, height: 844 } });
  await page.addInitScript(withoutTheCurves);
  await page.goto(`${scene.relay.origin}/#pass=${encodePass(scene.club.passes.handicapper)}`);
  await inStep(page);
  const lacks = page.evaluate(() => crypto.subtle.generateKey("Ed25519", true, ["sign"]).catch(({ name }) => name));
  expect(await lacks).toBe("NotSupportedError");

  const before = scene.matches("ada", "gwen").length;
  await page.getByRole("navigation").getByRole("link", { name: "Enter" }).click();
  await page.getByLabel("Played as").selectOption("club competition");
  await page.getByRole("combobox", { name: "Player", exact: true }).focus();
  for (const word of ["ada", "gwen", "7", "1"]) {
    await page.keyboard.type(word);
    await page.keyboard.press("Enter");
  }
  await page.getByText("Saved: Ada W. 7–1 Gwen A.").waitFor();
  await expect.poll(() => scene.matches("ada", "gwen").length).toBe(before + 1);

  const reader = await scene.open(scene.club.passes.reader, "Sharing");
  await page.getByRole("link", { name: /In step$/ }).click();
  await page
    .getByRole("button", { name: /^Bar .*pavilion tablet/ })
    .first()
    .click();
  await page.getByRole("dialog").getByRole("button", { name: "Bar this device" }).click();
  for (const one of [page, reader.page]) {
    const lock = one.getByRole("region", { name: "The club's key, Thornfield Croquet Club" });
    await lock.getByText("It has been changed once").waitFor();
  }
  await page.reload();
  await toScreen(page, "Members");
  await page
    .getByRole("link", { name: /Ada Wren/ })
    .first()
    .waitFor();
  expect([...faults, ...reader.faults]).toEqual([]);
});
