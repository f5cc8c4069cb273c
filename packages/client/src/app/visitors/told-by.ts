/**
 * Whose word a match rests on, where it is more than one person's of this club: each report with the club or device it came from and
 * whether it was brought from another book with its own signature. Pure; names of devices are handed in.
 */
import type { BookId, KeyId, Match, Report } from "@sward/core";
import { visitorWords } from "../words/visitors.ts";
import type { VisitedDesk } from "./visited-desk.ts";

/** Such as "Thornfield" or "Withy, in the Osier League". */
export function toldBy(desk: VisitedDesk, { by, origin }: Report, deviceOf: (device: KeyId) => string): string {
  if (origin === desk.club.id) return deviceOf(by);
  const league = desk.leagues.find(({ id }) => id === origin)?.state();
  const club = league?.devices.get(by)?.club ?? null;
  if (league !== undefined) {
    const named = (club === null ? undefined : league.clubs.get(club)?.name) ?? deviceOf(by);
    return visitorWords.told.inLeague(named, league.name);
  }
  return bookName(desk, origin) ?? visitorWords.told.elsewhere;
}

/** A club is named in a league by the key id that also names its book. */
export function bookName({ leagues }: Pick<VisitedDesk, "leagues">, book: BookId): string | null {
  for (const league of leagues) {
    for (const { club, name } of league.state().clubs.values()) if ((club as string) === book) return name;
  }
  return null;
}

/** Every account of a match, for those told by more than one; empty for the rest. */
export function tellersOf(
  desk: VisitedDesk,
  match: Match | undefined,
  deviceOf: (device: KeyId) => string,
): readonly string[] {
  if (match === undefined) return [];
  const isOurs = match.reports.every(({ origin }) => origin === desk.club.id);
  if (match.reports.length < 2 && isOurs) return [];
  return [...new Set(match.reports.map((report) => toldBy(desk, report, deviceOf)))];
}
