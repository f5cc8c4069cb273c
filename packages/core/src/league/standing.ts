/**
 * The entries of some kinds that stand: not replaced, not withdrawn, not refused. A book's state has what every screen needs; what
 * only a league's screens read (its rules, teams, what became of a fixture, proposals) is read here from the counting entries, when
 * one of those screens asks, so that a club without a league pays nothing for it. Who may correct whom is as everywhere.
 *
 * SPEC: LG7.
 */

import type { Standing } from "../authority/authority.ts";
import type { Corrections } from "../authority/corrections.ts";
import { createCorrections, mayCorrect, replacedBy } from "../authority/corrections.ts";
import type { EntryId, KeyId, PlayerId } from "../ids.ts";
import type { EntryOf, KnownEntry } from "../ledger/entry.ts";
import type { Kind } from "../ledger/kinds.ts";
import { byCodeUnits } from "../order.ts";
import type { Counted, CountedEntries } from "../replay/counted.ts";
import type { BookState, Device } from "../state.ts";

/** A book as the league's models read it: `state()` and `counted()` of a ledger or of a client's book. */
export interface LeagueSource {
  readonly state: BookState;
  /** Every counting entry; where `of` is there, no more is read than what is asked for. */
  readonly counted: Iterable<Counted> & Partial<Pick<CountedEntries, "of">>;
}

/** Standing entries of a kind, by id. */
export type Standings = <K extends Kind>(kind: K) => EntryOf<K>[];

/** Reads the counting entries once; only entries of these kinds can be asked for. */
export function readStanding({ state, counted }: LeagueSource, kinds: readonly Kind[]): Standings {
  const wanted = new Set<Kind>([...kinds, "entry-withdrawn"]);
  const entries = new Map<EntryId, KnownEntry>();
  const corrections: Corrections = createCorrections(
    (id) => entries.get(id),
    (by, target) =>
      mayCorrect(standingOf(state, by.author), standingOf(state, target.author), by.author === target.author),
  );
  const found = new Map<Kind, KnownEntry[]>();
  for (const { entry, origin } of counted.of?.(wanted) ?? counted) {
    if (origin !== state.book || !wanted.has(entry.kind)) continue;
    entries.set(entry.id, entry);
    corrections.add(entry, replacedBy(entry));
    const list = found.get(entry.kind);
    if (list === undefined) found.set(entry.kind, [entry]);
    else list.push(entry);
  }
  return <K extends Kind>(kind: K) => {
    const all = (found.get(kind) ?? []) as EntryOf<K>[];
    return all.filter(({ id }) => corrections.stands(id)).sort((a, b) => byCodeUnits(a.id, b.id));
  };
}

function standingOf({ devices }: BookState, author: KeyId): Standing | undefined {
  const device = devices.get(author);
  return device === undefined ? undefined : asStanding(device);
}

/** A club's root in a league shows as a root with a club. */
const asStanding = ({ device, role, club, admittedBy }: Device): Standing => ({
  key: device,
  office: role === "root" && club !== null ? "club" : role,
  club,
  admittedBy,
  cut: Infinity,
});

/** The club an author writes for; null for the league's own devices. Undefined for one that is not admitted. */
export const clubOf = ({ devices }: BookState, author: KeyId): KeyId | null | undefined => devices.get(author)?.club;

/** The id a person is known by, for any of the person's ids. */
export function personIn({ players }: BookState): (id: PlayerId) => PlayerId {
  const known = new Map<PlayerId, PlayerId>();
  for (const { player, alsoKnownAs } of players.values()) for (const other of alsoKnownAs) known.set(other, player);
  return (id) => known.get(id) ?? id;
}
