/**
 * How much of the things to do is drawn before the screen can be seen. A game told late may put a hundred paragraphs before somebody,
 * and to lay them out takes a phone ten times as long as what fits on its screen. So as much is drawn as reaches past the lower edge, and
 * the rest a few screens at a time when that has been seen: counted by the least height that each may have, so that nothing in sight is
 * missing and nothing moves when the rest comes. Only where the page stands at its top; further down all is drawn at once.
 *
 * Rejected: so many matters (one of them may be as long as five screens) and `content-visibility`, for which all of it is made first.
 */
import type { FurtherMatter } from "./further.ts";
import type { Group } from "./groups.ts";
import type { Matter } from "./matters.ts";

/** In CSS pixels: a matter is no less tall than this and its paragraphs together, and a paragraph no less than a line and what parts it. */
export const MATTER = 100;
export const PARAGRAPH = 30;

export interface Drawn {
  readonly matter: Matter | FurtherMatter;
  /** So many of its paragraphs, and when there are more, nothing of what is below them. */
  readonly most: number;
}

export interface DrawnGroup {
  readonly group: Group;
  readonly drawn: readonly Drawn[];
}

export interface FirstDrawn {
  readonly groups: readonly DrawnGroup[];
  /** Nothing is left out. */
  readonly isAll: boolean;
}

export function paragraphsIn(matter: Matter | FurtherMatter): number {
  if (matter.about !== "card") return 1;
  return 2 * matter.touched.length + matter.changes.length + matter.playedOff.length;
}

/**
 * @param height of the screen, in CSS pixels; infinite where all is to be drawn
 * @param isThere what was drawn before stays
 */
export function firstDrawn(
  groups: readonly Group[],
  height: number,
  isThere: (group: Group, matter: Matter | FurtherMatter) => boolean,
): FirstDrawn {
  let room = height;
  let isAll = true;
  const found: DrawnGroup[] = [];
  for (const group of groups) {
    const drawn: Drawn[] = [];
    for (const matter of group.matters) {
      const paragraphs = paragraphsIn(matter);
      const most = isThere(group, matter) ? Number.POSITIVE_INFINITY : Math.ceil(room / PARAGRAPH);
      if (most > 0) drawn.push({ matter, most: most < paragraphs ? most : Number.POSITIVE_INFINITY });
      if (most < paragraphs) isAll = false;
      room -= MATTER + PARAGRAPH * paragraphs;
    }
    if (drawn.length > 0) found.push({ group, drawn });
  }
  return { groups: found, isAll };
}
