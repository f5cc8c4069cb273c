/**
 * Games of many cards, for what core does alone: no texts, no signatures, so that a million fit in memory. Fifty games begun by each
 * card and as many met by chance, whatever the size, so that what grows is the book and not the cards.
 */
import type { BookId, EntryId, EntryOf, KeyId, MatchReported, PlayerId } from "@sward/core";
import { compileRules, digestOf, findRuleSet } from "@sward/core";
import { seeded } from "./world.ts";

export const GAMES_A_CARD = 50;

export const england = (() => {
  const set = findRuleSet("england-2016");
  if (set === undefined) throw new Error("england-2016");
  return compileRules(set);
})();

export interface ManyGames {
  readonly players: readonly PlayerId[];
  /** By place of the player. */
  readonly handicaps: readonly number[];
  readonly reports: readonly EntryOf<"match-reported">[];
}

export const benchOfGames = "bench-of-games" as BookId;

export function manyGames(games: number): ManyGames {
  const cards = Math.max(2, Math.ceil(games / GAMES_A_CARD));
  const random = seeded(7);
  const players = Array.from({ length: cards }, (_, n) => `player-${String(n).padStart(15, "0")}` as PlayerId);
  const handicaps = players.map((_, n) => england.handicaps[n % england.handicaps.length] as number);
  const author = digestOf("bench") as string as KeyId;
  const reports = Array.from({ length: games }, (_, n) => {
    const one = n % cards;
    const two = (one + 1 + Math.floor(random() * (cards - 1))) % cards;
    const month = String(4 + Math.floor(random() * 6)).padStart(2, "0");
    const day = String(1 + Math.floor(random() * 28)).padStart(2, "0");
    const won = random() < 0.5;
    const losing = Math.floor(random() * 7);
    const body: MatchReported = {
      date: `2026-${month}-${day}`,
      occasion: "club-competition",
      n: 1 + (Math.floor(n / cards) % GAMES_A_CARD),
      play: n % 3 === 0 ? "level" : "handicap",
      format: 13,
      sides: [
        [{ player: players[one] as PlayerId, off: handicaps[one] as number }],
        [{ player: players[two] as PlayerId, off: handicaps[two] as number }],
      ],
      games: [{ score: won ? [7, losing] : [losing, 7] }],
    };
    return {
      id: `entry-${n}` as EntryId,
      author,
      book: benchOfGames,
      seq: n,
      prev: null,
      at: "2026-05-01T10:00:00Z",
      understood: true,
      kind: "match-reported",
      body,
    } as const;
  });
  return { players, handicaps, reports };
}

/** The setting a card starts with. */
export const startOf = ({ players, handicaps }: ManyGames, place: number): EntryOf<"handicap-set"> =>
  ({
    id: players[place] as string,
    kind: "handicap-set",
    understood: true,
    body: {
      player: players[place],
      handicap: handicaps[place],
      from: "2020-01-01",
      basis: "initial",
      reason: "start",
    },
  }) as unknown as EntryOf<"handicap-set">;
