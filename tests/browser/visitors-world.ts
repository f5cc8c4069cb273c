/**
 * Two clubs of a league, and at the home club a visitor who was written down by name: Pip Rowan of Withy, whom the league knows by the
 * id Withy gave him. Withy's slip of one of the games has come to the home club, so that game is in its record twice.
 */
import { randomId } from "@sward/client";
import type { Draft, EntryId, MatchReported, PlayerId } from "@sward/core";
import type { Page } from "playwright-core";
import { expect } from "vitest";
import { until } from "../support/meeting.ts";
import { before } from "../support/small-club.ts";
import { expectAccessible } from "./at-a-desk.ts";
import type { LeagueClub, LeagueWorld } from "./league-world.ts";
import { sidewaysFaults, takeMeasures } from "./measures.ts";

export interface VisitorsHere {
  /** The visitor as the home club wrote him down. */
  readonly visitor: PlayerId;
  /** Another visitor, of no league. */
  readonly stranger: PlayerId;
  /** As his own club knows him. */
  readonly pip: PlayerId;
  readonly ivo: PlayerId;
  /** Withy's report of the game that both wrote down. */
  readonly slip: EntryId;
}

export async function saveInto(club: LeagueClub, ...drafts: Draft[]): Promise<readonly EntryId[]> {
  const saved = await club.book.append(drafts);
  if (!saved.ok) throw new Error(JSON.stringify(saved.fault));
  return saved.value;
}

export async function withVisitors({ home, away }: LeagueWorld, today: string): Promise<VisitorsHere> {
  const [visitor, stranger] = [randomId() as PlayerId, randomId() as PlayerId];
  const [ivo, pip] = [home.players.get("Ivo")!, away.players.get("Pip")!];
  const game = (other: PlayerId, off: number, days: number, score: [number, number]): MatchReported => ({
    date: before(today, days),
    occasion: "inter-club",
    n: 1,
    play: "handicap",
    format: 13,
    sides: [[{ player: ivo, off: 8 }], [{ player: other, off }]],
    games: [{ score }],
  });
  await saveInto(
    home,
    { kind: "player-joined", body: { player: visitor, standing: "visitor", home: { club: "Withy CC" } } },
    { kind: "player-joined", body: { player: stranger, standing: "visitor", home: { club: "Harrow Green" } } },
    { kind: "match-reported", body: game(visitor, 6, 12, [7, 4]) },
    { kind: "match-reported", body: game(visitor, 6, 11, [3, 7]) },
    { kind: "match-reported", body: game(stranger, 9, 10, [7, 6]) },
  );
  await home.book.roster.write(
    new Map([
      [visitor, { name: "Pip Rowan", short: "Pip R" }],
      [stranger, { name: "Tam Osier", short: "Tam O" }],
    ]),
  );
  // At Withy the home club's Ivo is a visitor, under the id that the league has.
  const [, slip] = await saveInto(
    away,
    { kind: "player-joined", body: { player: ivo, standing: "visitor", home: { book: home.book.id } } },
    { kind: "match-reported", body: game(pip, 6, 12, [7, 4]) },
  );
  const entry = away.book.signed(slip!)!;
  await saveInto(home, { kind: "entry-carried", body: { from: away.book.id, key: away.root.key, entry } });
  await until("the relay has the visitors", () => home.book.waiting() === 0 && away.book.waiting() === 0);
  return { visitor, stranger, pip, ivo, slip: slip! };
}

/** In light and dark, on a phone and on a wide screen: axe finds nothing, and nothing scrolls sideways. */
export async function expectAccessibleEveryWay(page: Page): Promise<void> {
  await takeMeasures(page);
  for (const viewport of [
    { width: 390, height: 844 },
    { width: 1280, height: 900 },
  ]) {
    await page.setViewportSize(viewport);
    for (const colorScheme of ["dark", "light"] as const) {
      await page.emulateMedia({ colorScheme });
      await expectAccessible(page);
      expect(await sidewaysFaults(page), `${colorScheme} ${viewport.width}`).toEqual([]);
    }
  }
}
