/**
 * What a device shows before its record has been read. The vault is held by another page of the same browser, as a slow phone's would be,
 * for as long as a test likes to look; then it lets go, and the record itself says whether what was shown was so.
 */
import type { Page } from "playwright-core";
import { afterAll, beforeAll, expect, test } from "vitest";
import { before, player } from "../support/small-club.ts";
import type { Scene } from "./at-a-desk.ts";
import { expectAccessible, inStep, startScene } from "./at-a-desk.ts";

let scene: Scene;
beforeAll(async () => {
  scene = await startScene();
}, 180_000);
afterAll(() => scene?.close());

const known = (page: Page) => page.locator(".notice-title", { hasText: "As this device knew it" });
/** Handicap, name, index, games and last day of everybody. */
const rowsOf = async (page: Page): Promise<readonly string[]> => {
  const rows = await page.locator("table.roll tbody tr").allInnerTexts();
  return rows.map((row) => row.replaceAll(/\s+/g, " "));
};

interface Hold {
  until(): Promise<void>;
}

/** Keeps everybody else from reading the entries in the vault; the roster's copy can be read. */
async function holdVault(page: Page): Promise<Hold> {
  const other = await page.context().newPage();
  await other.route("**/held", (route) => route.fulfill({ contentType: "text/html", body: "<title>held</title>" }));
  await other.goto(new URL("/held", page.url()).href);
  await other.evaluate(async () => {
    const name = (await indexedDB.databases()).find((one) => one.name?.endsWith("/vault"))?.name ?? "";
    await new Promise<void>((held, failed) => {
      const opening = indexedDB.open(name);
      opening.onerror = () => failed(opening.error);
      opening.onsuccess = () => {
        const db = opening.result;
        const store = db.transaction("records", "readwrite").objectStore("records");
        const again = (): void => {
          if ((window as { letGo?: boolean }).letGo === true) db.close();
          else store.count().onsuccess = again;
        };
        again();
        held();
      };
    });
  });
  return {
    async until() {
      await other.evaluate(() => {
        (window as { letGo?: boolean }).letGo = true;
      });
      await other.close();
    },
  };
}

/** The moment of the note that is kept, null where there is none. */
const keptAt = (page: Page): Promise<string | null> =>
  page.evaluate(async () => {
    const name = (await indexedDB.databases()).find((one) => one.name?.endsWith("/last-known"))?.name;
    if (name === undefined) return null;
    return new Promise<string | null>((found) => {
      const opening = indexedDB.open(name);
      opening.onsuccess = () => {
        const db = opening.result;
        if (!db.objectStoreNames.contains("known")) return found(null);
        const got = db.transaction("known").objectStore("known").get("it");
        got.onsuccess = () => {
          db.close();
          found(got.result === undefined ? null : JSON.stringify(got.result));
        };
      };
    });
  });

test("the list, a card's front and the things to do are there before the record is, and are what the record then says", async () => {
  const { page } = await scene.open(scene.club.passes.handicapper, "Members");
  await page.getByRole("heading", { name: "Members" }).waitFor();
  await page.getByRole("link", { name: "Ada Wren" }).waitFor();
  await expect.poll(() => keptAt(page)).toContain("Thornfield");
  const hold = await holdVault(page);
  await page.reload();
  await known(page).waitFor();
  await page.getByRole("link", { name: "Ada Wren" }).waitFor();
  expect(await page.locator(".club").innerText()).toContain("Thornfield Croquet Club");
  const early = await rowsOf(page);
  expect(early.length).toBeGreaterThan(12);
  await expectAccessible(page);

  // From screen to screen, as ever.
  await page.getByRole("link", { name: "Ada Wren" }).click();
  await page.getByRole("heading", { level: 1, name: "Ada Wren" }).waitFor();
  const front = await page.locator(".card-front .numeral-value").innerText();
  await expectAccessible(page);
  await page.getByRole("navigation").getByRole("link", { name: "To do" }).click();
  await page.getByRole("heading", { level: 1, name: "What needs attention" }).waitFor();
  const groups = await page.locator(".page h2").allInnerTexts();
  expect(groups.length).toBeGreaterThan(2);
  await expectAccessible(page);
  // What needs the record says so, and goes on by itself.
  await page.getByRole("navigation").getByRole("link", { name: "Enter" }).click();
  await page.getByText("This screen needs the record itself").waitFor();
  await hold.until();
  await page.getByRole("heading", { level: 1, name: "Enter a match" }).waitFor();
  expect(await known(page).count()).toBe(0);

  await page.getByRole("navigation").getByRole("link", { name: "To do" }).click();
  await expect.poll(() => page.locator(".page h2").allInnerTexts()).toEqual(groups);
  await page.getByRole("navigation").getByRole("link", { name: "Members" }).click();
  await expect.poll(() => rowsOf(page)).toEqual(early);
  await page.getByRole("link", { name: "Ada Wren" }).click();
  await page.locator(".card-front").waitFor();
  expect(await page.locator(".card-front .numeral-value").innerText()).toBe(front);
}, 120_000);

test("names are kept nowhere else, and one that was erased is gone from what is shown", async () => {
  const { page } = await scene.open(scene.club.passes.recorder, "Members");
  await page.getByRole("link", { name: "Lou Pettifer" }).waitFor();
  await expect.poll(() => keptAt(page)).toContain(player("lou"));
  expect(await keptAt(page)).not.toContain("Pettifer");
  await scene.club.root.roster.erase([player("lou")], "asked");
  await page.getByRole("link", { name: "Lou Pettifer" }).waitFor({ state: "detached" });
  const hold = await holdVault(page);
  await page.reload();
  await known(page).waitFor();
  await page.getByRole("link", { name: "Ada Wren" }).waitFor();
  expect(await page.getByText("Pettifer").count()).toBe(0);
  await page.getByRole("link", { name: "no name here" }).first().waitFor();
  await hold.until();
  await inStep(page);
}, 120_000);

test("what other code has kept is not shown; what changed meanwhile takes its place", async () => {
  const { page } = await scene.open(scene.club.passes.reader, "Members");
  await page.getByRole("link", { name: "Ada Wren" }).waitFor();
  await expect.poll(() => keptAt(page)).toContain("Thornfield");
  await page.goto(`${new URL(page.url()).origin}/none-of-the-apps-screens`);
  await page.evaluate(async () => {
    const name = (await indexedDB.databases()).find((one) => one.name?.endsWith("/last-known"))?.name ?? "";
    await new Promise<void>((done) => {
      const opening = indexedDB.open(name);
      opening.onsuccess = () => {
        const db = opening.result;
        const store = db.transaction("known", "readwrite").objectStore("known");
        store.get("it").onsuccess = ({ target }) => {
          const kept = (target as IDBRequest<Record<string, unknown>>).result;
          store.put({ ...kept, code: "another" }, "it").onsuccess = () => done(db.close());
        };
      };
    });
  });
  const hold = await holdVault(page);
  await page.goBack();
  await page.getByText("Opening the record on this device").waitFor();
  expect(await known(page).count()).toBe(0);
  await hold.until();
  await page.getByRole("link", { name: "Ada Wren" }).waitFor();

  // A handicap is set elsewhere while this device is away: shown as it was, then as it is.
  await expect.poll(() => keptAt(page)).not.toContain('"another"');
  const address = page.url();
  await page.goto("about:blank");
  const set = {
    player: player("ada"),
    handicap: 3,
    from: before(scene.club.today, 0),
    basis: "discretionary",
  } as const;
  const saved = await scene.club.root.append([{ kind: "handicap-set", body: { ...set, reason: "watched" } }]);
  expect(saved.ok).toBe(true);
  await page.goto(address);
  const row = page.locator("table.roll tr", { hasText: "Ada Wren" });
  await expect.poll(() => row.locator(".numeral-value").innerText()).toContain("3");
  expect(await known(page).count()).toBe(0);
}, 120_000);
