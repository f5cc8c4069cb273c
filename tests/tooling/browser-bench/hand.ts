/**
 * A hand at a page nobody hears of: it finds what it wants by what stands on it, as `Sight`s are found, and presses as a finger does. A
 * pointer would stay where it pressed, and a browser looks anew what is under it whenever something moves; there is none on a phone.
 */
import type { UnheardPage } from "./unheard-page.ts";

export interface Thing {
  readonly selector: string;
  /** A part of its text; where several have it, the first is meant. */
  readonly has?: string;
}

/** Milliseconds that a finger stays on what it presses: what a browser does because something is held down is done by then. */
const HELD_MS = 80;

const LOOK_MS = 50;
const PATIENCE_MS = 60_000;

/** Runs in the page, where it is looked for until it can be pressed: a place in the window, which nothing else covers. */
function placeOf(selector: string, has: string): { readonly x: number; readonly y: number } | null {
  const found = [...document.querySelectorAll(selector)].find(
    (one) => one.textContent?.includes(has) === true && one.getClientRects().length > 0,
  );
  if (found === undefined) return null;
  found.scrollIntoView({ block: "nearest" });
  const { left, top, width, height } = found.getBoundingClientRect();
  const [x, y] = [left + width / 2, top + height / 2];
  const there = document.elementFromPoint(x, y);
  if (there !== null && (found.contains(there) || there.contains(found))) return { x, y };
  // Under a band that stays where it is.
  found.scrollIntoView({ block: "center" });
  return null;
}

/** Puts a text into a field, as what is typed into it comes to. */
function fillIn(selector: string, text: string): boolean {
  const field = document.querySelector<HTMLInputElement | HTMLSelectElement>(selector);
  if (field === null) return false;
  field.focus();
  field.value = text;
  for (const name of ["input", "change"]) field.dispatchEvent(new Event(name, { bubbles: true }));
  return true;
}

/** @param what as it reads, for who waits in vain */
async function until<T>(what: string, look: () => Promise<T | null | false>): Promise<T> {
  for (const from = Date.now(); Date.now() - from < PATIENCE_MS; ) {
    const found = await look();
    if (found !== null && found !== false) return found;
    await new Promise((later) => setTimeout(later, LOOK_MS));
  }
  throw new Error(`not there to be pressed or filled in: ${what}`);
}

export async function press(page: UnheardPage, { selector, has = "" }: Thing): Promise<void> {
  const at = await until(`${selector} ${has}`, () => page.run(placeOf, selector, has));
  await page.ask("Input.dispatchTouchEvent", { type: "touchStart", touchPoints: [at] });
  await new Promise((held) => setTimeout(held, HELD_MS));
  await page.ask("Input.dispatchTouchEvent", { type: "touchEnd", touchPoints: [] });
}

export async function fill(page: UnheardPage, selector: string, text: string): Promise<void> {
  await until(selector, () => page.run(fillIn, selector, text));
}
