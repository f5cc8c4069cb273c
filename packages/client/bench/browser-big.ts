/** A book of a whole country in a page: filled once, then opened by a page that has nothing else in memory (`big-book.ts`). */
import { openIdbVault } from "../src/book/vault-idb.ts";
import { breathe } from "../src/desk/breathe-here.ts";
import type { HeldBook } from "./big-book.ts";
import { fillVault, openBig } from "./big-book.ts";
import { vaultEvents } from "./browser-stages.ts";

const NAME = "bench-big-vault";

export async function fillBigHere(size: number): Promise<void> {
  const vault = await openIdbVault(NAME, vaultEvents);
  await fillVault(vault, size);
  await vault.close();
}

/** @param bytes that are held, asked while the book is open */
export async function openBigHere(bytes: () => Promise<number>): Promise<HeldBook> {
  let task = 0;
  const observer = new PerformanceObserver((list) => {
    for (const { duration } of list.getEntries()) task = Math.max(task, duration);
  });
  observer.observe({ entryTypes: ["longtask"] });
  const found = await openBig(await openIdbVault(NAME, vaultEvents), breathe, () => {
    observer.disconnect();
    return bytes();
  });
  return { ...found, task };
}
