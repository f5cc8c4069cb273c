/**
 * Whether these players have a match on this day already. A second one the same afternoon is common, and so is writing one match
 * down twice; only a person can tell which it is, so the screen asks before it saves. Matches of any play and length are shown,
 * since the slip may be there; one that came from a league is shown too, and that one never needs entering again here.
 */
import type { BookState, EntryId, Match, MatchFacts, MatchKey, MatchReported, PlayerId } from "@sward/core";
import { byCodeUnits, byNumber, matchFacts, matchKey } from "@sward/core";

export interface SameDayMatch {
  readonly match: Match;
  /** Also of the same play and length and not of a league: by its identity the draft could be this very match. */
  readonly alike: boolean;
  /** What it says, of the reports the first. */
  readonly facts: MatchFacts;
}

interface Found {
  readonly asked: string;
  readonly matches: readonly SameDayMatch[];
}

/** What was asked last of a state, which never changes: the form asks while it is typed, and again when it is saved. */
const foundIn = new WeakMap<object, Found>();

/** Matches of the same players, side against side, on the same day; in order of their number. */
export function sameDayMatches(
  state: Pick<BookState, "matches">,
  body: MatchReported,
  replaces: EntryId | null,
): readonly SameDayMatch[] {
  const wanted = matchFacts(body, (id) => id);
  const asked = [body.date, body.play, body.format, replaces, pairingOf(wanted)].join(" ");
  const known = foundIn.get(state);
  if (known?.asked === asked) return known.matches;
  const matches = lookFor(state, body, { pairing: pairingOf(wanted), replaces });
  foundIn.set(state, { asked, matches });
  return matches;
}

interface Wanted {
  readonly pairing: string;
  readonly replaces: EntryId | null;
}

function lookFor(
  state: Pick<BookState, "matches">,
  body: MatchReported,
  { pairing, replaces }: Wanted,
): readonly SameDayMatch[] {
  const found: SameDayMatch[] = [];
  for (const match of state.matches.values()) {
    // What nobody disputes or has ruled on is of the day of its reports; a record of ten years is not read for each letter typed.
    if (match.facts !== null && match.facts.date !== body.date && match.ruling === null) continue;
    const reports = match.reports.filter(({ entry }) => entry !== replaces);
    const facts = reports[0]?.facts;
    if (facts === undefined || facts.date !== body.date || pairingOf(facts) !== pairing) continue;
    const alike = match.slot === null && facts.play === body.play && facts.format === body.format;
    found.push({ match, alike, facts });
  }
  return found.sort((a, b) => byNumber(a.match.n, b.match.n) || byCodeUnits(a.match.key, b.match.key));
}

/** The lowest number that no other match of this play and length between these players has on the day. */
export function nextNumber(state: Pick<BookState, "matches">, body: MatchReported, replaces: EntryId | null): number {
  const own = replaces === null ? undefined : reportedIn(state, replaces);
  // A correction that leaves the identity alone stays the match it was, whoever else reported it.
  if (own !== undefined && keyWith(body, own.n) === own.key) return own.n;
  let n = 1;
  while (isTaken(state, keyWith(body, n), replaces)) n += 1;
  return n;
}

/** The match an entry reports, if it stands. */
export function reportedIn({ matches }: Pick<BookState, "matches">, entry: EntryId): Match | undefined {
  for (const match of matches.values()) if (match.reports.some((report) => report.entry === entry)) return match;
  return undefined;
}

const keyWith = (body: MatchReported, n: number): MatchKey => matchKey({ ...body, n }, (id) => id);

function isTaken({ matches }: Pick<BookState, "matches">, key: MatchKey, replaces: EntryId | null): boolean {
  return matches.get(key)?.reports.some(({ entry }) => entry !== replaces) ?? false;
}

const pairingOf = ({ sides }: MatchFacts): string =>
  sides
    .map((side) =>
      side
        .map(({ player }: { readonly player: PlayerId }) => player)
        .sort(byCodeUnits)
        .join("+"),
    )
    .sort(byCodeUnits)
    .join("v");
