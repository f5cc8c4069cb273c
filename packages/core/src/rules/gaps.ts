/**
 * What is not known of each rule set, in words shown beside its tables, with the keys of its sources in brackets. Apart from the sets,
 * since these are needed to work out anything, and this only by somebody who looks at the tables.
 *
 * Rejected: in the set itself (a kilobyte of prose in what a phone fetches before its first screen).
 */
import type { RuleSet } from "./rule-set.ts";

const england = [
  "A federation's note of 2016 prints other amounts for cards of the scale before 2016 than the governing body's page [ca-changing-2016], which is followed here. Players at 2 or below with a current grade take the grade as their index: a handicapper's decision.",
  "The printed table for level play could not be read. The points are those of the logistic players commonly use (base 10, scale 500, sum 20, 1 to 19). What could be checked: the Scottish page [scottish-automatic] says that a weaker winner gains 11 to 19 and a stronger winner 1 to 9, and every number here lies within those bands.",
  "What happens above an index of 2950 or below 900 could not be read; here the handicap stays at the end of the table.",
  "Several trigger points passed at once: no text was found. Here the handicap goes to the furthest one reached.",
  "Extra strokes in 19-point games: the numbers for differences of 19 to 26 were read [australia-2017], the others follow from the same proportion. In 7-point games the proportion agrees with half the 13-point number rounded up [north-carolina-2013] for differences up to 13; beyond that nothing was read.",
  "Extra strokes in doubles were read on club pages [hassocks-revised, sussex-doubles], not in the rules of the game themselves; for 19-point doubles nothing was read.",
  "Retired games, walkovers and games stopped by time: whether they move the index could not be read; only that abandoned games do not.",
  "The starting table is the one in force since April 2022 [ce-amendments]. A count under 50 in the three-rounds test: the player is assessed separately. The test is not for players with an association croquet handicap below 10.",
] as const;

const gaps: Readonly<Record<string, readonly string[]>> = {
  "england-2016": england,
  "england-2016-like-pairing": [
    ...england,
    "The older pairing is stated on a club page of 2018 [hassocks-2018] and an introduction of 2013 [north-carolina-2013]; which edition of the rules printed it could not be read.",
  ],
  "new-south-wales-2022": [
    "The trigger table on the page could not be read. Handicaps run from -6 to 20 as in England, so England's table [ce-automatic] is assumed, row by row.",
    "The table for level doubles could not be read: a level doubles game moves no index here, and the card says so.",
    "The table for level singles could not be read either; the points are those of the logistic players commonly use (base 10, scale 500, sum 20, 1 to 19).",
    "Which games count could not be read; England's list [ce-qualifying] is assumed, except that doubles count.",
    "In doubles the pairing was read [australia-2017], the table that turns half the difference into strokes was not: here a half is rounded up for one partner of a side, as on an English club's page [hassocks-revised].",
    "Extra strokes in 19-point games: the numbers for differences of 19 to 26 were read [australia-2017], the others follow from the same proportion. In 7-point games the proportion agrees with half the 13-point number rounded up [north-carolina-2013] for differences up to 13; beyond that nothing was read.",
    "The starting handicap rests on three counted rounds (the same three-rounds test as in England) and on watching the player; its table could not be read, so none is given.",
  ],
};

/** Of a set of the catalogue; none where nothing was written down. */
export const gapsOf = ({ id }: Pick<RuleSet, "id">): readonly string[] => gaps[id] ?? [];
