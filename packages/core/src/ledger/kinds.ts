/**
 * The kinds of entry and the shape of each body, at version 1. These shapes are final: a signed entry is kept for ever and
 * must mean tomorrow what it means today. So a body is strict (an unknown field makes the entry one "not understood" by this
 * version: kept and passed on, never counted and never dropped), all numbers are integers, and no body holds a name.
 *
 * Rejected: one "set anything" kind with a patch inside (nobody could say what a signature covered) and a kind per game
 * rather than per match (two games of a best-of-three would not be held together when one report is disputed).
 */
import * as z from "zod/mini";
import { BookId, EntryId, EventId, FixtureId, KeyId, PlayerId, PublicKey } from "../ids.ts";
import { later, madeLater } from "../made-later.ts";

const int = (min: number, max: number) => z.int().check(z.minimum(min), z.maximum(max));
const text = (max: number) => z.string().check(z.minLength(1), z.maxLength(max));

/** A calendar day in the club's own place, as people wrote it on the card; no time zone is ever applied to it. */
export const Day = later(() => z.iso.date());
export type Day = string;

/** Time of day a game began, as a person stated it: decides order inside a day and nothing else. */
export const StartTime = later(() => z.string().check(z.regex(/^([01][0-9]|2[0-3]):[0-5][0-9]$/)));

export const Handicap = later(() => int(-30, 60));
export const Index = later(() => int(-10_000, 20_000));

export const Role = later(() => z.enum(["handicapper", "recorder", "reader"]));
export type Role = z.infer<ReturnType<typeof Role>>;

/** Handicap play gives extra strokes; level play gives none. */
export const Play = later(() => z.enum(["handicap", "level"]));
export type Play = z.infer<ReturnType<typeof Play>>;

/** Points in a game: first to 4, 7 or 10 hoops. */
export const Format = later(() => z.union([z.literal(7), z.literal(13), z.literal(19)]));
export type Format = z.infer<ReturnType<typeof Format>>;

/** What a match can be played for, in the order in which people are asked. Never in another: rows of cards hold an occasion's place. */
export const occasions = [
  "calendar-event",
  "league",
  "inter-club",
  "inter-club-friendly",
  "club-competition",
  "club-friendly",
  "ad-hoc",
] as const;

/** What a match was played for: with the rule set it decides whether the index moves. */
export const Occasion = later(() => z.enum(occasions));
export type Occasion = z.infer<ReturnType<typeof Occasion>>;

/** `off`: the handicap the player was played off in this match, frozen here and used for the exchange of points. */
const lineup = () => z.strictObject({ player: PlayerId(), off: Handicap() });
export type Lineup = z.infer<ReturnType<typeof lineup>>;

const given = () => z.array(int(0, 60)).check(z.minLength(1), z.maxLength(2));

const side = () => z.array(lineup()).check(z.minLength(1), z.maxLength(2));

const sideOf = () => z.union([z.literal(0), z.literal(1)]);

/** An extra stroke taken: by which side's which player (both from 0), while which hoop (from 1) was being played for. */
const strokeTaken = () => z.strictObject({ side: sideOf(), seat: sideOf(), hoop: int(1, 40) });
export type StrokeTaken = z.infer<ReturnType<typeof strokeTaken>>;

/**
 * One game's score, in the order of the match's sides. `ended` is absent when the game was played out. `hoops` (which side scored each
 * hoop, in order) and `taken` are what a score pad kept: for looking back on, nothing that two reports must agree in.
 */
const game = () =>
  z.strictObject({
    score: z.tuple([int(0, 19), int(0, 19)]),
    ended: z.optional(z.enum(["time", "abandoned", "walkover"])),
    hoops: z.optional(z.array(sideOf()).check(z.maxLength(40))),
    taken: z.optional(z.array(strokeTaken()).check(z.maxLength(200))),
  });
export type Game = z.infer<ReturnType<typeof game>>;

const matchReported = () =>
  z.strictObject({
    date: Day(),
    start: z.optional(StartTime()),
    occasion: Occasion(),
    event: z.optional(EventId()),
    slot: z.optional(z.strictObject({ fixture: FixtureId(), number: int(1, 200) })),
    /** Which match of this kind between these players on this day: 1 for the first. */
    n: int(1, 50),
    play: Play(),
    format: Format(),
    sides: z.tuple([side(), side()]),
    games: z.array(game()).check(z.minLength(1), z.maxLength(9)),
    /** Extra strokes each player was given in a game, in the order of `sides`: what a pair chose, where it had a choice. */
    given: z.optional(z.tuple([given(), given()])),
    /** Both clubs agreed before the start that it does not count. */
    excluded: z.optional(z.literal(true)),
    replaces: z.optional(EntryId()),
  });
export type MatchReported = z.infer<ReturnType<typeof matchReported>>;

const handicapSet = () =>
  z.strictObject({
    player: PlayerId(),
    handicap: Handicap(),
    /** Only with basis "initial" or "transfer"; otherwise the index becomes the trigger point of the handicap. */
    index: z.optional(Index()),
    /** In force from the start of this day, before its games. */
    from: Day(),
    basis: z.enum(["initial", "discretionary", "transfer"]),
    reason: text(200),
    replaces: z.optional(EntryId()),
  });
export type HandicapSet = z.infer<ReturnType<typeof handicapSet>>;

/** A handicapper's signature on a card up to and including a day: what the card said, and a digest of its lines. */
const cardSigned = () =>
  z.strictObject({
    player: PlayerId(),
    upto: Day(),
    handicap: Handicap(),
    index: Index(),
    lines: int(0, 1_000_000),
    digest: EntryId(),
    /**
     * Three bytes of each line's own digest, base64url, for the last lines signed (at most 256): not evidence, only to say which
     * line differs when `digest` no longer holds.
     */
    marks: z.string().check(z.regex(/^[A-Za-z0-9_-]*$/), z.maxLength(1024)),
  });
export type CardSigned = z.infer<ReturnType<typeof cardSigned>>;

/** The form of each kind's body. */
export const bodies = madeLater({
  /** First entry of a book, signed by its root key. */
  "book-opened": () => z.strictObject({ root: PublicKey(), as: z.enum(["club", "league"]), name: text(80) }),
  /** League books: a club's root key may admit that club's own devices. */
  "club-admitted": () => z.strictObject({ club: PublicKey(), name: text(80) }),
  "device-admitted": () => z.strictObject({ device: PublicKey(), role: Role() }),
  /** `last`: the last entry of the device that still counts; null when none does. */
  "device-barred": () =>
    z.strictObject({
      device: KeyId(),
      last: z.nullable(z.strictObject({ seq: int(0, 2 ** 40), id: EntryId() })),
    }),
  "rules-adopted": () => z.strictObject({ rules: text(60), from: Day() }),
  /** What a report counts for while only one side has made it. */
  "policy-set": () => z.strictObject({ unconfirmed: z.enum(["counts", "waits"]) }),
  /** `home`: for a visitor, the book of the home club where known; its name where not. */
  "player-joined": () =>
    z.strictObject({
      player: PlayerId(),
      standing: z.enum(["member", "visitor"]),
      home: z.optional(z.union([z.strictObject({ book: BookId() }), z.strictObject({ club: text(80) })])),
    }),
  "player-left": () => z.strictObject({ player: PlayerId(), on: Day(), to: z.optional(BookId()) }),
  /** The two ids are one person; `to` is the one whose record goes on. */
  "player-linked": () => z.strictObject({ player: PlayerId(), to: PlayerId() }),
  "event-opened": () =>
    z.strictObject({
      event: EventId(),
      title: text(80),
      occasion: Occasion(),
      from: Day(),
      to: Day(),
      replaces: z.optional(EntryId()),
    }),
  "match-reported": matchReported,
  "handicap-set": handicapSet,
  "card-signed": cardSigned,
  /** Settles a match whose reports disagree: the report that counts, or null when none does. */
  "ruling-made": () => z.strictObject({ match: text(400), accepts: z.nullable(EntryId()), reason: text(200) }),
  "entry-withdrawn": () => z.strictObject({ withdraws: EntryId(), reason: text(200) }),
  /** An entry of another book with its original signature, and the key that checks it. */
  "entry-carried": () => z.strictObject({ from: BookId(), key: PublicKey(), entry: text(20_000) }),
  /** Entries of another book, with their signatures and the keys that check them: a piece of one player's record. */
  "record-part": () =>
    z.strictObject({
      from: BookId(),
      keys: z.array(PublicKey()).check(z.minLength(1), z.maxLength(50)),
      entries: z.array(text(24_000)).check(z.minLength(1), z.maxLength(200)),
    }),
  /**
   * A player comes from another club, and the record lies in these parts. `entries` and `digest` are those of the manifest, `key`
   * checks it; `player` is known by that id there. Before `cutover` the record says what the card is, from that day on this book.
   */
  "record-taken": () =>
    z.strictObject({
      player: PlayerId(),
      from: BookId(),
      cutover: Day(),
      entries: int(1, 1_000_000),
      digest: EntryId(),
      key: PublicKey(),
      manifest: text(2000),
      parts: z.array(EntryId()).check(z.minLength(1), z.maxLength(400)),
    }),
  /** `home` and `away` are the root key ids of the two clubs. */
  "fixture-set": () =>
    z.strictObject({
      fixture: FixtureId(),
      date: Day(),
      home: KeyId(),
      away: KeyId(),
      slots: z
        .array(z.strictObject({ discipline: z.enum(["singles", "doubles"]), play: Play(), format: Format() }))
        .check(z.minLength(1), z.maxLength(60)),
      replaces: z.optional(EntryId()),
    }),
  /** What a player's home club says the handicap and index are, from a day on. */
  "handicap-stated": () => z.strictObject({ player: PlayerId(), handicap: Handicap(), index: Index(), on: Day() }),
  /**
   * A league's own rules in force from a day. What is inside is read by `league/league-rules.ts`: rules of a later version are kept,
   * and told as not readable, without making the entry one that is not understood.
   */
  "league-rules-set": () =>
    z.strictObject({
      rules: z.record(z.string(), z.unknown()),
      from: Day(),
      replaces: z.optional(EntryId()),
    }),
  /** Who plays for a club in a fixture, in the order of the match sheet, each off the handicap of that day. */
  "lineup-named": () =>
    z.strictObject({
      fixture: FixtureId(),
      club: KeyId(),
      players: z.array(lineup()).check(z.minLength(1), z.maxLength(12)),
      /** Which of them stand in for the club's regular players. */
      reserves: z.optional(z.array(PlayerId()).check(z.maxLength(12))),
      replaces: z.optional(EntryId()),
    }),
  /** What became of a fixture that was not played as it was set. `by`: who conceded. `to`: the new day, where one is agreed. */
  "fixture-marked": () =>
    z.strictObject({
      fixture: FixtureId(),
      as: z.enum(["postponed", "conceded", "void", "rained-off"]),
      by: z.optional(KeyId()),
      to: z.optional(Day()),
      reason: text(200),
      replaces: z.optional(EntryId()),
    }),
  /** Somebody who is not the home club's handicapper thinks that a handicap should change. Moves nothing. */
  "change-proposed": () =>
    z.strictObject({
      player: PlayerId(),
      handicap: Handicap(),
      on: Day(),
      reason: text(200),
      replaces: z.optional(EntryId()),
    }),
  /** The home club's answer; a handicap that changes is set in that club's own book. */
  "change-answered": () => z.strictObject({ proposal: EntryId(), accepts: z.boolean(), reason: text(200) }),
  /**
   * The book goes on under a new secret. `room` is the public key made of that secret, so it names the secret without telling it;
   * several entries may name one epoch, each with some of its boxes. `from`: number of the epoch its author wrote in; its own number
   * when it only adds boxes. `without`: barred devices it was opened to leave behind. A box is a compact JWE of the secret to one
   * device's key.
   */
  "epoch-opened": () =>
    z.strictObject({
      number: int(1, 2 ** 32 - 1),
      room: PublicKey(),
      from: int(0, 2 ** 32 - 1),
      without: z.array(KeyId()).check(z.maxLength(200)),
      boxes: z.array(z.strictObject({ to: KeyId(), box: text(600) })).check(z.maxLength(60)),
    }),
});

export type Kind = keyof typeof bodies;
export type Bodies = { [K in Kind]: z.infer<(typeof bodies)[K]> };

/** A statement before it is signed. */
export type Draft = { [K in Kind]: { readonly kind: K; readonly body: Bodies[K] } }[Kind];

/** What is signed: the JWS payload, RFC 8785 canonical JSON of exactly these members. */
export const payloadForm = later(() =>
  z.strictObject({
    v: int(1, 1_000_000),
    book: BookId(),
    /** Place in the author's chain in this book, from 0. */
    seq: int(0, 2 ** 40),
    /** Id of the author's entry before this one; null for the first. */
    prev: z.nullable(EntryId()),
    /** The device's clock when it signed, RFC 3339 UTC to the second. Shown to people; orders nothing. */
    at: z.string().check(z.regex(/^\d{4}-\d{2}-\d{2}T\d{2}:\d{2}:\d{2}Z$/)),
    kind: text(40),
    body: z.record(z.string(), z.unknown()),
  }),
);
export type Payload = z.infer<ReturnType<typeof payloadForm>>;
