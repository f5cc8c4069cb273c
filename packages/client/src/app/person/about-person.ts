/**
 * Everything this device has about one person, for somebody who asks what is kept of him: names, the card, every report, who stated
 * what, signatures, links, and devices in the person's name, each with the signed text it rests on. Other people in it are written by
 * their short names: what is handed over is about the one who asks. Pure.
 *
 * Entries are found by looking for the person's ids anywhere in what was signed, not kind by kind: a kind that is added later is not
 * forgotten here.
 */
import type { BookId, BookState, CardLine, Day, EntryId, KeyId, Match, PlayerId } from "@sward/core";
import { decodeEntry } from "@sward/core";
import type { Book } from "../../book/book.ts";
import type { Erasure, RosterRecord } from "../../book/roster.ts";
import type { NamedDesk } from "../names.ts";
import { deviceIn, idsOf, shortNameIn } from "../names.ts";

export type AboutBook = Pick<Book, "id" | "state" | "entries"> & {
  readonly roster: Pick<Book["roster"], "get" | "erased" | "all">;
};

export interface AboutDesk extends NamedDesk {
  readonly club: AboutBook;
  readonly leagues: readonly AboutBook[];
}

/** An entry that names the person. */
export interface EntryAbout {
  readonly id: EntryId;
  readonly kind: string;
  /** The device's clock when it was signed. */
  readonly at: string;
  readonly by: string;
  /** "yes", or why it does not count. */
  readonly counts: string;
  readonly body: unknown;
  readonly signed: string;
}

export interface MatchAbout {
  readonly match: string;
  readonly date: Day | null;
  readonly status: Match["status"];
  readonly sides: readonly (readonly string[])[];
  readonly games: readonly { readonly score: readonly number[]; readonly ended: string | null }[];
  readonly reports: readonly { readonly by: string; readonly at: string; readonly says: string }[];
}

export interface BookAbout {
  readonly book: BookId;
  readonly name: string;
  readonly as: BookState["as"];
  readonly names: readonly ({ readonly of: PlayerId } & RosterRecord)[];
  readonly erased: readonly ({ readonly of: PlayerId } & Omit<Erasure, "by"> & { readonly by: string })[];
  readonly standing: string | null;
  readonly home: unknown;
  readonly card: {
    readonly handicap: number;
    readonly index: number;
    readonly lines: readonly (CardLine & { readonly told: string })[];
    readonly signatures: readonly {
      readonly by: string;
      readonly at: string;
      readonly upto: Day;
      readonly standing: string;
    }[];
  } | null;
  readonly stated: { readonly handicap: number; readonly index: number; readonly on: Day; readonly by: string } | null;
  readonly matches: readonly MatchAbout[];
  readonly devices: readonly {
    readonly device: KeyId;
    readonly name: string;
    readonly role: string;
    readonly barred: boolean;
    readonly admittedBy: string;
    readonly entries: number;
  }[];
  readonly entries: readonly EntryAbout[];
}

export interface AboutPerson {
  readonly sheet: "about-one-person";
  readonly v: 1;
  readonly on: Day;
  readonly ids: readonly PlayerId[];
  readonly contact: "none is kept";
  readonly books: readonly BookAbout[];
  /** On this device only, in no record: what a committee noted of the card. */
  readonly note: string | null;
}

export interface AboutWish {
  readonly player: PlayerId;
  readonly on: Day;
  readonly note: string | null;
  /** A line of a card in words. */
  readonly tell: (line: CardLine) => string;
}

export function aboutPerson(desk: AboutDesk, { player, on, note, tell }: AboutWish): AboutPerson {
  const ids = idsOf(desk, player);
  const books = [desk.club, ...desk.leagues].map((book) => aboutInBook(desk, book, ids, tell));
  const isEmpty = ({ entries, names, erased }: BookAbout): boolean =>
    entries.length + names.length + erased.length === 0;
  return {
    sheet: "about-one-person",
    v: 1,
    on,
    ids,
    contact: "none is kept",
    books: books.filter((book, at) => at === 0 || !isEmpty(book)),
    note,
  };
}

function aboutInBook(
  desk: AboutDesk,
  book: AboutBook,
  ids: readonly PlayerId[],
  tell: (line: CardLine) => string,
): BookAbout {
  const state = book.state();
  const own = new Set<string>(ids);
  const player = [...state.players.values()].find((one) => own.has(one.player)) ?? null;
  const card = ids.map((id) => state.cards.get(id)).find((one) => one !== undefined);
  const stated = ids.map((id) => state.stated.get(id)).find((one) => one !== undefined);
  const names = ids.flatMap((of) => {
    const record = book.roster.get(of);
    return record === undefined ? [] : [{ of, ...record }];
  });
  return {
    book: book.id,
    name: state.name,
    as: state.as,
    names,
    erased: ids.flatMap((of) => {
      const found = book.roster.erased(of);
      return found === undefined ? [] : [{ of, at: found.at, reason: found.reason, by: deviceIn(desk, found.by) }];
    }),
    standing: player?.standing ?? null,
    home: player?.home ?? null,
    card:
      card === undefined
        ? null
        : {
            handicap: card.handicap,
            index: card.index,
            lines: card.lines.map((line) => ({ ...line, told: tell(line) })),
            signatures: card.signatures.map(({ by, at, upto, standing }) => ({
              by: deviceIn(desk, by),
              at,
              upto,
              standing,
            })),
          },
    stated:
      stated === undefined
        ? null
        : { handicap: stated.handicap, index: stated.index, on: stated.on, by: deviceIn(desk, stated.by) },
    matches: [...state.matches.values()].filter((match) => isOf(match, own)).map((match) => aboutMatch(desk, match)),
    devices: devicesOf(book, new Set(names.map(({ name }) => name))).map((key) => {
      const device = state.devices.get(key);
      return {
        device: key,
        name: deviceIn({ club: book, leagues: [] }, key),
        role: device?.role ?? "not admitted",
        barred: device?.barred ?? false,
        admittedBy: device === undefined ? "" : deviceIn(desk, device.admittedBy),
        entries: device?.counted ?? 0,
      };
    }),
    entries: [...entriesAbout(desk, book, ids)],
  };
}

/** Devices whose holder goes by one of these names: the record itself does not say whose a device is. */
export function devicesOf(book: Pick<AboutBook, "state" | "roster">, names: ReadonlySet<string>): readonly KeyId[] {
  const players = book.state().players;
  const keys: KeyId[] = [];
  for (const [about, record] of book.roster.all()) {
    if (names.has(record.name) && !players.has(about as PlayerId)) keys.push(about as KeyId);
  }
  return keys;
}

const isOf = (match: Match, own: ReadonlySet<string>): boolean =>
  match.reports.some(({ facts }) => facts.sides.flat().some(({ player }) => own.has(player)));

function aboutMatch(desk: NamedDesk, match: Match): MatchAbout {
  const facts = match.facts ?? match.reports[0]?.facts ?? null;
  const sides = facts === null ? [] : facts.sides.map((side) => side.map(({ player }) => shortNameIn(desk, player)));
  return {
    match: match.key,
    date: facts?.date ?? null,
    status: match.status,
    sides,
    games: (facts?.games ?? []).map(({ score, ended }) => ({ score, ended: ended ?? null })),
    reports: match.reports.map(({ by, at, facts: said }) => ({
      by: deviceIn(desk, by),
      at,
      says: `${said.date}: ${said.games.map(({ score }) => score.join("-")).join(", ")}`,
    })),
  };
}

function* entriesAbout(desk: NamedDesk, book: AboutBook, ids: readonly PlayerId[]): Iterable<EntryAbout> {
  const { uncounted } = book.state();
  for (const { jws } of book.entries()) {
    const body = bodyOf(jws);
    const text = carriedText(body) + JSON.stringify(body);
    if (!ids.some((one) => text.includes(one))) continue;
    const decoded = decodeEntry(jws);
    if (!decoded.ok) continue;
    const { id, kind, at, author } = decoded.value;
    yield { id, kind, at, by: deviceIn(desk, author), counts: uncounted.get(id) ?? "yes", body, signed: jws };
  }
}

const bodyOf = (jws: string): unknown => {
  const payload = json(jws.split(".")[1] ?? "");
  return typeof payload === "object" && payload !== null && "body" in payload ? payload.body : null;
};

/** What an entry of another book says that this one carries. */
function carriedText(body: unknown): string {
  if (typeof body !== "object" || body === null || !("entry" in body) || typeof body.entry !== "string") return "";
  return JSON.stringify(json(body.entry.split(".")[1] ?? ""));
}

function json(part: string): unknown {
  try {
    const bytes = Uint8Array.from(atob(part.replaceAll("-", "+").replaceAll("_", "/")), (char) => char.charCodeAt(0));
    return JSON.parse(new TextDecoder().decode(bytes));
  } catch {
    return null;
  }
}
