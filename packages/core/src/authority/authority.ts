/**
 * Which devices may write in a book, and how far along its chain each one counts. The answer follows from the set of entries
 * alone: no clock, no order of arrival. The root key opens the book and cannot be barred; only the root (in a league, also a
 * club's own root, for its devices) bars a handicapper; so offices can be settled in layers and there is no cycle to resolve:
 *
 *     root  ->  clubs (league books)  ->  handicappers (least fixed point of admissions)  ->  recorders  ->  readers
 *
 * A bar names the last entry that counts. Everything after it is out, whatever its clock says; of several bars the lowest cut
 * holds. Rejected: counting by the author's own time (a stolen key can back-date) and seniority among handicappers (an old
 * stolen device would win).
 *
 * In a league each layer is settled for the league's own devices first and then for each club's, in the order of the clubs'
 * keys, and a device stands once: it speaks for one club, whoever else admits it.
 *
 * SPEC: AU.
 */
import type { BookId, KeyId } from "../ids.ts";
import type { Chain } from "../ledger/chain.ts";
import { soundAt } from "../ledger/chain.ts";
import { keyIdOf } from "../ledger/encoding.ts";
import type { Entry, EntryOf, KnownEntry } from "../ledger/entry.ts";
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
  /** The first seq that does not count any more; Infinity when never barred. */
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

const layers: readonly Role[] = ["handicapper", "recorder", "reader"];

export function settleAuthority(book: BookId, chains: ReadonlyMap<KeyId, Chain>): Authority {
  const rootKey = book as string as KeyId;
  const rootEntries = chains.get(rootKey)?.sound ?? [];
  const [opening] = rootEntries;
  if (!isKind(opening, "book-opened") || opening.seq !== 0 || keyIdOf(opening.body.root) !== rootKey) {
    return { as: null, opening: null, standings: new Map(), clubs: new Map() };
  }
  const as = opening.body.as;
  const standings = new Map<KeyId, Standing>();
  const clubs = new Map<KeyId, { club: KeyId; name: string }>();
  standings.set(rootKey, { key: rootKey, office: "root", club: null, admittedBy: rootKey, cut: Infinity });

  // The few entries of a chain that decide anything, found once: a chain of a season has thousands that do not.
  const deciding = new Map<KeyId, readonly Entry[]>();
  for (const [key, { sound }] of chains)
    deciding.set(
      key,
      sound.filter((entry) => decidesAuthority.has(entry.kind)),
    );
  const countedOf = ({ key, cut }: Standing): readonly Entry[] =>
    (deciding.get(key) ?? []).filter((entry) => entry.seq < cut);
  const barsOf = (officers: readonly Standing[]): Bars => barsIn(officers.flatMap(countedOf), chains);

  const rootBars = barsIn(rootEntries, chains);
  for (const entry of as === "league" ? rootEntries : []) {
    if (!isKind(entry, "club-admitted")) continue;
    const key = keyIdOf(entry.body.club);
    if (standings.has(key)) continue;
    clubs.set(key, { club: key, name: entry.body.name });
    standings.set(key, { key, office: "club", club: key, admittedBy: rootKey, cut: cutOf([rootBars], key) });
  }

  // Null stands for the book's own devices: in a club's book, all of them.
  const domains = [null, ...[...clubs.keys()].sort(byCodeUnits)];
  for (const role of layers) {
    for (const club of domains) {
      const officers = [...standings.values()].filter((one) => one.club === club && isOfficer(one.office));
      const bars = role === "handicapper" ? [rootBars, barsOf(officers)] : [officerBars(null), officerBars(club)];
      // Only handicappers admit further: what one more standing adds never takes another away.
      for (const from of officers) {
        for (const entry of countedOf(from)) {
          if (!isKind(entry, "device-admitted") || entry.body.role !== role) continue;
          const key = keyIdOf(entry.body.device);
          if (standings.has(key)) continue;
          const standing: Standing = { key, office: role, club, admittedBy: from.key, cut: cutOf(bars, key) };
          standings.set(key, standing);
          if (role === "handicapper") officers.push(standing);
        }
      }
    }
  }
  return { as, opening, standings, clubs };

  function officerBars(club: KeyId | null): Bars {
    return barsOf([...standings.values()].filter((one) => one.club === club && isOfficer(one.office)));
  }
}

/** Whether one sound, understood entry counts, given who its author is. */
export function judgeEntry(
  entry: KnownEntry,
  authority: Authority,
): "yes" | "not-admitted" | "after-bar" | "role-may-not" | "not-this-kind-of-book" | "second-opening" {
  const standing = authority.standings.get(entry.author);
  if (authority.as === null || standing === undefined) return "not-admitted";
  if (entry.seq >= standing.cut) return "after-bar";
  if (entry.kind === "book-opened" && entry.id !== authority.opening?.id) return "second-opening";
  if (entry.kind === "device-barred" && !mayBar(standing, authority.standings.get(entry.body.device))) {
    return "role-may-not";
  }
  return mayMake(entry, standing.office, authority.as, standing.club !== null);
}

export const isOfficer = (office: Office): boolean => office !== "recorder" && office !== "reader";

/** A bar of somebody not admitted holds should he be admitted later. */
function mayBar(by: Standing, of: Standing | undefined): boolean {
  if (of === undefined) return true;
  if (by.office === "root") return of.office !== "root";
  const own = by.club === null || by.club === of.club;
  return own && (!isOfficer(of.office) || (by.office === "club" && of.office === "handicapper"));
}

/** Of each barred device, the first seq that does not count. */
type Bars = ReadonlyMap<KeyId, number>;

function barsIn(entries: readonly Entry[], chains: ReadonlyMap<KeyId, Chain>): Bars {
  const bars = new Map<KeyId, number>();
  for (const entry of entries) {
    if (!isKind(entry, "device-barred")) continue;
    const { device, last } = entry.body;
    bars.set(device, Math.min(bars.get(device) ?? Infinity, last === null ? 0 : reach(chains.get(device), last)));
  }
  return bars;
}

/** How far the chain counts when `last` is its last accepted entry: not onto a branch the bar did not name. */
function reach(chain: Chain | undefined, last: { readonly seq: number; readonly id: string }): number {
  const seen = chain === undefined ? undefined : soundAt(chain, last.seq);
  return seen !== undefined && seen.id !== last.id ? last.seq : last.seq + 1;
}

const cutOf = (layered: readonly Bars[], key: KeyId): number =>
  Math.min(...layered.map((bars) => bars.get(key) ?? Infinity));

function isKind<K extends Kind>(entry: Entry | undefined, kind: K): entry is EntryOf<K> {
  return entry?.understood === true && entry.kind === kind;
}
