/**
 * What a book comes to: everything a screen or a command reads, recomputed from entries alone. Plain data, integers and
 * strings, no names (those are in the roster, which core never sees). Two devices that hold the same entries hold equal states,
 * byte for byte in canonical JSON (SPEC RP). The maps are the ledger's own and go on changing as entries arrive; copying 30,000
 * matches for each saved one was rejected.
 */
import type { BookId, EntryId, EventId, FixtureId, KeyId, MatchKey, PlayerId } from "./ids.ts";
import type { Day, Format, Game, HandicapSet, Lineup, Occasion, Play, Role } from "./ledger/kinds.ts";

export interface Device {
  readonly device: KeyId;
  readonly role: Role | "root";
  /** League books: the club whose root admitted it. */
  readonly club: KeyId | null;
  readonly admittedBy: KeyId;
  /** Number of entries of this device that count. */
  readonly counted: number;
  readonly barred: boolean;
  /** Two entries with one place in the chain were seen; it counts up to before them. */
  readonly forkedAt: number | null;
}

export interface Player {
  readonly player: PlayerId;
  readonly standing: "member" | "visitor" | "left";
  readonly home: { readonly book?: BookId; readonly club?: string } | null;
  /** Other ids linked to this person, sorted. */
  readonly alsoKnownAs: readonly PlayerId[];
}

/** Why a card's line stands as it does: what moved the index, or why nothing did. */
export type LineReason =
  | "start"
  | "discretionary"
  | "transfer"
  | "handicap-singles"
  | "handicap-doubles"
  | "level-singles"
  | "level-doubles"
  | "doubles-do-not-count"
  | "occasion-does-not-count"
  | "excluded-beforehand"
  | "abandoned"
  | "walkover"
  | "drawn"
  | "table-not-readable"
  | "handicap-not-in-table"
  | "before-start";

/** A change of handicap that took effect after a line. */
export interface HandicapMove {
  readonly from: number;
  readonly to: number;
  /** The trigger point reached. */
  readonly trigger: number;
  /** In force from the day after this one; null when in force at once. */
  readonly after: Day | null;
}

export interface OffNotice {
  /** The handicap the player was played off. */
  readonly off: number;
  /** The handicap the record gives for that day. */
  readonly record: number;
}

export interface GameLine {
  readonly line: "game";
  readonly date: Day;
  readonly match: MatchKey;
  /** Which game of the match, from 1. */
  readonly game: number;
  readonly play: Play;
  readonly format: Format;
  readonly occasion: Occasion;
  readonly event: EventId | null;
  readonly partner: Lineup | null;
  readonly opponents: readonly Lineup[];
  readonly off: number;
  /** Own points first. */
  readonly score: readonly [number, number];
  readonly points: number;
  readonly reason: LineReason;
  readonly rules: string;
  readonly index: number;
  /** In force after this line. */
  readonly handicap: number;
  readonly moved: HandicapMove | null;
  readonly notice: OffNotice | null;
  /** Both sides, or two people, reported it alike. */
  readonly confirmed: boolean;
}

export interface SetLine {
  readonly line: "set";
  readonly date: Day;
  readonly entry: EntryId;
  readonly by: KeyId;
  readonly basis: HandicapSet["basis"];
  readonly why: string;
  readonly reason: LineReason;
  readonly index: number;
  readonly handicap: number;
  readonly moved: { readonly from: number | null; readonly to: number };
}

export type CardLine = GameLine | SetLine;

export interface Signature {
  readonly entry: EntryId;
  readonly by: KeyId;
  readonly at: string;
  readonly upto: Day;
  readonly handicap: number;
  readonly index: number;
  readonly lines: number;
  /** `holds`: the card up to that day is still what was signed. `touched`: something before it changed since. */
  readonly standing: "holds" | "touched";
  /** First line (from 0) that differs in index or handicap, or was added; null when it holds. */
  readonly firstTouched: number | null;
}

export interface Card {
  readonly player: PlayerId;
  readonly handicap: number;
  readonly index: number;
  readonly lines: readonly CardLine[];
  readonly signatures: readonly Signature[];
  /** Positions in `lines` of handicap changes no standing signature covers. */
  readonly unsigned: readonly number[];
}

/** The facts of a match two reports must agree on, sides in canonical order. */
export interface MatchFacts {
  readonly date: Day;
  readonly occasion: Occasion;
  readonly play: Play;
  readonly format: Format;
  readonly sides: readonly [readonly Lineup[], readonly Lineup[]];
  readonly games: readonly Game[];
  readonly excluded: boolean;
}

export type FactName = keyof MatchFacts;

export interface Report {
  readonly entry: EntryId;
  readonly by: KeyId;
  /** League books and carried entries: the book it was first written in. */
  readonly origin: BookId;
  readonly at: string;
  readonly facts: MatchFacts;
}

export type MatchStatus = "confirmed" | "one-report" | "waiting" | "held" | "ruled" | "void";

export interface Match {
  readonly key: MatchKey;
  readonly status: MatchStatus;
  /** The facts that count; null while held, waiting or void. */
  readonly facts: MatchFacts | null;
  readonly event: EventId | null;
  readonly slot: { readonly fixture: FixtureId; readonly number: number } | null;
  readonly n: number;
  readonly start: string | null;
  /** Standing reports, one per author's account, sorted by entry id. */
  readonly reports: readonly Report[];
  /** Facts in which the standing reports differ. */
  readonly differs: readonly FactName[];
  readonly ruling: EntryId | null;
}

export interface Fixture {
  readonly fixture: FixtureId;
  readonly date: Day;
  readonly home: KeyId;
  readonly away: KeyId;
  readonly slots: readonly {
    readonly discipline: "singles" | "doubles";
    readonly play: Play;
    readonly format: Format;
  }[];
  /** Match of each slot, null where nothing was reported. */
  readonly matches: readonly (MatchKey | null)[];
}

export interface StatedHandicap {
  /** The statement itself: a club that says otherwise for the same day withdraws it. */
  readonly entry: EntryId;
  readonly player: PlayerId;
  readonly handicap: number;
  readonly index: number;
  readonly on: Day;
  readonly by: KeyId;
  readonly club: KeyId | null;
}

/** Something a handicapper has to look at. Ordered by kind, then by date and id. */
export type Question =
  | { readonly about: "disputed-match"; readonly match: MatchKey }
  | { readonly about: "unsigned-change"; readonly player: PlayerId; readonly line: number; readonly date: Day }
  | {
      readonly about: "touched-signature";
      readonly player: PlayerId;
      readonly signature: EntryId;
      readonly line: number;
    }
  | { readonly about: "played-off"; readonly player: PlayerId; readonly match: MatchKey; readonly line: number }
  | {
      readonly about: "rival-corrections";
      readonly of: EntryId;
      readonly counts: EntryId;
      readonly others: readonly EntryId[];
    }
  | { readonly about: "one-report"; readonly match: MatchKey }
  | { readonly about: "forked-device"; readonly device: KeyId; readonly seq: number }
  | { readonly about: "no-handicap"; readonly player: PlayerId }
  | { readonly about: "unknown-rules"; readonly rules: string };

/** One time that a record of a player was taken in. */
export interface RecordTaking {
  readonly entry: EntryId;
  readonly by: KeyId;
  readonly at: string;
  readonly cutover: Day;
  readonly entries: number;
  readonly digest: EntryId;
  /** Who vouched for the file's being complete. */
  readonly vouchedBy: KeyId;
  /** Its parts are all here and hold what was vouched for. Until then it changes nothing. */
  readonly complete: boolean;
  /** `unconfirmed`: who vouched is not admitted in the old book, or was barred there before something he wrote in it. */
  readonly standing: "confirmed" | "unconfirmed";
}

/** What one other club says of a player who came from there. */
export interface TakenRecord {
  readonly from: BookId;
  /** Its name as its opening gives it; empty while no taking is complete. */
  readonly name: string;
  readonly cutover: Day;
  /** The card goes on from this one: of several clubs' records, the one with the latest cut-over. */
  readonly inUse: boolean;
  readonly takings: readonly RecordTaking[];
  readonly signers: readonly {
    readonly key: KeyId;
    readonly role: Device["role"];
    readonly admittedBy: KeyId;
    readonly counted: number;
    readonly barred: boolean;
  }[];
  /** Entries in it that their signers wrote beyond a bar: shown, and not counted. */
  readonly beyond: readonly { readonly entry: EntryId; readonly by: KeyId }[];
}

export type Uncounted =
  | "not-understood"
  | "waiting-for-earlier"
  | "forked"
  | "after-bar"
  | "not-admitted"
  | "role-may-not"
  | "may-not-correct"
  | "wrong-book"
  | "carried-copy-invalid"
  | "cannot-be"
  | "second-opening"
  | "not-this-kind-of-book";

export interface BookState {
  readonly book: BookId;
  /** Null until the opening entry is held. */
  readonly as: "club" | "league" | null;
  readonly name: string;
  readonly entries: number;
  readonly unconfirmed: "counts" | "waits";
  /** Ascending by date. */
  readonly rules: readonly { readonly rules: string; readonly from: Day }[];
  readonly clubs: ReadonlyMap<KeyId, { readonly club: KeyId; readonly name: string }>;
  readonly devices: ReadonlyMap<KeyId, Device>;
  readonly players: ReadonlyMap<PlayerId, Player>;
  readonly events: ReadonlyMap<
    EventId,
    { readonly title: string; readonly occasion: Occasion; readonly from: Day; readonly to: Day }
  >;
  /** Cards of this club's own members, and of those who left. */
  readonly cards: ReadonlyMap<PlayerId, Card>;
  readonly matches: ReadonlyMap<MatchKey, Match>;
  readonly fixtures: ReadonlyMap<FixtureId, Fixture>;
  readonly stated: ReadonlyMap<PlayerId, StatedHandicap>;
  /** Records of players who came from other clubs, by player. */
  readonly records: ReadonlyMap<PlayerId, readonly TakenRecord[]>;
  readonly questions: readonly Question[];
  readonly uncounted: ReadonlyMap<EntryId, Uncounted>;
}
