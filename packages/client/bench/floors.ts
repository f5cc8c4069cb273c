/**
 * Floors of the replay. The bare loop over typed arrays is what a computer needs to move the indexes and nothing else, and filling those
 * arrays what it needs before; the same loop over objects makes a line for each game, as a person reads it, but knows no rules.
 */
import type { CardInput, CardLine, GameLine } from "@sward/core";
import { byMatchOrder, settledHandicap, singlesPoints } from "@sward/core";
import type { ManyGames } from "./games.ts";
import { england } from "./games.ts";

/** Fills columns in the order of play, and returns the loop over them, which returns the sum of the indexes. */
export function typedArrayLoop({ players, handicaps, reports }: ManyGames): () => number {
  const placeOf = new Map(players.map((player, place) => [player, place]));
  const ordered = [...reports].sort((a, b) => (a.body.date < b.body.date ? -1 : a.body.date > b.body.date ? 1 : 0));
  const winner = new Int32Array(ordered.length);
  const loser = new Int32Array(ordered.length);
  const winnerOff = new Int8Array(ordered.length);
  const loserOff = new Int8Array(ordered.length);
  const level = new Uint8Array(ordered.length);
  for (const [n, { body }] of ordered.entries()) {
    const [one, two] = [body.sides[0][0], body.sides[1][0]];
    const [mine, theirs] = body.games[0]?.score ?? [0, 0];
    if (one === undefined || two === undefined) throw new Error("a game of two");
    const [won, lost] = mine > theirs ? [one, two] : [two, one];
    winner[n] = placeOf.get(won.player) as number;
    loser[n] = placeOf.get(lost.player) as number;
    winnerOff[n] = won.off;
    loserOff[n] = lost.off;
    level[n] = body.play === "level" ? 1 : 0;
  }
  const starts = Int32Array.from(handicaps, (one) => england.triggers[england.handicaps.indexOf(one)] as number);
  return () => {
    const index = starts.slice();
    const held = Int8Array.from(handicaps);
    for (let n = 0; n < winner.length; n += 1) {
      const [up, down] = [winner[n] as number, loser[n] as number];
      const play = level[n] === 1 ? "level" : "handicap";
      const points = singlesPoints(england, play, winnerOff[n] as number, loserOff[n] as number);
      index[up] = (index[up] as number) + points;
      index[down] = (index[down] as number) - points;
      held[up] = settledHandicap(england, held[up] as number, index[up] as number);
      held[down] = settledHandicap(england, held[down] as number, index[down] as number);
    }
    return index.reduce((sum, one) => sum + one, 0);
  };
}

/** The same cards and matches sorted by the same comparator, a line with the same fields for each game, and a constant exchange. */
export function cardWithoutRules({ player, matches }: CardInput): CardLine[] {
  const lines: CardLine[] = [];
  let index = 1300;
  lines.push({ line: "set", date: "2020-01-01", index, handicap: 8 } as CardLine);
  for (const match of [...matches].sort(byMatchOrder)) {
    const { facts } = match;
    const side = facts.sides[0].some((one) => one.player === player) ? 0 : 1;
    for (let g = 0; g < facts.games.length; g += 1) {
      const game = facts.games[g];
      if (game === undefined) break;
      const mine = game.score[side];
      const theirs = game.score[side === 0 ? 1 : 0];
      const points = mine > theirs ? 10 : -10;
      index += points;
      const line: GameLine = {
        line: "game",
        date: facts.date,
        match: match.key,
        game: g + 1,
        play: facts.play,
        format: facts.format,
        occasion: facts.occasion,
        event: match.event,
        partner: null,
        opponents: facts.sides[side === 0 ? 1 : 0],
        off: 8,
        score: [mine, theirs],
        points,
        reason: "handicap-singles",
        rules: "england-2016",
        index,
        handicap: 8,
        moved: null,
        notice: null,
        confirmed: true,
      };
      lines.push(line);
    }
  }
  return lines;
}
