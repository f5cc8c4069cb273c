/** What is kept for the next start of how signatures stand: of use for the entries it is of, and passed over for any others. */
import type { Book, Vault } from "@sward/client";
import { createMemoryDocStore, createMemoryVault, openBook } from "@sward/client";
import type { Draft, EntryId } from "@sward/core";
import { cardToSign } from "@sward/core";
import { beforeEach, expect, test } from "vitest";
import { benchOptions } from "../../../packages/client/bench/options.ts";
import type { SignedBook } from "../../../packages/client/bench/signed.ts";
import { signedBook } from "../../../packages/client/bench/signed.ts";
import type { Checkpoint } from "../../../packages/client/src/book/checkpoint.ts";
import { stateText } from "../../support/state-text.ts";

/** Entries that may come before another one is made. */
const MANY = 32;

let club: SignedBook;
let vault: Vault;
let made: Checkpoint;

/** The root's device, which may sign. */
const open = (checkpoint?: () => Promise<Checkpoint | null>, of: Vault = vault): Promise<Book> =>
  openBook({
    ...benchOptions(club.bench.book, club.signers[0]!, { vault: of, ledgerStore: createMemoryDocStore() }),
    ...(checkpoint && { checkpoint }),
  });

async function append(book: Book, drafts: readonly Draft[]): Promise<void> {
  const saved = await book.append(drafts);
  if (!saved.ok) throw new Error(JSON.stringify(saved.fault));
}

const games = async (many: number): Promise<Draft[]> => {
  const drafts: Draft[] = [];
  for (let n = 0; n < many; n++) drafts.push((await club.bench.next()).draft);
  return drafts;
};

/** A club of sixty whose every card is signed to near its end, and a game under one of the signatures since. */
beforeEach(async () => {
  club = await signedBook(1_500);
  vault = createMemoryVault();
  await vault.append({
    entries: club.bench.entries.map(({ id, jws }) => ({ id, jws, understood: true, place: null })),
  });
  const book = await open();
  const cards = [...book.state().cards.values()];
  await append(
    book,
    cards.flatMap((card): Draft[] => {
      const stands = cardToSign(card, card.lines.at(-3)!.date);
      return stands === null ? [] : [{ kind: "card-signed", body: { player: card.player, ...stands } }];
    }),
  );
  const [late] = await games(1);
  if (late?.kind !== "match-reported") throw new Error("a match");
  await append(book, [{ ...late, body: { ...late.body, date: "2020-06-01", n: 41 } }]);
  made = (await book.checkpoint())!;
  expect(made.signatures).toHaveLength(60);
  await book.close();
});

const standings = (book: Book) => {
  const all = [...book.state().cards.values()].flatMap(({ signatures }) => signatures);
  return {
    holds: all.filter(({ standing }) => standing === "holds").length,
    touched: all.filter(({ standing }) => standing === "touched").length,
  };
};
const found = { holds: 58, touched: 2 };

test("a start with it has the state of one without, and it does for that start and a few games more", async () => {
  const [bare, book] = [await open(), await open(async () => made)];
  expect(standings(bare)).toEqual(found);
  expect(stateText(book.state())).toBe(stateText(bare.state()));
  expect(await book.checkpoint()).toBeNull();
  await append(book, await games(MANY - 1));
  expect(await book.checkpoint()).toBeNull();
  await append(book, await games(1));
  const next = await book.checkpoint();
  expect(next).toMatchObject({ entries: made.entries + MANY });
  expect(await book.checkpoint()).toBeNull();
  expect(stateText((await open(async () => next)).state())).toBe(stateText((await open()).state()));
});

test("what came since is added as it came: late games under signatures, a withdrawal, and a signature made anew", async () => {
  const book = await open(async () => made);
  const reported = [...book.counted()].find(({ entry }) => entry.kind === "match-reported")!.entry;
  const card = [...book.state().cards.values()].find(({ signatures }) => signatures[0]!.standing === "touched")!;
  const late = (await games(6)).map((draft, n) =>
    draft.kind === "match-reported" ? { ...draft, body: { ...draft.body, date: "2019-05-01", n: 42 + n } } : draft,
  );
  await append(book, [
    ...late,
    { kind: "entry-withdrawn", body: { withdraws: reported.id, reason: "told twice" } },
    { kind: "card-signed", body: { player: card.player, ...cardToSign(card, card.lines.at(-1)!.date)! } },
  ]);
  const now = stateText(book.state());
  expect(standings(book).touched).toBeGreaterThan(found.touched);
  expect(stateText((await open(async () => made)).state())).toBe(now);
  expect(stateText((await open()).state())).toBe(now);
});

test("it is believed of the same entries only", async () => {
  // A lie can be seen: nobody looks for the truth where it is believed.
  const signatures = made.signatures.map(([id, known]) => [id, { ...known, touched: 0 }] as const);
  const lying = { ...made, signatures };
  const believing = await open(async () => lying);
  const cards = [...believing.state().cards.values()];
  expect(cards.flatMap((card) => card.signatures.map((one) => one.firstTouched))).toEqual(new Array(60).fill(0));

  const records = await vault.load();
  const entries = records.flatMap((record) => record.entries);
  const of = async (some: typeof entries): Promise<Book> => {
    const other = createMemoryVault();
    await other.append({ entries: some });
    return open(async () => lying, other);
  };
  const fewer = await of(entries.slice(0, -1));
  expect(standings(fewer).holds).toBeGreaterThan(50);
  expect(await fewer.checkpoint()).not.toBeNull();
  const reported = entries.findIndex(({ id }) => id === club.bench.entries.at(-1)!.id);
  const another = await open();
  await append(another, await games(1));
  const one = [...another.entries()].at(-1)!;
  expect(standings(await of(entries.with(reported, one))).holds).toBeGreaterThan(50);
  const exchanged = { ...lying, digest: lying.digest.with(31, lying.digest[31]! ^ 1) };
  expect(standings(await open(async () => exchanged))).toEqual(found);
});

test("a device that can keep nothing, or does not get it, starts all the same", async () => {
  const failing = await open(() => Promise.reject(new Error("no storage")));
  expect(standings(failing)).toEqual(found);
  expect(standings(await open(async () => null))).toEqual(found);
  const again = (await failing.checkpoint())!;
  expect([again.entries, again.digest]).toEqual([made.entries, made.digest]);
  expect(new Map(again.signatures)).toEqual(new Map(made.signatures));
});

test("a book without a signature has nothing to keep", async () => {
  const other = createMemoryVault();
  await other.append({
    entries: club.bench.entries.map(({ id, jws }) => ({ id: id as EntryId, jws, understood: true, place: null })),
  });
  expect(await (await open(undefined, other)).checkpoint()).toBeNull();
});
