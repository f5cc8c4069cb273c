import type { Book, HeldEntry, Vault, VaultRecord } from "@sward/client";
import { createMemoryVault, verifyRecordFile } from "@sward/client";
import { createLevelDocStore, openLevelVault } from "@sward/client/node";
import type { BookId } from "@sward/core";
import { expect, test } from "vitest";
import { player } from "../../support/cast.ts";
import { temporaryFolders } from "../../support/folders.ts";
import { stateText } from "../../support/state-text.ts";
import { AT, entryBy, nextIn, openInMemory, playedClub, save, signedClub, signer, textsOf } from "./signed-club.ts";

const folder = temporaryFolders();

async function textsIn(text: string): Promise<readonly string[]> {
  const verified = await verifyRecordFile(text);
  if (!verified.ok) throw new Error(verified.fault.type);
  return verified.value.texts;
}

const onDisk = async (book: BookId, seed: number, at: string): Promise<Book> =>
  openInMemory(book, await signer(seed), {
    vault: await openLevelVault(`${at}/vault`),
    ledgerStore: createLevelDocStore(`${at}/ledger`, "ledger"),
    rosterStore: createLevelDocStore(`${at}/roster`, "roster"),
  });

test("RE20 a record fills an empty device; what it brought is there after closing, and a second time changes nothing", async () => {
  const club = await playedClub();
  const texts = await textsIn(await club.record(null));
  const home = folder();
  const book = await onDisk(club.book, 13, home);
  expect(await book.takeEntries(texts)).toMatchObject({ ok: true, value: { known: 0 } });
  expect(stateText(book.state())).toBe(stateText(club.root.state()));
  await book.close();

  const again = await onDisk(club.book, 13, home);
  expect(stateText(again.state())).toBe(stateText(club.root.state()));
  const before = again.state();
  expect(await again.takeEntries(texts)).toEqual({ ok: true, value: { added: [], known: texts.length } });
  expect(again.state()).toBe(before);
  await again.close();
});

test("RE20 only what is missing is added; a player's record waits where it has gaps, and counts when the book comes", async () => {
  const club = await playedClub();
  const book = await openInMemory(club.book, club.signers.reader);
  const part = await textsIn(await club.record("ada"));
  expect(await book.takeEntries(part)).toMatchObject({ ok: true, value: { known: 0 } });
  expect([...book.state().uncounted.values()]).toContain("waiting-for-earlier");
  const whole = await textsIn(await club.record(null));
  const taken = await book.takeEntries(whole);
  expect(taken).toMatchObject({ ok: true, value: { known: part.length } });
  expect(taken.ok && taken.value.added).toHaveLength(whole.length - part.length);
  expect(stateText(book.state())).toBe(stateText(club.root.state()));
});

test("RE20 what a record brought is put into the document, and is written on from", async () => {
  const club = await playedClub();
  const seen: VaultRecord[] = [];
  const book = await openInMemory(club.book, club.signers.recorder, { vault: watched(seen) });
  await book.takeEntries(await textsIn(await club.record(null)));
  await book.settled();
  expect([...book.entries()].filter(({ place }: HeldEntry) => place === null)).toEqual([]);
  // The vault was written before the document.
  expect(seen.flatMap(({ entries }) => entries).every(({ place }) => place === null)).toBe(true);
  await save(book, { kind: "player-joined", body: { player: player("dan"), standing: "visitor" } });
  expect(book.state().devices.get(book.device)).toMatchObject({ forkedAt: null, counted: 6 });
});

const watched = (seen: VaultRecord[], refuse = false): Vault => {
  const vault = createMemoryVault();
  return {
    ...vault,
    append(record) {
      if (refuse) return Promise.reject(new Error("the disk is full"));
      seen.push(record);
      return vault.append(record);
    },
  };
};

test("RE20 all or none: with one entry that is not good nothing is taken, in memory or on the disk", async () => {
  const club = await playedClub();
  const other = await signedClub(50);
  const stranger = await signer(97);
  const texts = textsOf(club.root);
  const body = { player: player("ada"), on: "2026-06-01" };
  const head = { v: 1, book: club.book, seq: 0, prev: null, at: AT } as const;
  const [one = "", two = ""] = texts;
  const bad = {
    "no entry": "a.b.c",
    "another book": textsOf(other.root)[0]!,
    forged: `${one.split(".").slice(0, 2).join(".")}.${two.split(".")[2]}`,
    "a key nobody states": await stranger.signEntry({ ...head, kind: "player-left", body }),
  };
  for (const [what, text] of Object.entries(bad)) {
    const seen: VaultRecord[] = [];
    const book = await openInMemory(club.book, club.signers.reader, { vault: watched(seen) });
    const before = book.state();
    const given = [...texts.slice(1), text, ...(what === "forged" ? [] : [one])];
    const fault = { type: "entries-not-taken", refused: 1, of: given.length };
    // Without the opening's own text its key is not known: the root's other entries are as little good.
    const expected = what === "forged" ? expect.objectContaining({ type: "entries-not-taken" }) : fault;
    expect(await book.takeEntries(given), what).toEqual({ ok: false, fault: expected });
    expect(book.state()).toBe(before);
    expect([seen, [...book.entries()]]).toEqual([[], []]);
  }
});

test("RE20 a disk that would not take it is said, and nothing is shown as there", async () => {
  const club = await playedClub();
  const book = await openInMemory(club.book, club.signers.reader, { vault: watched([], true) });
  const before = book.state();
  const taken = await book.takeEntries(textsOf(club.root));
  expect(taken).toEqual({ ok: false, fault: { type: "not-saved", cause: "Error: the disk is full" } });
  expect([book.state(), [...book.entries()]]).toEqual([before, []]);
});

test("RE20 entries are told to whoever listens, once, and taken in turn with what the device writes", async () => {
  const club = await playedClub();
  const book = await openInMemory(club.book, club.signers.handicapper);
  const told: number[] = [];
  const texts = textsOf(club.root);
  await book.takeEntries(texts.slice(0, 3));
  book.subscribe((touched) => {
    if (touched !== null) told.push(book.state().entries);
  });
  const joined = { kind: "player-joined", body: { player: player("dan"), standing: "member" } } as const;
  const [taken, saved] = await Promise.all([book.takeEntries(texts), book.append([joined])]);
  expect([taken.ok, saved.ok]).toEqual([true, true]);
  expect(told).toEqual([texts.length, texts.length + 1]);
  expect(book.state().devices.get(book.device)?.forkedAt).toBe(null);
});

test("RE20 what waited in the vault for a signer's key counts when a record brings it", async () => {
  const club = await playedClub();
  const vault = createMemoryVault();
  const { recorder } = club.signers;
  const next = nextIn(club.root, recorder.id);
  const waiting = await entryBy(
    recorder,
    club.book,
    "player-joined",
    { player: player("dan"), standing: "visitor" },
    next,
  );
  await vault.append({ entries: [], unchecked: [{ jws: waiting, place: { client: 1, clock: 0 } }] });
  const book = await openInMemory(club.book, club.signers.reader, { vault });
  expect(book.state().players.size).toBe(0);
  expect(await book.takeEntries(textsOf(club.root))).toMatchObject({ ok: true });
  expect(book.state().players.get(player("dan"))).toMatchObject({ standing: "visitor" });
});
