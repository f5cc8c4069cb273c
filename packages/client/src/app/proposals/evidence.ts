/**
 * A proposal's reason and the games it rests on, in the one text that a proposal has: the games go last, in square brackets, each by its
 * day and the player's own score first, so that the home club finds them on its card in the reader's own way of writing days. A text
 * that has no such end is a reason and nothing else. Pure.
 */
import type { Day, GameLine } from "@sward/core";

/** As long as a proposal's reason may be. */
export const LONGEST = 200;

export interface EvidenceGame {
  readonly day: Day;
  /** Own points first, such as "7-4 5-7". */
  readonly score: string;
}

export interface Grounds {
  readonly reason: string;
  readonly games: readonly EvidenceGame[];
}

export function groundsText({ reason, games }: Grounds): string {
  const said = reason.trim();
  return games.length === 0 ? said : `${said} [${games.map(({ day, score }) => `${day} ${score}`).join("; ")}]`;
}

export function readGrounds(text: string): Grounds {
  const [, reason, list] = /^(.*\S)\s*\[([^[\]]*)\]$/s.exec(text) ?? [];
  const games = (list ?? "").split(";").flatMap((one): EvidenceGame[] => {
    const [, day, score] = /^\s*(\d{4}-\d{2}-\d{2}) (\d{1,2}-\d{1,2}(?: \d{1,2}-\d{1,2})*)\s*$/.exec(one) ?? [];
    return day === undefined || score === undefined ? [] : [{ day, score }];
  });
  return reason === undefined || games.length === 0 ? { reason: text, games: [] } : { reason, games };
}

/** The card's line of a game that is named so: its last, where the match has several. */
export function lineOf(lines: readonly { readonly line: string }[], { day, score }: EvidenceGame): GameLine | null {
  const games = (lines as readonly GameLine[]).filter(({ line, date }) => line === "game" && date === day);
  const byMatch = new Map<string, GameLine[]>();
  for (const game of games) byMatch.set(game.match, [...(byMatch.get(game.match) ?? []), game]);
  const found = [...byMatch.values()].find((all) => all.map((one) => one.score.join("-")).join(" ") === score);
  return found?.at(-1) ?? null;
}
