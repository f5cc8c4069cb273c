/**
 * Cards without a game for a year. The member may have left, or be coming back and want another handicap; either way somebody
 * should say so. Looked at is a signature made after the year was over: then it is not asked for another year. The clock of the
 * device that signed is good enough for a reminder, and decides nothing.
 */
import type { BookState, Card, Day, PlayerId } from "@sward/core";
import { byCodeUnits } from "@sward/core";
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
    const last = card.lines.at(-1);
    // A handicap that was set is a look at the card as well.
    if (last === undefined || last.date > yearAgo || wasLookedAt(card, last.date, yearAgo)) return [];
    const game = card.lines.findLast(({ line }) => line === "game");
    return [
      {
        about: "idle-card",
        player: card.player,
        card,
        since: game?.date ?? last.date,
        played: game !== undefined,
      },
    ];
  });
  return idle.sort((a, b) => byCodeUnits(a.since, b.since) || byCodeUnits(a.player, b.player));
}

/** Signed in the last twelve months, and not before the first year without a game was over. */
const wasLookedAt = ({ signatures }: Card, last: Day, yearAgo: Day): boolean =>
  signatures.some(({ at }) => {
    const day = at.slice(0, 10);
    return day > yearAgo && monthsBefore(day, MONTHS) >= last;
  });
