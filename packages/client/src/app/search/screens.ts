/** Every screen by the words it is looked for. */
import { leaguePlaces } from "../league/league-places.ts";
import { places } from "../place.ts";
import { checkWords } from "../words/check.ts";
import { filesWords } from "../words/files.ts";
import { lawnWords } from "../words/lawn.ts";
import { joinLeagueWords } from "../words/league-join.ts";
import { membersWords } from "../words/members.ts";
import { printWords } from "../words/print.ts";
import { proposalWords } from "../words/proposals.ts";
import { reviewWords } from "../words/review.ts";
import { searchWords } from "../words/search.ts";
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
const { also } = searchWords;

export const listedScreens: readonly ListedScreen[] = [
  { place: places.attention, title: nav.attention, also: also.attention, letter: "a" },
  { place: places.members, title: nav.members, also: also.members, letter: "m" },
  { place: places.entry, title: nav.entry, also: also.entry, letter: "e" },
  { place: places.league, title: nav.league, also: also.league, letter: "l" },
  { place: leaguePlaces.join, title: joinLeagueWords.title, also: also.joinLeague },
  { place: places.strokes, title: nav.strokes, also: also.strokes, letter: "x" },
  { place: places.sharing, title: nav.sharing, also: also.sharing, letter: "s" },
  { place: places.check, title: checkWords.title, also: also.check, letter: "c" },
  { place: places.lawn, title: lawnWords.title, also: also.lawn, letter: "p" },
  { place: places.review, title: reviewWords.title, also: also.review, letter: "r" },
  { place: places.files, title: filesWords.title, also: also.files, letter: "f" },
  { place: places.tables, title: tablesWords.title, also: also.tables, letter: "t" },
  { place: places.moving, title: membersWords.moving, also: also.moving },
  { place: places.proposals, title: proposalWords.title, also: also.proposals },
  { place: places.print, title: printWords.index.title, also: also.print },
  { place: places.printHandicaps, title: printWords.list.title, also: also.printHandicaps },
  { place: places.printWall, title: printWords.wall.title, also: also.printWall },
  { place: places.printReport, title: printWords.report.title, also: also.printReport },
  { place: places.printMatch, title: printWords.sheet.title, also: also.printMatch },
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
