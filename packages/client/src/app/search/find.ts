/**
 * What can be found, and what is meant by a few typed letters. Every word typed must begin a word of the thing, in any order, without
 * regard to case or accents: people type how a name begins. Pure. Rejected: letters anywhere in a word ("an" finds half a club) and
 * a library that forgives slips (in a list of fifty names the wrong Linnet is worse than none).
 */
import { byCodeUnits, byNumber } from "@sward/core";

export type ThingKind = "member" | "screen" | "command" | "visitor" | "event" | "fixture" | "left";

export interface Thing {
  /** Stays the same while it is the same thing. */
  readonly key: string;
  readonly kind: ThingKind;
  readonly title: string;
  /** What tells it from others of its name. */
  readonly detail: string;
  /** Further words it is found by. */
  readonly also: string;
  readonly goes: Goes;
}

export type Goes =
  | { readonly to: "place"; readonly place: string; readonly query?: Readonly<Record<string, string>> }
  | { readonly to: "act"; readonly act: () => void };

/** With nothing typed: where one can go and what can be done, as a menu. */
const offered: ReadonlySet<ThingKind> = new Set(["screen", "command"]);

/** Of equal matches: people first, then what one can do, then what was. */
const rank: Readonly<Record<ThingKind, number>> = {
  member: 0,
  screen: 1,
  command: 2,
  visitor: 3,
  event: 4,
  fixture: 5,
  left: 6,
};

/** Best first, at most so many; with nothing typed the whole menu, because what a menu leaves out is taken not to be there. */
export function findThings(things: readonly Thing[], typed: string, most: number): readonly Thing[] {
  const asked = partsOf(typed);
  if (asked.length === 0) return things.filter(({ kind }) => offered.has(kind));
  const found: { readonly thing: Thing; readonly how: number; readonly place: number }[] = [];
  for (const [place, thing] of things.entries()) {
    const how = closeness(thing, asked);
    if (how !== null) found.push({ thing, how, place });
  }
  found.sort(
    (a, b) =>
      byNumber(a.how, b.how) ||
      byNumber(rank[a.thing.kind], rank[b.thing.kind]) ||
      byCodeUnits(folded(a.thing.title), folded(b.thing.title)) ||
      byNumber(a.place, b.place),
  );
  return found.slice(0, most).map(({ thing }) => thing);
}

/** 0: the title begins so. 1: all is in the title. 2: some of it only elsewhere. Null: it is not meant. */
function closeness({ title, detail, also }: Thing, asked: readonly string[]): 0 | 1 | 2 | null {
  const inTitle = partsOf(title);
  const begins = (words: readonly string[], part: string): boolean => words.some((word) => word.startsWith(part));
  if (asked.every((part) => begins(inTitle, part))) {
    const inOrder = asked.every((part, place) => inTitle[place]?.startsWith(part) === true);
    return inOrder ? 0 : 1;
  }
  const everywhere = [...inTitle, ...partsOf(detail), ...partsOf(also)];
  return asked.every((part) => begins(everywhere, part)) ? 2 : null;
}

const folded = (text: string): string =>
  text.normalize("NFD").replace(/\p{M}/gu, "").toLowerCase().replace(/['’]/g, "");

const partsOf = (text: string): readonly string[] =>
  folded(text)
    .split(/[^\p{L}\p{N}]+/u)
    .filter((part) => part !== "");
