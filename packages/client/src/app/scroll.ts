/**
 * Where a page was when it was left: going back finds it there, going forward begins at the top. The browser tries the former by
 * itself, but before the page it goes back to is drawn, and so ends where the page it leaves was long enough for.
 */

/** How far down each address was scrolled, in CSS pixels. */
const left = new Map<string, number>();

/** How long a page that is gone back to may take to be drawn, in milliseconds. */
const PATIENCE = 2000;

/** Set by the back and forward buttons until the page they lead to is drawn. */
let wanted: number | null = null;

addEventListener("scroll", () => {
  if (wanted === null) left.set(location.href, scrollY);
});
addEventListener("popstate", () => {
  wanted = left.get(location.href) ?? 0;
  // Where going back only changes what a page shows, no page is drawn.
  setTimeout(() => {
    wanted = null;
  }, PATIENCE);
});

/** The page that is drawn was left further down. */
export const isGoingBack = (): boolean => wanted !== null && wanted > 0;

/** The page has not been scrolled. What the browser would say itself it says only after laying everything out. */
export const isAtTop = (): boolean => !(wanted ?? left.get(location.href));

/** Once a page is drawn. */
export function settleScroll(): void {
  scrollTo(0, wanted ?? 0);
  wanted = null;
}
