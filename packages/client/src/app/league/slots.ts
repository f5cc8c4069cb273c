/**
 * A fixture as its two clubs see it: for each slot who has reported, whether they agree, and in what they differ. Read from the
 * league's book alone, so both clubs' devices say the same once they hold the same entries.
 */
import type { Fixture, KeyId, Match, MatchFacts, PlayerId, Report } from "@sward/core";
import { byCodeUnits } from "@sward/core";
import type { ReadableBook } from "../entry/reading.ts";
import { turnFacts } from "../words/match.ts";

export type SlotStatus =
  | { readonly type: "not-reported" }
  /** Reported by this club alone. */
  | { readonly type: "one-club"; readonly club: KeyId | null }
  | { readonly type: "agreed" }
  | { readonly type: "differs" }
  | { readonly type: "ruled" }
  | { readonly type: "void" };

/** A report with the club that answers for it, its facts with the home side first. */
export interface ClubReport {
  readonly report: Report;
  readonly club: KeyId | null;
  readonly facts: MatchFacts;
}

export interface SlotView {
  /** From 1. */
  readonly number: number;
  readonly slot: Fixture["slots"][number];
  readonly match: Match | null;
  readonly status: SlotStatus;
  /** Home club's first, then the visitors', then any other's. */
  readonly reports: readonly ClubReport[];
}

/** The club this device writes for in a league; null for the league's own officers and for a device not admitted. */
export const ownClub = (book: Pick<ReadableBook, "state" | "device">): KeyId | null =>
  book.state().devices.get(book.device)?.club ?? null;

/** Whether a player is entered for a club: a club is named in a league by the key that also names its book. */
export function playsFor(book: Pick<ReadableBook, "state">, player: PlayerId, club: KeyId): boolean {
  return book.state().players.get(player)?.home?.book === (club as string);
}

/** The club's entered players, by name. */
export function enteredPlayers(
  book: Pick<ReadableBook, "state">,
  club: KeyId,
  nameOf: (player: PlayerId) => string,
): readonly PlayerId[] {
  return [...book.state().players.keys()]
    .filter((player) => playsFor(book, player, club))
    .sort((a, b) => byCodeUnits(nameOf(a), nameOf(b)) || byCodeUnits(a, b));
}

export function viewSlots(book: Pick<ReadableBook, "state">, fixture: Fixture): readonly SlotView[] {
  const { matches, devices } = book.state();
  return fixture.slots.map((slot, at) => {
    const key = fixture.matches[at] ?? null;
    const match = key === null ? null : (matches.get(key) ?? null);
    const reports = (match?.reports ?? []).map((report): ClubReport => {
      const club = devices.get(report.by)?.club ?? null;
      return { report, club, facts: homeFirst(book, fixture, report.facts) };
    });
    const place = ({ club }: ClubReport): number => (club === fixture.home ? 0 : club === fixture.away ? 1 : 2);
    reports.sort((a, b) => place(a) - place(b) || byCodeUnits(a.report.entry, b.report.entry));
    return { number: at + 1, slot, match, status: statusOf(match, reports), reports };
  });
}

function statusOf(match: Match | null, reports: readonly ClubReport[]): SlotStatus {
  if (match === null) return { type: "not-reported" };
  switch (match.status) {
    case "confirmed":
      return { type: "agreed" };
    case "held":
      return { type: "differs" };
    case "ruled":
    case "void":
      return { type: match.status };
    case "one-report":
    case "waiting":
      return { type: "one-club", club: reports[0]?.club ?? null };
  }
}

/** Facts with the side first that plays for the home club. */
export function homeFirst(book: Pick<ReadableBook, "state">, fixture: Fixture, facts: MatchFacts): MatchFacts {
  const isHome = (side: MatchFacts["sides"][number]): boolean =>
    side.some(({ player }) => playsFor(book, player, fixture.home));
  return !isHome(facts.sides[0]) && isHome(facts.sides[1]) ? turnFacts(facts) : facts;
}

/** The standing report of a club on a slot: the device's own where it has one. */
export function reportOf(slot: SlotView, club: KeyId | null, device: KeyId): ClubReport | null {
  const own = slot.reports.filter((one) => club !== null && one.club === club);
  return own.find(({ report }) => report.by === device) ?? own[0] ?? null;
}

/** Another club's standing report, the first there is. */
export const reportOfOther = (slot: SlotView, club: KeyId | null): ClubReport | null =>
  slot.reports.find((one) => one.club !== club) ?? null;

export interface Tally {
  readonly home: number;
  readonly away: number;
  /** Slots whose result does not stand: not reported, held, waiting, void, or drawn. */
  readonly open: number;
}

/** Matches won, of those whose facts count. */
export function tallyOf(book: Pick<ReadableBook, "state">, fixture: Fixture, slots: readonly SlotView[]): Tally {
  let [home, away, open] = [0, 0, 0];
  for (const { match } of slots) {
    const facts = match === null || match.facts === null ? null : homeFirst(book, fixture, match.facts);
    const games = facts?.games ?? [];
    const won = games.filter(({ score: [a, b] }) => a > b).length;
    const lost = games.filter(({ score: [a, b] }) => a < b).length;
    if (won > lost) home += 1;
    else if (lost > won) away += 1;
    else open += 1;
  }
  return { home, away, open };
}
