/**
 * Signatures are checked in a worker of the page, as the relay's policy allows it: by the library where the browser has no Ed25519, and by
 * the browser where they are many. Where it gives no worker the page does it, and says so.
 */
import { encodePass } from "@sward/client";
import type { Draft, PlayerId } from "@sward/core";
import type { Page } from "playwright-core";
import { afterAll, beforeAll, expect, test } from "vitest";
import { newDevice } from "../support/browser.ts";
import type { Scene } from "./at-a-desk.ts";
import { inStep, startScene, toScreen } from "./at-a-desk.ts";

let scene: Scene;

beforeAll(async () => {
  scene = await startScene();
});
afterAll(() => scene?.close());

/** Runs in the page, before anything else does. Its workers keep what it loses. */
function withoutEd25519(): void {
  const { importKey } = SubtleCrypto.prototype;
  const lacking = function (this: SubtleCrypto, ...given: Parameters<SubtleCrypto["importKey"]>) {
    const [, , algorithm] = given;
    if (algorithm === "Ed25519") return Promise.reject(new DOMException("Unrecognized name", "NotSupportedError"));
    return importKey.apply(this, given);
  };
  Object.defineProperty(SubtleCrypto.prototype, "importKey", { value: lacking });
}

function withoutWorkers(): void {
  Object.defineProperty(globalThis, "Worker", {
    value: function Worker() {
      throw new Error("no workers here");
    },
  });
}

/** How many signatures the page itself checks, not its workers. */
function counting(): void {
  const { verify } = SubtleCrypto.prototype;
  const seen = { checkedHere: 0 };
  const counted = function (this: SubtleCrypto, ...given: Parameters<SubtleCrypto["verify"]>) {
    seen.checkedHere += 1;
    return verify.apply(this, given);
  };
  Object.defineProperty(SubtleCrypto.prototype, "verify", { value: counted });
  Object.assign(globalThis, { seen });
}

declare const seen: { readonly checkedHere: number };

async function oldPhone(
  ...without: readonly (() => void)[]
): Promise<{ page: Page; faults: string[]; workers: string[] }> {
  const { page, faults } = await newDevice(scene.browser, { locale: "en-GB", viewport: { width: 390, height: 844 } });
  for (const lack of without) await page.addInitScript(lack);
  const workers: string[] = [];
  // Another one, of every start, reads the language's tables and ends.
  page.on("worker", (worker) => /\/dates-read-/.test(worker.url()) || workers.push(worker.url()));
  await page.goto(`${scene.relay.origin}/#pass=${encodePass(scene.club.passes.handicapper)}`);
  await inStep(page);
  return { page, faults, workers };
}

const slower = (page: Page) => page.getByText("Signatures are checked more slowly");

test("a record is joined with its signatures checked in a worker", async () => {
  const { page, faults, workers } = await oldPhone(withoutEd25519);
  await toScreen(page, "Members");
  await page.getByRole("link", { name: "Ada Wren" }).first().waitFor();
  await expect.poll(() => workers.filter((url) => /\/assets\/check-worker-[^/]+\.js$/.test(url)).length).toBe(1);
  expect(await slower(page).count()).toBe(0);
  expect(faults).toEqual([]);
});

test("without workers it is joined all the same, and the page says that it checks more slowly until that has been read", async () => {
  const { page, faults } = await oldPhone(withoutEd25519, withoutWorkers);
  await slower(page).waitFor();
  await page.getByText("no workers here").waitFor();
  await toScreen(page, "Members");
  await page.getByRole("link", { name: "Ada Wren" }).first().waitFor();
  await page.getByRole("button", { name: "I have read it" }).click();
  await slower(page).waitFor({ state: "detached" });
  expect(faults).toEqual([]);
});

test("a browser that has the curve starts no worker for a small club's record", async () => {
  const { page, workers } = await oldPhone();
  await toScreen(page, "Members");
  await page.getByRole("link", { name: "Ada Wren" }).first().waitFor();
  expect(workers).toEqual([]);
});

test("other screens' scripts are fetched when the record has been read, and not beside it", async () => {
  const { page } = await newDevice(scene.browser, { locale: "en-GB" });
  const scripts: string[] = [];
  page.on("request", (request) => void scripts.push(request.url()));
  const screens = () => scripts.filter((url) => /\/assets\/[a-z-]+-screen-[^/]+\.js$/.test(url)).length;
  let goOn = (): void => undefined;
  const held = new Promise<void>((done) => {
    goOn = done;
  });
  // The ledger's room is silent until then.
  await page.routeWebSocket(/\/ledger\//, (socket) => void held.then(() => socket.connectToServer()));
  await page.goto(`${scene.relay.origin}/#pass=${encodePass(scene.club.passes.reader)}`);
  await page.getByRole("heading", { level: 1 }).waitFor();
  await new Promise((later) => setTimeout(later, 2_000));
  expect(screens()).toBe(0);
  goOn();
  await inStep(page);
  await expect.poll(screens).toBeGreaterThan(3);
});

test("it does for a long one, and has all of it", async () => {
  const { root } = scene.club;
  const visitors = Array.from({ length: 300 }, (_, n) => `${String(n).padStart(21, "v")}A` as PlayerId);
  const drafts = visitors.map((player): Draft => ({ kind: "player-joined", body: { player, standing: "visitor" } }));
  expect(await root.append(drafts)).toMatchObject({ ok: true });
  await expect.poll(() => root.waiting()).toBe(0);
  const { page, faults, workers } = await oldPhone(counting);
  await expect.poll(() => workers.length).toBe(1);
  await toScreen(page, "Members");
  const known = [...root.state().players.values()].filter(({ standing }) => standing === "visitor").length;
  expect(known).toBeGreaterThan(300);
  await page.getByText(`, ${known} visitors.`).waitFor();
  // Its envelopes were opened and read there too: else the page would have checked the first 256, besides names.
  expect(await page.evaluate(() => seen.checkedHere)).toBeLessThan(256);
  expect(await slower(page).count()).toBe(0);
  expect(faults).toEqual([]);
});
