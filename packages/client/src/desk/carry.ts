/**
 * What goes between a device's books by itself, decided from their states alone, so that deciding twice carries nothing twice.
 *
 * Into the club's book: what a league's book says of the club's own players. A card is folded from the home club's book and nothing
 * else, so that every device of the club has the same card whether or not it is in the league; the copy keeps its original
 * signature. Into the league's book: the handicap of each player the club has entered there, whenever it has changed.
 *
 * Rejected: folding cards over every book a device happens to hold (two devices of one club would show different cards).
 *
 * SPEC: MA.
 */
import type {
  BookState,
  Counted,
  Day,
  Draft,
  EntryId,
  EntryOf,
  KeyId,
  KnownEntry,
  MatchKey,
  PlayerId,
  PublicKey,
} from "@sward/core";
import { byCodeUnits, handicapInForce } from "@sward/core";

export interface ClubSide {
  readonly state: BookState;
  /** Entries the club's book has copies of already. */
  readonly copied: ReadonlySet<EntryId>;
  /** An officer's device: only its copies of rulings and withdrawals count. */
  readonly decides: boolean;
}

export interface LeagueSide {
  readonly state: BookState;
  readonly counted: Iterable<Counted>;
  readonly signed: (id: EntryId) => string | undefined;
  readonly keyOf: (author: KeyId) => PublicKey | undefined;
}

/** Drafts for the club's book: one copy of each league entry that concerns its players and is not there yet, oldest id first. */
export function draftsToCarry(club: ClubSide, league: LeagueSide): Draft[] {
  const drafts: Draft[] = [];
  for (const entry of concerning(club, league)) {
    const jws = league.signed(entry.id);
    const key = league.keyOf(entry.author);
    if (jws === undefined || key === undefined) continue;
    drafts.push({ kind: "entry-carried", body: { from: league.state.book, key, entry: jws } });
  }
  return drafts;
}

function concerning(club: ClubSide, league: LeagueSide): KnownEntry[] {
  const native = new Map<EntryId, KnownEntry>();
  for (const { entry, origin } of league.counted) if (origin === league.state.book) native.set(entry.id, entry);

  // Both sides' reports of a match go, also one that names none of ours: together they say whether it is agreed.
  const keys = new Set<MatchKey>();
  const wanted = new Set<EntryId>();
  for (const match of league.state.matches.values()) {
    if (!match.reports.some(({ facts }) => facts.sides.flat().some(({ player }) => isOurs(player, club.state))))
      continue;
    keys.add(match.key);
    for (const { entry } of match.reports) wanted.add(entry);
  }
  for (const entry of native.values()) {
    if (!club.decides) continue;
    if (entry.kind === "ruling-made" && isAbout(entry, keys, wanted)) wanted.add(entry.id);
    if (entry.kind !== "entry-withdrawn") continue;
    const { withdraws } = entry.body;
    if (club.copied.has(withdraws) || wanted.has(withdraws)) wanted.add(entry.id);
  }
  return [...wanted]
    .filter((id) => !club.copied.has(id) && !league.state.uncounted.has(id))
    .sort(byCodeUnits)
    .flatMap((id) => native.get(id) ?? []);
}

/** A match's identity follows the links of its players, an accepted report's id does not. */
const isAbout = (
  { body }: EntryOf<"ruling-made">,
  keys: ReadonlySet<MatchKey>,
  reports: ReadonlySet<EntryId>,
): boolean => (body.accepts === null ? keys.has(body.match as MatchKey) : reports.has(body.accepts));

function isOurs(player: PlayerId, club: BookState): boolean {
  const standing = club.players.get(player)?.standing;
  return standing === "member" || standing === "left";
}

/** Drafts for the league's book: our entered players whose stated handicap is not the one in force today. */
export function draftsToState(club: BookState, league: BookState, today: Day): Draft[] {
  const drafts: Draft[] = [];
  for (const { player, home } of league.players.values()) {
    const card = club.cards.get(player);
    if (home?.book !== club.book || card === undefined) continue;
    const { handicap } = handicapInForce(card, today);
    const stated = league.stated.get(player);
    if (stated?.handicap === handicap) continue;
    drafts.push({ kind: "handicap-stated", body: { player, handicap, index: card.index, on: today } });
  }
  return drafts;
}
