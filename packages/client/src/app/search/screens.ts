/** Every screen by the words it is looked for. */
import { places } from "../place.ts";
import { checkWords } from "../words/check.ts";
import { filesWords } from "../words/files.ts";
import { lawnWords } from "../words/lawn.ts";
import { printWords } from "../words/print.ts";
import { reviewWords } from "../words/review.ts";
import { tablesWords } from "../words/tables.ts";
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
  { place: places.check, title: checkWords.title, also: "audit winter sign", letter: "c" },
  { place: places.lawn, title: lawnWords.title, also: "lawn tokens hoops game", letter: "p" },
  { place: places.review, title: reviewWords.title, also: "statistics fairness improvers year", letter: "r" },
  {
    place: places.files,
    title: filesWords.title,
    also: "import export csv json spreadsheet paste results",
    letter: "f",
  },
  {
    place: places.tables,
    title: tablesWords.title,
    also: "rules trigger points exchange starting sources",
    letter: "t",
  },
  { place: places.print, title: printWords.index.title, also: "paper notice board" },
  { place: places.printHandicaps, title: printWords.list.title, also: "print notice board members" },
  { place: places.printWall, title: printWords.wall.title, also: "print extra strokes" },
  { place: places.printReport, title: printWords.report.title, also: "print year committee counts" },
  { place: places.printMatch, title: printWords.sheet.title, also: "print blank sheet league" },
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
