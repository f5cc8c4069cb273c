/**
 * England since the 2016 season, as its governing body's pages state it. The trigger table, the ten points of handicap play,
 * what counts, when a change takes effect and the starting table were read on those pages. The printed level-play table was
 * not readable anywhere, so level play is the logistic that players commonly use, marked as such, never as published.
 *
 * The second set is the same but for the pairing of partners in doubles: clubs' pages of up to 2018 give lower against lower.
 * It is a set of its own and not a switch, so that the tables a reader sees are the tables that are used.
 *
 * SPEC: RU.
 */
import type { Occasion } from "../ledger/kinds.ts";
import type { AssessmentRow, Counting, RuleSet, TriggerRow } from "./rule-set.ts";

const trigger = (handicap: number, points: number): TriggerRow => ({
  handicap,
  trigger: points,
  source: "ce-automatic",
  standing: "published",
});

const starting = (atLeast: number, atMost: number | null, handicap: number, index: number): AssessmentRow => ({
  atLeast,
  atMost,
  handicap,
  index,
  source: "ce-initial",
  standing: "published",
});

const counting = (occasion: Occasion, counts: boolean): Counting => ({
  occasion,
  counts,
  source: "ce-qualifying",
  standing: "published",
});

/** No row for 13, 15, 17 or 19: those handicaps do not exist in this table. */
export const englandTriggers: readonly TriggerRow[] = [
  trigger(-6, 2800),
  trigger(-5, 2650),
  trigger(-4, 2500),
  trigger(-3, 2350),
  trigger(-2, 2200),
  trigger(-1, 2100),
  trigger(0, 2000),
  trigger(1, 1900),
  trigger(2, 1800),
  trigger(3, 1700),
  trigger(4, 1600),
  trigger(5, 1500),
  trigger(6, 1400),
  trigger(7, 1350),
  trigger(8, 1300),
  trigger(9, 1250),
  trigger(10, 1200),
  trigger(11, 1150),
  trigger(12, 1100),
  trigger(14, 1050),
  trigger(16, 1000),
  trigger(18, 950),
  trigger(20, 900),
];

export const england2016: RuleSet = {
  id: "england-2016",
  title: "England, since 2016",
  body: "Croquet England",
  sources: {
    "ca-changing-2016": {
      title: "Croquet Association, Changing to the New System (2016)",
      url: "https://www.croquet.org.uk/?p=games/golf/handicapping/changes",
    },
    "ce-automatic": {
      title: "Croquet England, The Automatic Handicap System for Golf Croquet (Table 1)",
      url: "https://www.croquet.org.uk/?p=games/golf/handicapping/automatic",
    },
    "ce-qualifying": {
      title: "Croquet England, The Automatic Handicap System for Golf Croquet (Qualifying Games)",
      url: "https://croquet.org.uk/?p=games%2Fgolf%2Fhandicapping%2Fautomatic",
    },
    "ce-maintaining": {
      title: "Croquet England, Maintaining a GC Handicap",
      url: "https://croquet.org.uk/?p=games%2Fgolf%2Fhandicapping%2Fmaintenance",
    },
    "ce-initial": {
      title: "Croquet England, Setting an Initial Handicap (after April 2022)",
      url: "https://www.croquet.org.uk/?p=games/golf/handicapping/initial",
    },
    "ce-amendments": {
      title: "Croquet England, Handicapping Amendments, 15 April 2022",
      url: "https://www.croquet.org.uk/?p=press/news&NewsID=7563",
    },
    "scottish-automatic": {
      title: "Scottish Croquet Association, Automatic Handicap Systems",
      url: "https://scottishcroquet.org.uk/index.php/handicapping",
    },
    "australia-2017": {
      title: "Australian GC rules course, session 6: Rule 16 as modified for Australia from 3 April 2017",
      url: "https://slideplayer.com./amp/12942944",
    },
    "north-carolina-2013": {
      title: "Croquet North Carolina, Handicap Golf Croquet: Introduction, 21 August 2013",
      url: "http://croquetnc.org/reference/handicap-golf-croquet-introduction",
    },
    "hassocks-revised": {
      title: "Hassocks Croquet Club, Tournaments (Revised Rules)",
      url: "https://www.hassockscroquetclub.net/tournaments",
    },
    "sussex-doubles": {
      title: "Sussex County Croquet Club, Handicap allocation in GC doubles",
      url: "https://sussexcountycroquetclub.org.uk/articles.php?lng=en&pg=1656",
    },
  },
  triggers: [...englandTriggers],
  exchange: {
    handicapSingles: { kind: "fixed", points: 10, source: "ce-automatic", standing: "published" },
    handicapDoubles: { kind: "none", source: "ce-qualifying", standing: "published" },
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
    levelDoubles: { kind: "none", source: "ce-qualifying", standing: "published" },
  },
  effective: {
    unit: "event",
    eventDays: 4,
    wholeEvents: ["calendar-event"],
    source: "ce-maintaining",
    standing: "published",
  },
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
    doubles: { pairing: "cross", halves: "one-per-side", source: "hassocks-revised", standing: "published" },
  },
  assessment: [
    starting(50, 53, 7, 1350),
    starting(54, 56, 8, 1300),
    starting(57, 60, 9, 1250),
    starting(61, 63, 10, 1200),
    starting(64, 67, 11, 1150),
    starting(68, 70, 12, 1100),
    starting(71, 78, 14, 1050),
    starting(79, null, 16, 1000),
  ],
  olderScale: [
    { from: 6, to: 12, add: 1100, unless: null, source: "ca-changing-2016", standing: "published" },
    { from: 5, to: 5, add: 1150, unless: null, source: "ca-changing-2016", standing: "published" },
    {
      from: 3,
      to: 4,
      add: 1200,
      unless: { index: 1800, handicap: 2 },
      source: "ca-changing-2016",
      standing: "published",
    },
  ],
};

export const england2016LikePairing: RuleSet = {
  ...england2016,
  id: "england-2016-like-pairing",
  title: "England, since 2016, with the older pairing in doubles",
  sources: {
    ...england2016.sources,
    "hassocks-2018": {
      title: "Hassocks Croquet Club, Tournaments (page of 2018)",
      url: "https://www.hassockscroquetclub.net/tournaments",
    },
  },
  strokes: {
    conversions: england2016.strokes.conversions,
    doubles: { pairing: "like", halves: "each", source: "hassocks-2018", standing: "published" },
  },
};
