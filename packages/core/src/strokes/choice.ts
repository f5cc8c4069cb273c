/**
 * Who receives how many extra strokes. A stroke belongs to a player and not to a side, so every one is listed with the player
 * it belongs to: the side, and the handicap as players say it ("two to the 9"). Only when both partners have that handicap is
 * a seat needed to tell them apart.
 *
 * There can be several lawful ways, and the players decide which: each is a choice. Rejected: one answer with a note that the
 * pair may change it (a screen would have to know the rule again to offer the other one).
 *
 * SPEC: ST8 to ST10.
 */

export interface Strokes {
  readonly side: 1 | 2;
  readonly handicap: number;
  /** Extra strokes in the game, at least 1. */
  readonly extra: number;
  /** Seat within the side; only where both partners have this handicap. */
  readonly player?: 1 | 2;
}

export interface Choice {
  /** By side, then in the order the side was given. A player who receives none is not listed. */
  readonly strokes: readonly Strokes[];
}

/** Handicaps, one or two a side. */
export type Sides = readonly (readonly number[])[];

/** Extra strokes seat by seat, in the shape of the sides: [[3, 0], [0, 2]]. */
export type SeatExtras = readonly (readonly number[])[];

/** The list of those who receive strokes, from extras by seat. */
export function choiceOf(extras: SeatExtras, sides: Sides): Choice {
  const strokes = sides.flatMap((handicaps, sideAt) =>
    handicaps.flatMap((handicap, seat): Strokes[] => {
      const extra = extras[sideAt]?.[seat] ?? 0;
      if (extra === 0) return [];
      const alike = handicaps.length === 2 && handicaps[0] === handicaps[1];
      const side = sideAt === 0 ? 1 : 2;
      return [alike ? { side, handicap, extra, player: seat === 0 ? 1 : 2 } : { side, handicap, extra }];
    }),
  );
  return { strokes };
}

/** Extra strokes of a choice seat by seat, for a screen that shows a number beside every player. */
export function extrasBySeat(choice: Choice, sides: Sides): SeatExtras {
  return sides.map((handicaps, sideAt) =>
    handicaps.map((handicap, seat) => {
      const own = choice.strokes.find(
        (each) =>
          each.side === sideAt + 1 &&
          each.handicap === handicap &&
          (each.player === undefined || each.player === seat + 1),
      );
      return own?.extra ?? 0;
    }),
  );
}
