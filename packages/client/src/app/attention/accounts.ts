/** A match as words, for putting two accounts of it side by side. Pure; names are handed in. */
import type { FactName, Game, Lineup, MatchFacts, PlayerId } from "@sward/core";
import { showDay } from "../dates.ts";
import { laterWords } from "../words/attention-later.ts";
import { endedWords, occasionWords, playWords } from "../words/play.ts";
import { number, words } from "../words.ts";

export type NameOf = (player: PlayerId) => string;

/** "Ada Wren (7) & Bo Linnet (9)". */
export const sideWords = (side: readonly Lineup[], nameOf: NameOf): string =>
  side.map(({ player, off }) => `${nameOf(player)} (${number(off)})`).join(" & ");

/** "Ada Wren v Bo Linnet". */
export const playersWords = ({ sides }: MatchFacts, nameOf: NameOf): string =>
  sides.map((side) => side.map(({ player }) => nameOf(player)).join(" & ")).join(` ${words.versus} `);

export const gamesWords = (games: readonly Game[]): string =>
  games
    .map(({ score: [a, b], ended }) => `${a}–${b}${ended === undefined ? "" : ` (${endedWords[ended]})`}`)
    .join(", ");

export interface FactRow {
  readonly fact: FactName;
  readonly label: string;
  readonly value: string;
  readonly differs: boolean;
}

const rows: readonly FactName[] = ["games", "sides", "date", "occasion", "play", "format", "excluded"];

/** Every fact of an account in words, those that differ first; of the rest only what tells the match. */
export function factRows(facts: MatchFacts, differs: readonly FactName[], nameOf: NameOf): readonly FactRow[] {
  const all = rows.map(
    (fact): FactRow => ({
      fact,
      label: laterWords.facts[fact],
      value: factValue(fact, facts, nameOf),
      differs: differs.includes(fact),
    }),
  );
  const shown = all.filter((row) => row.differs || row.fact === "games" || row.fact === "sides");
  return shown.sort((a, b) => Number(b.differs) - Number(a.differs));
}

function factValue(fact: FactName, facts: MatchFacts, nameOf: NameOf): string {
  switch (fact) {
    case "games":
      return gamesWords(facts.games);
    case "sides":
      return facts.sides.map((side) => sideWords(side, nameOf)).join(` ${words.versus} `);
    case "date":
      return showDay(facts.date);
    case "occasion":
      return occasionWords[facts.occasion];
    case "play":
      return playWords[facts.play];
    case "format":
      return words.points(facts.format);
    case "excluded":
      return facts.excluded ? laterWords.excluded : laterWords.notExcluded;
  }
}
