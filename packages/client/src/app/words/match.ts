/** A match in a few words, for lists and messages: "Bea F 7–5 Carl U". */
import type { Game, MatchFacts, PlayerId } from "@sward/core";

/** The facts with the other side first. */
export function turnFacts(facts: MatchFacts): MatchFacts {
  const [one, two] = facts.sides;
  const games = facts.games.map((game): Game => ({ ...game, score: [game.score[1], game.score[0]] }));
  return { ...facts, sides: [two, one], games };
}

/** Turned so that a side with one of `ours` comes first. */
export const ownSideFirst = (facts: MatchFacts, ours: (player: PlayerId) => boolean): MatchFacts => {
  const [one, two] = facts.sides;
  const mine = (side: typeof one): boolean => side.some(({ player }) => ours(player));
  return !mine(one) && mine(two) ? turnFacts(facts) : facts;
};

const endings = { time: " (time)", abandoned: " (abandoned)", walkover: " (walkover)" } as const;

/** "7–5", "7–5, 3–7 (time)". */
export const scoreWords = (games: readonly Game[]): string =>
  games.map(({ score: [a, b], ended }) => `${a}–${b}${ended === undefined ? "" : endings[ended]}`).join(", ");

export const sideWords = (side: MatchFacts["sides"][0], nameOf: (player: PlayerId) => string): string =>
  side.map(({ player }) => nameOf(player)).join(" and ");

export const matchWords = (facts: MatchFacts, nameOf: (player: PlayerId) => string): string =>
  `${sideWords(facts.sides[0], nameOf)} ${scoreWords(facts.games)} ${sideWords(facts.sides[1], nameOf)}`;
