/**
 * A team while its captain is choosing: places in the order of the match sheet, each a player of the club off a handicap. The handicap
 * that the club has stated for the day of the fixture is taken, and may be changed, since what was agreed on the lawn goes first; the
 * league's check then says what is unusual. Pure: what may not be is the core's to say (`league/check-league.ts`).
 */
import type {
  Bodies,
  Day,
  Entry,
  EntryId,
  EntryOf,
  FixtureId,
  KeyId,
  NamedTeam,
  PlayerId,
  Statement,
  Statements,
} from "@sward/core";
import { byCodeUnits, statedOn } from "@sward/core";
import type { ReadableBook } from "../entry/reading.ts";
import { enteredPlayers } from "./slots.ts";

export interface Place {
  readonly player: PlayerId | null;
  readonly off: number | null;
  readonly reserve: boolean;
}

/** First place first; as many as a team of the league has. */
export type TeamForm = readonly Place[];

export interface Candidate {
  readonly player: PlayerId;
  /** What is stated for the day; null when nothing is. */
  readonly stated: Statement | null;
}

const nobody: Place = { player: null, off: null, reserve: false };

/** The club's entered players, by name, with what is stated of them for the day. */
export const candidatesOf = (
  book: Pick<ReadableBook, "state">,
  statements: Statements,
  { club, day }: { readonly club: KeyId; readonly day: Day },
  nameOf: (player: PlayerId) => string,
): readonly Candidate[] =>
  enteredPlayers(book, club, nameOf).map((player) => ({ player, stated: statedOn(statements, player, day) }));

/** The form of a team that was named, or an empty one. */
export function formOf(team: NamedTeam | null, places: number): TeamForm {
  const named = (team?.players ?? []).map(
    ({ player, off }): Place => ({ player, off, reserve: team?.reserves.includes(player) === true }),
  );
  return Array.from({ length: Math.max(places, named.length) }, (_, at) => named[at] ?? nobody);
}

/** With another player in a place, off what is stated of him; one who had another place leaves it empty. */
export function seat(form: TeamForm, at: number, candidate: Candidate | null): TeamForm {
  const { player = null, stated = null } = candidate ?? {};
  return form.map((place, other) => {
    if (other === at) return player === null ? nobody : { player, off: stated?.handicap ?? null, reserve: false };
    return place.player !== null && place.player === player ? nobody : place;
  });
}

export const change = (form: TeamForm, at: number, part: Partial<Place>): TeamForm =>
  form.map((place, other) => (other === at ? { ...place, ...part } : place));

/** Places taken first, in the order of handicaps, the lowest first; of one handicap as they stood. */
export function inOrder(form: TeamForm): TeamForm {
  const taken = form.filter(({ player }) => player !== null);
  const sorted = [...taken].sort((a, b) => (a.off ?? 99) - (b.off ?? 99));
  return [...sorted, ...form.filter(({ player }) => player === null)];
}

/** Players whose handicap is missing: they cannot be named yet. */
export const withoutHandicap = (form: TeamForm): readonly PlayerId[] =>
  form.flatMap(({ player, off }) => (player !== null && off === null ? [player] : []));

/** What is to be signed; null while nobody is chosen or a handicap is missing. Empty places close up. */
export function teamBody(
  form: TeamForm,
  { fixture, club, replaces }: { readonly fixture: FixtureId; readonly club: KeyId; readonly replaces: EntryId | null },
): Bodies["lineup-named"] | null {
  const players = form.flatMap(({ player, off }) => (player === null || off === null ? [] : [{ player, off }]));
  if (players.length === 0 || withoutHandicap(form).length > 0) return null;
  const reserves = form.flatMap(({ player, reserve }) => (player !== null && reserve ? [player] : []));
  return {
    fixture,
    club,
    players,
    ...(reserves.length === 0 ? {} : { reserves }),
    ...(replaces === null ? {} : { replaces }),
  };
}

export interface TeamChange {
  readonly at: string;
  readonly by: KeyId;
  /** Who came in and who went out against the team named before it. */
  readonly came: readonly PlayerId[];
  readonly went: readonly PlayerId[];
}

/**
 * Each time this team was named anew, from whichever device, against the naming before it by the authors' clocks: for people to read.
 * The first naming is left out, and so is what was taken back. Which team stands is the core's to say.
 */
export function changesOf(entries: Iterable<Entry>, fixture: FixtureId, club: KeyId): readonly TeamChange[] {
  const named: EntryOf<"lineup-named">[] = [];
  const withdrawn = new Set<EntryId>();
  for (const entry of entries) {
    if (!entry.understood) continue;
    if (entry.kind === "entry-withdrawn") withdrawn.add(entry.body.withdraws);
    if (entry.kind === "lineup-named" && entry.body.fixture === fixture && entry.body.club === club) named.push(entry);
  }
  const standing = named
    .filter(({ id }) => !withdrawn.has(id))
    .sort((a, b) => byCodeUnits(a.at, b.at) || byCodeUnits(a.author, b.author) || a.seq - b.seq);
  return standing.slice(1).map(({ at, author, body }, before): TeamChange => {
    const old = (standing[before]?.body.players ?? []).map(({ player }) => player);
    const now = body.players.map(({ player }) => player);
    return {
      at,
      by: author,
      came: now.filter((player) => !old.includes(player)),
      went: old.filter((player) => !now.includes(player)),
    };
  });
}
