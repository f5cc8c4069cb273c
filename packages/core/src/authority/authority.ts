/**
 * Which devices may write in a book, and how far along its chain each one counts. The answer follows from the set of entries
 * alone: no clock, no order of arrival. The root key opens the book and cannot be barred; only the root (in a league, also a
 * club's own root, for its devices) bars a handicapper; so offices can be settled in layers and there is no cycle to resolve:
 *
 *     root  ->  clubs (league books)  ->  handicappers (least fixed point of admissions)  ->  recorders and readers
 *
 * A bar names the last entry that counts. Everything after it is out, whatever its clock says; of several bars the lowest cut
 * holds. Rejected: counting by the author's own time (a stolen key can back-date) and seniority among handicappers (an old
 * stolen device would win).
 *
 * SPEC: AU.
 */
import type { BookId, KeyId } from "../ids.ts";
import type { Chain } from "../ledger/chain.ts";
import { keyIdOf } from "../ledger/encoding.ts";
import type { Entry, EntryOf } from "../ledger/entry.ts";
import type { Kind, Role } from "../ledger/kinds.ts";
import { byCodeUnits } from "../order.ts";
import type { Office } from "./permissions.ts";
import { mayMake } from "./permissions.ts";

export interface Standing {
  readonly key: KeyId;
  readonly office: Office;
  /** League books: the club whose root admitted the device, or which the key is the root of. */
  readonly club: KeyId | null;
  readonly admittedBy: KeyId;
  /** Number of entries from the start of the chain that may count; Infinity when never barred. */
  readonly cut: number;
}

export interface Authority {
  readonly as: "club" | "league" | null;
  readonly opening: EntryOf<"book-opened"> | null;
  readonly standings: ReadonlyMap<KeyId, Standing>;
  readonly clubs: ReadonlyMap<KeyId, { readonly club: KeyId; readonly name: string }>;
}

/** Entries of these kinds change who may write: after one of them everything is judged anew. */
export const decidesAuthority: ReadonlySet<string> = new Set<Kind>([
  "book-opened",
  "club-admitted",
  "device-admitted",
  "device-barred",
]);

const rank: Readonly<Record<Role, number>> = { handicapper: 3, recorder: 2, reader: 1 };

export function settleAuthority(book: BookId, chains: ReadonlyMap<KeyId, Chain>): Authority {
  const rootKey = book as string as KeyId;
  const root = chains.get(rootKey);
  const opening = root?.sound[0];
  if (root === undefined || !isKind(opening, "book-opened") || keyIdOf(opening.body.root) !== rootKey) {
    return { as: null, opening: null, standings: new Map(), clubs: new Map() };
  }
  const as = opening.body.as;
  const standings = new Map<KeyId, Standing>();
  const clubs = new Map<KeyId, { club: KeyId; name: string }>();
  standings.set(rootKey, { key: rootKey, office: "root", club: null, admittedBy: rootKey, cut: Infinity });

  const countedOf = (key: KeyId, cut: number): readonly Entry[] => (chains.get(key)?.sound ?? []).slice(0, cut);

  const rootCuts = barsIn(root.sound, chains);
  if (as === "league") {
    for (const entry of root.sound) {
      if (!isKind(entry, "club-admitted")) continue;
      const key = keyIdOf(entry.body.club);
      if (clubs.has(key) || key === rootKey) continue;
      clubs.set(key, { club: key, name: entry.body.name });
      standings.set(key, { key, office: "club", club: key, admittedBy: rootKey, cut: cutOf([rootCuts], key) });
    }
  }

  const clubCuts = new Map<KeyId, Cuts>();
  for (const key of clubs.keys()) clubCuts.set(key, barsIn(countedOf(key, standings.get(key)?.cut ?? 0), chains));

  // Admissions spread from those who already stand; what one more standing adds never takes another away.
  const admissions = new Map<KeyId, Admission[]>();
  const waiting: Standing[] = [...standings.values()];
  for (let from = waiting.pop(); from !== undefined; from = waiting.pop()) {
    for (const entry of countedOf(from.key, from.cut)) {
      if (!isKind(entry, "device-admitted")) continue;
      const key = keyIdOf(entry.body.device);
      const held = standings.get(key);
      if (held?.office === "root" || held?.office === "club") continue;
      const list = admissions.get(key) ?? [];
      list.push({ role: entry.body.role, by: from.key, club: from.club });
      admissions.set(key, list);
      if (entry.body.role !== "handicapper" || held !== undefined) continue;
      const club = best(list).club;
      const own = club === null ? undefined : clubCuts.get(club);
      const cut = cutOf(own === undefined ? [rootCuts] : [rootCuts, own], key);
      const standing: Standing = { key, office: "handicapper", club, admittedBy: from.key, cut };
      standings.set(key, standing);
      waiting.push(standing);
    }
  }

  const officers = [...standings.values()];
  const officerCuts = officers.map((officer) => ({
    officer,
    cuts: barsIn(countedOf(officer.key, officer.cut), chains),
  }));
  for (const [key, list] of admissions) {
    const { role, by, club } = best(list);
    if (role === "handicapper") {
      const held = standings.get(key);
      if (held !== undefined) standings.set(key, { ...held, admittedBy: by, club });
      continue;
    }
    const binding = officerCuts.filter(({ officer }) => officer.club === null || officer.club === club);
    const cut = cutOf(
      binding.map(({ cuts }) => cuts),
      key,
    );
    standings.set(key, { key, office: role, club, admittedBy: by, cut });
  }
  return { as, opening, standings, clubs };
}

/** Whether one sound, understood entry counts, given who its author is. */
export function judgeEntry(
  entry: Extract<Entry, { understood: true }>,
  authority: Authority,
): "yes" | "not-admitted" | "after-bar" | "role-may-not" | "not-this-kind-of-book" | "second-opening" {
  const standing = authority.standings.get(entry.author);
  if (authority.as === null || standing === undefined) return "not-admitted";
  if (entry.seq >= standing.cut) return "after-bar";
  if (entry.kind === "book-opened" && entry.id !== authority.opening?.id) return "second-opening";
  return mayMake(entry, standing.office, authority.as, standing.club !== null);
}

interface Admission {
  readonly role: Role;
  readonly by: KeyId;
  readonly club: KeyId | null;
}

type Cuts = ReadonlyMap<KeyId, number>;

/** Of several admissions the highest role holds; among equals the lowest admitting key, so that order does not matter. */
function best(list: readonly Admission[]): Admission {
  const [first, ...others] = [...list].sort((a, b) => rank[b.role] - rank[a.role] || byCodeUnits(a.by, b.by));
  if (first === undefined) throw new Error("an admitted device has an admission");
  return others.length === 0 ? first : { ...first };
}

function barsIn(entries: readonly Entry[], chains: ReadonlyMap<KeyId, Chain>): Cuts {
  const cuts = new Map<KeyId, number>();
  for (const entry of entries) {
    if (!isKind(entry, "device-barred")) continue;
    const { device, last } = entry.body;
    cuts.set(device, Math.min(cuts.get(device) ?? Infinity, last === null ? 0 : reach(chains.get(device), last)));
  }
  return cuts;
}

/** How far the chain counts when `last` is its last accepted entry: not onto a branch the bar did not name. */
function reach(chain: Chain | undefined, last: { readonly seq: number; readonly id: string }): number {
  const seen = chain?.sound[last.seq];
  return seen !== undefined && seen.id !== last.id ? last.seq : last.seq + 1;
}

function cutOf(layers: readonly Cuts[], key: KeyId): number {
  let cut = Infinity;
  for (const layer of layers) cut = Math.min(cut, layer.get(key) ?? Infinity);
  return cut;
}

function isKind<K extends Kind>(entry: Entry | undefined, kind: K): entry is EntryOf<K> {
  return entry?.understood === true && entry.kind === kind;
}
