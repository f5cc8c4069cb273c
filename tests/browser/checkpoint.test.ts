/** What a device keeps of how signatures stand, in the built app: it is believed at the next start, and not when other code has kept it. */
import type { Page } from "playwright-core";
import { afterAll, beforeAll, expect, test } from "vitest";
import type { Scene } from "./at-a-desk.ts";
import { startScene, toScreen } from "./at-a-desk.ts";

let scene: Scene;
beforeAll(async () => {
  scene = await startScene();
}, 180_000);
afterAll(() => scene?.close());

interface Kept {
  readonly code: string;
  readonly entries: number;
  readonly signatures: readonly (readonly [string, { readonly touched: number | null }])[];
}

/** What is kept, after `change` where that is given; null where nothing is. */
const kept = (page: Page, change: { readonly touched?: number; readonly code?: string } = {}): Promise<Kept | null> =>
  page.evaluate(async (change) => {
    const name = (await indexedDB.databases()).find((one) => one.name?.endsWith("/last-known"))?.name;
    if (name === undefined) return null;
    const db = await new Promise<IDBDatabase>((found) => {
      const opening = indexedDB.open(name);
      opening.onsuccess = () => found(opening.result);
    });
    const store = db.transaction("known", "readwrite").objectStore("known");
    return new Promise<Kept | null>((found) => {
      store.get("checkpoint").onsuccess = ({ target }) => {
        const was = (target as IDBRequest<Kept | undefined>).result;
        if (was === undefined) return found(null);
        const signatures = was.signatures.map(
          ([id, one]) => [id, { ...one, touched: change.touched ?? one.touched }] as const,
        );
        const now = { ...was, code: change.code ?? was.code, signatures };
        store.put(now, "checkpoint").transaction!.oncomplete = () => {
          db.close();
          found(now);
        };
      };
    });
  }, change);

const changedAfterSigning = (page: Page) => page.getByText(/: the card changed after it was signed/);

test("how signatures stand is kept, believed at the next start of the same code, and worked out again by other code", async () => {
  const { page } = await scene.open(scene.club.passes.handicapper, "To do");
  await expect.poll(() => kept(page)).not.toBeNull();
  const honest = (await kept(page))!;
  const touched = honest.signatures.filter(([, one]) => one.touched !== null).length;
  expect(touched).toBeLessThan(honest.signatures.length);
  await expect.poll(() => changedAfterSigning(page).count()).toBe(touched);

  // A lie is seen where nobody looks for the truth.
  await kept(page, { touched: 0 });
  await page.reload();
  await toScreen(page, "To do");
  await expect.poll(() => changedAfterSigning(page).count()).toBe(honest.signatures.length);

  await kept(page, { code: "another" });
  await page.reload();
  await toScreen(page, "To do");
  await expect.poll(() => changedAfterSigning(page).count()).toBe(touched);
  await expect.poll(async () => new Map((await kept(page))?.signatures)).toEqual(new Map(honest.signatures));
}, 120_000);
