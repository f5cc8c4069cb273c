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
