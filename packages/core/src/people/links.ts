/**
 * One person under several ids: a visitor written down by name at another club, later found to be that club's member. A link is
 * an entry like any other, so it can be withdrawn and everything is as before. Linked ids are one component; the person's id is
 * the one every link leads to, or, when links disagree or run in a ring, the lowest id, which no order of arrival can change.
 *
 * Rejected: rewriting the old entries to the new id (they are signed, and a wrong link could never be undone).
 *
 * SPEC: PE.
 */
import type { PlayerId } from "../ids.ts";
import { byCodeUnits } from "../order.ts";

export interface Link {
  readonly player: PlayerId;
  readonly to: PlayerId;
}

export interface Links {
  readonly resolve: (id: PlayerId) => PlayerId;
  /** The other ids of the person, sorted. */
  readonly othersOf: (id: PlayerId) => readonly PlayerId[];
}

/** Nobody is known under another id, as in most books. */
export const asWritten = (id: PlayerId): PlayerId => id;

const unlinked: Links = { resolve: asWritten, othersOf: () => [] };

export function settleLinks(links: readonly Link[]): Links {
  if (links.length === 0) return unlinked;
  const neighbours = new Map<PlayerId, Set<PlayerId>>();
  const leaving = new Set<PlayerId>();
  for (const { player, to } of links) {
    if (player === to) continue;
    leaving.add(player);
    join(neighbours, player, to);
    join(neighbours, to, player);
  }
  const personOf = new Map<PlayerId, PlayerId>();
  const members = new Map<PlayerId, PlayerId[]>();
  for (const start of [...neighbours.keys()].sort(byCodeUnits)) {
    if (personOf.has(start)) continue;
    const component = reachable(start, neighbours).sort(byCodeUnits);
    const ends = component.filter((id) => !leaving.has(id));
    const person = ends[0] !== undefined && ends.length === 1 ? ends[0] : (component[0] ?? start);
    for (const id of component) personOf.set(id, person);
    members.set(person, component);
  }
  const resolve = (id: PlayerId): PlayerId => personOf.get(id) ?? id;
  return { resolve, othersOf: (id) => (members.get(resolve(id)) ?? []).filter((other) => other !== resolve(id)) };
}

function join(map: Map<PlayerId, Set<PlayerId>>, from: PlayerId, to: PlayerId): void {
  const set = map.get(from);
  if (set === undefined) map.set(from, new Set([to]));
  else set.add(to);
}

function reachable(start: PlayerId, neighbours: ReadonlyMap<PlayerId, ReadonlySet<PlayerId>>): PlayerId[] {
  const seen = new Set([start]);
  for (const id of seen) for (const next of neighbours.get(id) ?? []) seen.add(next);
  return [...seen];
}
