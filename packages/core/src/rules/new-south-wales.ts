/**
 * New South Wales since 2022, as a club's page states it: handicap singles ten points, handicap doubles five each, the
 * handicap changes as soon as the index reaches a trigger point. The page's own tables could not be read. Its range of
 * handicaps is England's, so England's trigger table stands in and every row of it says `derived`; the table for level
 * doubles is known to exist and not known at all, so such a game moves no index and the card says why. Rejected: leaving the
 * set out until the tables are read (its clubs could not try anything) and guessing the doubles table.
 *
 * SPEC: RU.
 */
import type { Occasion } from "../ledger/kinds.ts";
import { englandTriggers } from "./england.ts";
import type { Counting, RuleSet } from "./rule-set.ts";

const counting = (occasion: Occasion, counts: boolean): Counting => ({
  occasion,
  counts,
  source: "ce-qualifying",
  standing: "derived",
});

export const newSouthWales2022: RuleSet = {
  id: "new-south-wales-2022",
  title: "New South Wales, since 2022",
  body: "Croquet New South Wales",
  sources: {
    "nsw-handicaps": {
      title: "Newcastle Park club (Croquet NSW), GC Handicaps",
      url: "https://www.revolutionise.com.au/newcastlepark/gc-handicaps",
    },
    "australia-2017": {
      title: "Australian GC rules course, session 6: Rule 16 as modified for Australia from 3 April 2017",
      url: "https://slideplayer.com./amp/12942944",
    },
    "ce-automatic": {
      title: "Croquet England, The Automatic Handicap System for Golf Croquet (Table 1)",
      url: "https://www.croquet.org.uk/?p=games/golf/handicapping/automatic",
    },
    "ce-qualifying": {
      title: "Croquet England, The Automatic Handicap System for Golf Croquet (Qualifying Games)",
      url: "https://croquet.org.uk/?p=games%2Fgolf%2Fhandicapping%2Fautomatic",
    },
    "north-carolina-2013": {
      title: "Croquet North Carolina, Handicap Golf Croquet: Introduction, 21 August 2013",
      url: "http://croquetnc.org/reference/handicap-golf-croquet-introduction",
    },
    "hassocks-revised": {
      title: "Hassocks Croquet Club, Tournaments (Revised Rules)",
      url: "https://www.hassockscroquetclub.net/tournaments",
    },
  },
  gaps: [
    "The trigger table on the page could not be read. Handicaps run from -6 to 20 as in England, so England's table [ce-automatic] is assumed, row by row.",
    "The table for level doubles could not be read: a level doubles game moves no index here, and the card says so.",
    "The table for level singles could not be read either; the points are those of the logistic players commonly use (base 10, scale 500, sum 20, 1 to 19).",
    "Which games count could not be read; England's list [ce-qualifying] is assumed, except that doubles count.",
    "In doubles the pairing was read [australia-2017], the table that turns half the difference into strokes was not: here a half is rounded up for one partner of a side, as on an English club's page [hassocks-revised].",
    "Extra strokes in 19-point games: the numbers for differences of 19 to 26 were read [australia-2017], the others follow from the same proportion. In 7-point games the proportion agrees with half the 13-point number rounded up [north-carolina-2013] for differences up to 13; beyond that nothing was read.",
    "The starting handicap rests on three counted rounds (the same three-rounds test as in England) and on watching the player; its table could not be read, so none is given.",
  ],
  triggers: englandTriggers.map((row) => ({ ...row, standing: "derived" as const })),
  exchange: {
    handicapSingles: { kind: "fixed", points: 10, source: "nsw-handicaps", standing: "published" },
    handicapDoubles: { kind: "fixed", points: 5, source: "nsw-handicaps", standing: "published" },
    levelSingles: {
      kind: "logistic",
      base: 10,
      scale: 500,
      sum: 20,
      min: 1,
      max: 19,
      source: null,
      standing: "common practice",
    },
    levelDoubles: { kind: "unread", source: "nsw-handicaps", standing: "published" },
  },
  effective: { unit: "game", eventDays: 1, wholeEvents: [], source: "nsw-handicaps", standing: "published" },
  counting: [
    counting("calendar-event", true),
    counting("league", true),
    counting("inter-club", true),
    counting("inter-club-friendly", true),
    counting("club-competition", true),
    counting("club-friendly", false),
    counting("ad-hoc", false),
  ],
  strokes: {
    conversions: [
      { format: 7, numerator: 7, denominator: 13, source: "north-carolina-2013", standing: "derived" },
      { format: 19, numerator: 19, denominator: 13, source: "australia-2017", standing: "derived" },
    ],
    doubles: { pairing: "cross", halves: "one-per-side", source: "australia-2017", standing: "derived" },
  },
  assessment: [],
  olderScale: [],
};
