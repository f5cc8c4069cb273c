/** Every screen by the words it is looked for. */
import { places } from "../place.ts";
import { checkWords } from "../words/check.ts";
import { words } from "../words.ts";
import type { Thing } from "./find.ts";

interface ListedScreen {
  readonly place: string;
  readonly title: string;
  readonly also: string;
  /** The letter that goes there after `g`. */
  readonly letter?: string;
}

const { nav } = words;

export const listedScreens: readonly ListedScreen[] = [
  {
    place: places.attention,
    title: nav.attention,
    also: "attention first sign off disputes questions home",
    letter: "a",
  },
  { place: places.members, title: nav.members, also: "handicaps cards list visitors people", letter: "m" },
  { place: places.entry, title: nav.entry, also: "result match score afternoon report game", letter: "e" },
  { place: places.league, title: nav.league, also: "fixtures clubs", letter: "l" },
  { place: places.strokes, title: nav.strokes, also: "extra pairing doubles", letter: "x" },
  {
    place: places.sharing,
    title: nav.sharing,
    also: "sync relay devices storage connection export backup",
    letter: "s",
  },
  { place: places.check, title: checkWords.title, also: "audit winter review sign", letter: "c" },
];

export const screenThings = (): readonly Thing[] =>
  listedScreens.map(({ place, title, also }) => ({
    key: `screen ${place}`,
    kind: "screen",
    title,
    detail: "",
    also,
    goes: { to: "place", place },
  }));
