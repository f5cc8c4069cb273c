/** All that the club's review shows, from the counts: shares with their intervals, level play, whom to look at, newcomers, strokes. */
import type { BookState, PlayerCounts, PlayerId, ReviewCounts, RuleSet, Tally } from "@sward/core";
import type { FirstGamesEstimate } from "./first-games.ts";
import { estimateFirst } from "./first-games.ts";
import type { LevelReview } from "./level.ts";
import { reviewLevel } from "./level.ts";
import type { Interval, Verge } from "./share.ts";
import { shareInterval, standing } from "./share.ts";
import type { StrokesReview } from "./strokes-review.ts";
import { reviewStrokes } from "./strokes-review.ts";
import type { Watch } from "./watch.ts";
import { watch } from "./watch.ts";

/** A share of games won, ready to be shown: never without its number of games. */
export interface ShareRow extends Tally {
  readonly label: string;
  /** Null without games. */
  readonly share: number | null;
  readonly interval: Interval | null;
  readonly standing: Verge;
}

export interface ClubReview {
  readonly receivers: readonly ShareRow[];
  readonly noStrokes: number;
  readonly leftOut: ReviewCounts["leftOut"];
  /** Titles of the rule sets the games were played under. */
  readonly rules: readonly string[];
  readonly level: LevelReview;
  readonly watch: Watch;
  readonly newcomers: readonly { readonly player: PlayerId; readonly estimate: FirstGamesEstimate }[];
  readonly strokes: StrokesReview | null;
  /** Whose cards are kept here and who have games in these counts. */
  readonly members: readonly PlayerCounts[];
}

export type SetOf = (id: string) => RuleSet | undefined;

/** @param bandLabel such as "4 to 6 strokes" */
export function reviewClub(
  state: Pick<BookState, "cards" | "players">,
  counts: ReviewCounts,
  setOf: SetOf,
  bandLabel: (from: number, to: number | null) => string,
): ClubReview {
  const members = [...counts.players.values()].filter(({ player }) => state.cards.has(player));
  const sets = new Set(counts.games.map(({ rules }) => rules));
  return {
    receivers: counts.receivers.map((band) => shareRow(bandLabel(band.from, band.to), band)),
    noStrokes: counts.noStrokes,
    leftOut: counts.leftOut,
    rules: [...sets].map((id) => setOf(id)?.title ?? id),
    level: reviewLevel(counts.levelGaps, setOf),
    watch: watch(members, setOf),
    newcomers: newcomersOf(state, setOf),
    strokes: reviewStrokes(counts.strokes),
    members,
  };
}

export function shareRow(label: string, { games, won }: Tally): ShareRow {
  const some = games > 0;
  return {
    label,
    games,
    won,
    share: some ? won / games : null,
    interval: some ? shareInterval({ games, won }) : null,
    standing: standing({ games, won }),
  };
}

/** A newcomer's first games are the same whatever season is looked at. */
function newcomersOf({ cards, players }: Pick<BookState, "cards" | "players">, setOf: SetOf): ClubReview["newcomers"] {
  return [...cards.values()].flatMap((card) => {
    const estimate = players.get(card.player)?.standing === "left" ? null : estimateFirst(card, setOf);
    return estimate === null ? [] : [{ player: card.player, estimate }];
  });
}
