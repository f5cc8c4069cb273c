/**
 * Players a handicapper may want to look at: those whose games went further from what the handicaps expect than chance often goes. In
 * handicap play that is one half of the games, in level play what the rules' curve gives for the handicaps played off. The evidence is
 * given, never a verdict; and with it how many of the club would be on the list if nothing but chance were at work, since whoever looks
 * at forty people finds some odd ones.
 */
import type { Play, PlayerCounts, PlayerId, RuleSet } from "@sward/core";
import { expectationOf } from "./level.ts";
import { chanceAgainst, chancesOf, FEWEST } from "./share.ts";

/** Listed is what chance gives at most one time in ten. */
export const LISTED = 0.1;

export interface Look {
  readonly player: PlayerId;
  readonly play: Play;
  readonly games: number;
  readonly won: number;
  readonly expected: number;
  /** How likely chance alone goes so far, one way or the other. */
  readonly chance: number;
}

export interface Watch {
  /** The strongest evidence first. */
  readonly listed: readonly Look[];
  /** Players with enough games of either kind, and how many times one was looked at. */
  readonly players: number;
  readonly looks: number;
  /** How many of the looks would be listed if chance were all there is. */
  readonly byChance: number;
}

/** @param players those whose cards are kept here */
export function watch(players: Iterable<PlayerCounts>, setOf: (id: string) => RuleSet | undefined): Watch {
  const looks = [...players].flatMap((counts) =>
    (["handicap", "level"] as const).flatMap((play) => {
      const expectations = expectationsOf(counts, play, setOf);
      return expectations.length < FEWEST ? [] : [{ look: lookAt(counts, play, expectations), expectations }];
    }),
  );
  return {
    listed: looks
      .map(({ look }) => look)
      .filter(({ chance }) => chance <= LISTED)
      .sort((a, b) => a.chance - b.chance || b.games - a.games || (a.player < b.player ? -1 : 1)),
    players: new Set(looks.map(({ look }) => look.player)).size,
    looks: looks.length,
    byChance: looks.reduce((sum, { expectations }) => sum + listedByChance(expectations), 0),
  };
}

/** What was expected of the player in each game of this kind. */
export function expectationsOf(
  { games }: PlayerCounts,
  play: Play,
  setOf: (id: string) => RuleSet | undefined,
): readonly number[] {
  return games.flatMap(({ game, side }) => {
    if (game.play !== play) return [];
    if (play === "handicap") return [0.5];
    const set = setOf(game.rules);
    const expected = set === undefined ? null : expectationOf(set, side === 0 ? game.difference : -game.difference);
    return expected === null ? [] : [expected];
  });
}

function lookAt(counts: PlayerCounts, play: Play, expectations: readonly number[]): Look {
  const { games, won } = counts[play];
  return {
    player: counts.player,
    play,
    games,
    won,
    expected: expectations.reduce((sum, each) => sum + each, 0),
    chance: chanceAgainst(won, chancesOf(expectations)),
  };
}

/** How likely one look is to be listed when every game goes as expected. */
export function listedByChance(expectations: readonly number[]): number {
  const chances = chancesOf(expectations);
  return chances.reduce((sum, chance, won) => sum + (chanceAgainst(won, chances) <= LISTED ? chance : 0), 0);
}
