/**
 * The least that a game can take from a press to the screen, in the page that is measured and slowed as it is: one small record is written
 * so that a crash does not lose it, and then one word changes. No game is shown before it is written so, neither one that is saved here nor
 * one that comes: whatever the app does, it takes that long. Outside of what the app draws.
 */
import { press } from "./hand.ts";
import type { UnheardPage } from "./unheard-page.ts";
import { tookUntil } from "./watch.ts";

/** As long as a record of one game. */
const CHARACTERS = 1_000;

export const BARE = "one durable write and one word, from a press until drawn in this page";

/** Runs in the page. */
async function putButton(length: number): Promise<void> {
  const db = await new Promise<IDBDatabase>((opened, failed) => {
    const request = indexedDB.open("bench-bare", 1);
    request.onupgradeneeded = () => request.result.createObjectStore("records", { autoIncrement: true });
    request.onsuccess = () => opened(request.result);
    request.onerror = () => failed(request.error);
  });
  const [button, word] = [document.createElement("button"), document.createElement("span")];
  Object.assign(button, { id: "bare", textContent: "bare" });
  word.id = "bare-word";
  button.style.cssText = word.style.cssText = "position: fixed; top: 0; right: 0";
  word.style.right = "6rem";
  let times = 0;
  button.addEventListener("click", () => {
    const tx = db.transaction("records", "readwrite", { durability: "strict" });
    tx.objectStore("records").add("x".repeat(length));
    tx.oncomplete = () => {
      times += 1;
      word.textContent = `written ${times}.`;
    };
  });
  document.body.append(button, word);
}

/** @returns milliseconds from a press until the word is drawn, each time it is asked */
export async function barePress(page: UnheardPage): Promise<() => Promise<number>> {
  await page.run(putButton, CHARACTERS);
  let times = 0;
  return async () => {
    times += 1;
    const sight = { selector: "#bare-word", has: [`written ${times}.`] };
    return (await tookUntil(page, "press", [sight], () => press(page, { selector: "#bare" }))).ms;
  };
}
