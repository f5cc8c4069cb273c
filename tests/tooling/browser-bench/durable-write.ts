/**
 * What a browser takes to write one small record so that a crash does not lose it, in the page that is measured and slowed as it is. No
 * game is shown before it is written so, neither one that is saved here nor one that comes: whatever the app does, it takes that long.
 */
import type { Page } from "playwright-core";
import { median } from "../../../packages/client/bench/measure.ts";

const TIMES = 15;
/** As long as a record of one game. */
const CHARACTERS = 1_000;

/** Milliseconds, the median. */
export async function durableWrite(page: Page): Promise<number> {
  const times = await page.evaluate(
    async ([many, length]) => {
      const name = "bench-durable";
      const db = await new Promise<IDBDatabase>((opened, failed) => {
        const request = indexedDB.open(name, 1);
        request.onupgradeneeded = () => request.result.createObjectStore("records", { autoIncrement: true });
        request.onsuccess = () => opened(request.result);
        request.onerror = () => failed(request.error);
      });
      const found: number[] = [];
      for (let n = 0; n < many; n += 1) {
        await new Promise((later) => setTimeout(later, 50));
        const from = performance.now();
        await new Promise<void>((done, failed) => {
          const tx = db.transaction("records", "readwrite", { durability: "strict" });
          tx.objectStore("records").add("x".repeat(length));
          tx.oncomplete = () => done();
          tx.onerror = () => failed(tx.error);
        });
        found.push(performance.now() - from);
      }
      db.close();
      indexedDB.deleteDatabase(name);
      return found;
    },
    [TIMES, CHARACTERS] as const,
  );
  return median(times);
}
