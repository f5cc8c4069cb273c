/**
 * Cards without a game for a year. The member may have left, or be coming back and want another handicap; either way somebody
 * should say so. Looked at is a signature made after the year was over: then it is not asked for another year. The clock of the
 * device that signed is good enough for a reminder, and decides nothing.
 */
import type { BookState, Card, Day, PlayerId } from "@sward/core";
import { byCodeUnits, lastGame, linesOf } from "@sward/core";
import { monthsBefore } from "../dates.ts";

export interface IdleMatter {
  readonly about: "idle-card";
  readonly player: PlayerId;
  readonly card: Card;
  /** Day of the last game, or of the start when none was played. */
  readonly since: Day;
  readonly played: boolean;
}

const MONTHS = 12;

/** Longest without a game first. */
export function idleCards({ cards, players }: Pick<BookState, "cards" | "players">, today: Day): readonly IdleMatter[] {
  const yearAgo = monthsBefore(today, MONTHS);
  const idle = [...cards.values()].flatMap((card): IdleMatter[] => {
    if (players.get(card.player)?.standing !== "member") return [];
    // Few cards are idle, and most have hundreds of lines: they are not all made for that.
    const lines = linesOf(card);
    if (lines.count === 0) return [];
    const last = lines.dateAt(lines.count - 1);
    // A handicap that was set is a look at the card as well.
    if (last > yearAgo || wasLookedAt(card, last, yearAgo)) return [];
    const game = lastGame(lines);
    const played = game >= 0;
    return [{ about: "idle-card", player: card.player, card, since: played ? lines.dateAt(game) : last, played }];
  });
  return idle.sort((a, b) => byCodeUnits(a.since, b.since) || byCodeUnits(a.player, b.player));
}

/** Signed in the last twelve months, and not before the first year without a game was over. */
const wasLookedAt = ({ signatures }: Card, last: Day, yearAgo: Day): boolean =>
  signatures.some(({ at }) => {
    const day = at.slice(0, 10);
    return day > yearAgo && monthsBefore(day, MONTHS) >= last;
  });
