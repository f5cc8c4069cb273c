import { verifyRecordFile, writeRecordFile } from "@sward/client";
import type { EntryId } from "@sward/core";
import { canonicalText } from "@sward/core";
import { expect, test } from "vitest";
import { player } from "../../support/cast.ts";
import type { SignedClub } from "./signed-club.ts";
import { AT, meet, openInMemory, playedClub, save, signer } from "./signed-club.ts";

async function reportOf(text: string) {
  const verified = await verifyRecordFile(text);
  if (!verified.ok) throw new Error(JSON.stringify(verified.fault));
  return verified.value.report;
}

/** The line of the file (from 1) that admits a key. */
function lineAdmitting(text: string, key: string): number {
  const payload = (line: string) =>
    Buffer.from((JSON.parse(line) as string).split(".")[1] ?? "", "base64url").toString();
  const lines = text.split("\n").slice(0, -1).map(payload);
  return 1 + lines.findIndex((line) => line.includes('"device-admitted"') && line.includes(key));
}

test("RE19 the report names book, player, exporter, how many entries are by whom, and how each of them is known", async () => {
  const club = await playedClub();
  const text = await club.record(null, club.signers.recorder, club.recorder);
  const report = await reportOf(text);
  const { root, handicapper, recorder } = club.signers;
  expect(report).toMatchObject({
    book: club.book,
    name: "Larkhill",
    as: "club",
    player: null,
    entries: text.split("\n").length - 2,
    digest: club.root.digest(),
    at: AT,
    exporter: { key: recorder.id, role: "recorder", admitted: true },
    barred: [],
    uncounted: [],
  });
  const byRoot = { key: handicapper.id, role: "handicapper", by: root.id, line: lineAdmitting(text, handicapper.key) };
  const byHandicapper = {
    key: recorder.id,
    role: "recorder",
    by: handicapper.id,
    line: lineAdmitting(text, recorder.key),
  };
  const others = [
    { key: handicapper.id, role: "handicapper", club: null, entries: 8, counted: 8, barred: false, known: [byRoot] },
    {
      key: recorder.id,
      role: "recorder",
      club: null,
      entries: 5,
      counted: 5,
      barred: false,
      known: [byHandicapper, byRoot],
    },
  ].sort((a, b) => (a.key < b.key ? -1 : 1));
  expect(report.signers).toEqual([
    { key: root.id, role: "root", club: null, entries: 3, counted: 3, barred: false, known: [] },
    ...others,
  ]);
  const cards = [...club.root.state().cards.values()].sort((a, b) => (a.player < b.player ? -1 : 1));
  expect(cards).toHaveLength(3);
  expect(canonicalText(report.cards)).toBe(canonicalText(cards));
});

async function withBar(): Promise<SignedClub> {
  const club = await playedClub();
  const last = { seq: 1, id: "A".repeat(43) as EntryId };
  await save(club.handicapper, { kind: "device-barred", body: { device: club.signers.recorder.id, last } });
  await meet(club.root, club.handicapper, club.recorder, club.reader);
  return club;
}

test("RE19 a barred signer and what of his does not count are shown", async () => {
  const club = await withBar();
  const { recorder, handicapper } = club.signers;
  for (const name of [null, "ada"]) {
    const report = await reportOf(await club.record(name));
    expect(report.barred).toEqual([recorder.id]);
    expect(report.uncounted.map(({ reason }) => reason)).toEqual(["after-bar"]);
    const barred = report.signers.find(({ key }) => key === recorder.id);
    expect(barred).toMatchObject({ role: "recorder", barred: true });
    expect(barred!.counted).toBeLessThan(barred!.entries);
    expect(report.signers.find(({ key }) => key === handicapper.id)).toMatchObject({ barred: false });
  }
});

test("RE19 an exporter and a signer nobody with the right to has admitted are shown as that, and what they signed does not count", async () => {
  const club = await playedClub();
  const friend = await signer(60);
  // A recorder may not admit; yet the key is stated, so the signatures can be checked.
  await meet(club.recorder, club.root);
  const own = [...club.recorder.entries()].filter(({ jws }) => jws.startsWith(kidOf(club.signers.recorder.id)));
  const body = { device: friend.key, role: "handicapper" };
  const { recorder } = club.signers;
  const admission = await recorder.signEntry({
    v: 1,
    book: club.book,
    seq: own.length,
    prev: own.at(-1)!.id,
    at: AT,
    kind: "device-admitted",
    body,
  });
  const claim = await friend.signEntry({
    v: 1,
    book: club.book,
    seq: 0,
    prev: null,
    at: AT,
    kind: "player-left",
    body: { player: player("ada"), on: "2026-06-01" },
  });
  const book = await openInMemory(club.book, friend);
  const all = [...club.root.entries()].map(({ jws }) => jws);
  expect(await book.takeEntries([...all, admission, claim])).toMatchObject({ ok: true });
  const report = await reportOf(await club.record("ada", friend, book));
  expect(report.exporter).toEqual({ key: friend.id, role: null, admitted: false });
  expect(report.signers.find(({ key }) => key === friend.id)).toEqual({
    key: friend.id,
    role: null,
    club: null,
    entries: 1,
    counted: 0,
    barred: false,
    known: [],
  });
  expect(report.uncounted).toEqual([
    { reason: "not-admitted", entries: 1 },
    { reason: "role-may-not", entries: 1 },
  ]);
  expect(canonicalText(report.cards)).toBe(canonicalText([club.root.state().cards.get(player("ada"))]));
});

/** The protected header of an entry by this key. */
const kidOf = (kid: string): string =>
  `${Buffer.from(`{"alg":"EdDSA","kid":"${kid}","typ":"sward-entry"}`).toString("base64url")}.`;

test("RE19 in a league each signer is known through its club's root, and there are no cards", async () => {
  const [ring, north, captain] = await Promise.all([70, 71, 72].map(signer));
  const id = ring!.id as string as SignedClub["book"];
  const root = await openInMemory(id, ring!);
  await save(root, { kind: "book-opened", body: { root: ring!.key, as: "league", name: "Ring" } });
  await save(root, { kind: "club-admitted", body: { club: north!.key, name: "North" } });
  const club = await openInMemory(id, north!);
  await meet(root, club);
  await save(club, { kind: "device-admitted", body: { device: captain!.key, role: "handicapper" } });
  const device = await openInMemory(id, captain!);
  await meet(root, club, device);
  await save(device, { kind: "player-joined", body: { player: player("ada"), standing: "visitor" } });
  const written = await writeRecordFile(device, captain!, { player: null, at: AT });
  const report = await reportOf(written.ok ? written.value.text : "");
  expect(report).toMatchObject({ as: "league", cards: [], exporter: { role: "handicapper", admitted: true } });
  expect(report.signers.find(({ key }) => key === captain!.id)).toMatchObject({
    club: north!.id,
    known: [
      { key: captain!.id, role: "handicapper", by: north!.id },
      { key: north!.id, role: "root", by: ring!.id },
    ],
  });
});
