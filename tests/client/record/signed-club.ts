/**
 * A club with real keys and real signatures: a root, a handicapper's, a recorder's and a reader's device, each with its own book in
 * memory, that hand each other their entries. Seeds and ids are fixed, so a record of it is the same in every run.
 */
import type { Book, BookOptions, Signer } from "@sward/client";
import {
  createMemoryDocStore,
  createMemoryVault,
  createSigner,
  ENTRIES_PER_BLOCK,
  openBook,
  systemRandom,
  writeRecordFile,
} from "@sward/client";
import type { BookId, Draft, EntryId, KeyId, Payload, PlayerId } from "@sward/core";
import { createLedger, decodeEntry, handicapInForce } from "@sward/core";
import { played, player } from "../../support/cast.ts";

export const TODAY = "2026-06-14";
export const AT = `${TODAY}T12:00:00Z`;
export const SECRET = Uint8Array.from({ length: 32 }, (_, at) => at);

export const clock = { today: () => TODAY, timestamp: () => AT };

/** One number, one key. */
export const signer = (seed: number): Promise<Signer> => createSigner(new Uint8Array(32).fill(seed));

export const openInMemory = (book: BookId, device: Signer, more: Partial<BookOptions> = {}): Promise<Book> =>
  openBook({
    book,
    device,
    epochs: [{ epoch: 1, secret: SECRET }],
    vault: createMemoryVault(),
    ledgerStore: createMemoryDocStore(),
    rosterStore: createMemoryDocStore(),
    relay: null,
    clock,
    randomBytes: systemRandom,
    entriesPerBlock: ENTRIES_PER_BLOCK,
    ...more,
  });

export const textsOf = (book: Book): string[] => [...book.entries()].map(({ jws }) => jws);

/** Each of them gets what the others have. */
export async function meet(...books: readonly Book[]): Promise<void> {
  const texts = [...new Set(books.flatMap(textsOf))];
  for (const book of books) {
    const taken = await book.takeEntries(texts);
    if (!taken.ok) throw new Error(JSON.stringify(taken.fault));
  }
}

export async function save(book: Book, ...drafts: readonly Draft[]): Promise<readonly EntryId[]> {
  const saved = await book.append(drafts);
  if (!saved.ok) throw new Error(JSON.stringify(saved.fault));
  return saved.value;
}

/** An entry as its author's device may write it, whatever its book says. */
export const entryBy = (
  by: Signer,
  book: BookId,
  kind: string,
  body: Record<string, unknown>,
  more: Partial<Payload> = {},
): Promise<string> => by.signEntry({ v: 1, book, seq: 0, prev: null, at: AT, kind, body, ...more });

/** Place and predecessor of an author's next entry, as far as a book has them. */
export function nextIn(book: Book, author: KeyId) {
  const ledger = createLedger(book.id);
  for (const { jws } of book.entries()) {
    const entry = decodeEntry(jws);
    if (entry.ok) ledger.add([{ entry: entry.value }]);
  }
  return ledger.next(author);
}

export function idOf(jws: string): EntryId {
  const entry = decodeEntry(jws);
  if (!entry.ok) throw new Error(entry.fault.type);
  return entry.value.id;
}

export interface SignedClub {
  readonly book: BookId;
  readonly signers: Readonly<Record<"root" | "handicapper" | "recorder" | "reader", Signer>>;
  readonly root: Book;
  readonly handicapper: Book;
  readonly recorder: Book;
  readonly reader: Book;
  /** A match of the recorder's, off the handicaps in force. */
  plays(day: string, one: string, two: string, scores: string): Promise<EntryId>;
  /** As the handicapper's device writes it, or another. */
  record(name: string | null, by?: Signer, book?: Book): Promise<string>;
}

export const MEMBERS = [
  ["ada", 7, 1390],
  ["ben", 9, 1250],
  ["cat", 4, 1600],
] as const;

export async function signedClub(base = 10): Promise<SignedClub> {
  const [root, handicapper, recorder, reader] = await Promise.all([0, 1, 2, 3].map((n) => signer(base + n)));
  if (!root || !handicapper || !recorder || !reader) throw new Error("four keys were made");
  const book = root.id as string as BookId;
  const books = {
    root: await openInMemory(book, root),
    handicapper: await openInMemory(book, handicapper),
    recorder: await openInMemory(book, recorder),
    reader: await openInMemory(book, reader),
  };
  const all = Object.values(books);
  await save(books.root, { kind: "book-opened", body: { root: root.key, as: "club", name: "Larkhill" } });
  await save(
    books.root,
    { kind: "rules-adopted", body: { rules: "england-2016", from: "2020-01-01" } },
    { kind: "device-admitted", body: { device: handicapper.key, role: "handicapper" } },
  );
  await meet(...all);
  await save(
    books.handicapper,
    { kind: "device-admitted", body: { device: recorder.key, role: "recorder" } },
    { kind: "device-admitted", body: { device: reader.key, role: "reader" } },
  );
  for (const [name, handicap, index] of MEMBERS) {
    const of = player(name);
    const set = {
      player: of,
      handicap,
      index,
      from: "2026-01-01",
      basis: "initial",
      reason: "first handicap",
    } as const;
    await save(
      books.handicapper,
      { kind: "player-joined", body: { player: of, standing: "member" } },
      { kind: "handicap-set", body: set },
    );
  }
  await meet(...all);
  const off = (name: string, day: string): string => {
    const card = books.recorder.state().cards.get(player(name));
    if (card === undefined) throw new Error(`${name} has no card`);
    return `${name} ${handicapInForce(card, day).handicap}`;
  };
  return {
    book,
    signers: { root, handicapper, recorder, reader },
    ...books,
    async plays(day, one, two, scores) {
      const body = played(day, off(one, day), off(two, day), scores);
      const [id] = await save(books.recorder, { kind: "match-reported", body });
      await meet(...all);
      if (id === undefined) throw new Error("one draft has one id");
      return id;
    },
    async record(name, by = handicapper, from = books.handicapper) {
      const of: PlayerId | null = name === null ? null : player(name);
      const written = await writeRecordFile(from, by, { player: of, at: AT });
      if (!written.ok) throw new Error(JSON.stringify(written.fault));
      return written.value.text;
    },
  };
}

/** A season of a few games, and a correction. */
export async function playedClub(base?: number): Promise<SignedClub> {
  const club = await signedClub(base);
  await club.plays("2026-05-01", "ada", "ben", "7-4");
  await club.plays("2026-05-02", "cat", "ben", "7-6");
  await club.plays("2026-05-03", "cat", "ada", "3-7 7-6");
  const slip = await club.plays("2026-05-04", "ada", "ben", "4-7");
  await save(club.recorder, { kind: "entry-withdrawn", body: { withdraws: slip, reason: "entered twice" } });
  await meet(club.root, club.handicapper, club.recorder, club.reader);
  return club;
}
