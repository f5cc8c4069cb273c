/** Records of books in which something is not as it should be: entries lost, devices that admit each other, signatures with idle bits. */
import type { Book, Signer } from "@sward/client";
import { verifyRecordFile, writeRecordFile } from "@sward/client";
import { canonicalBytes, canonicalText, digestOf } from "@sward/core";
import { expect, test } from "vitest";
import { played, player } from "../../support/cast.ts";
import {
  AT,
  entryBy,
  idOf,
  nextIn,
  openInMemory,
  playedClub,
  save,
  signedClub,
  signer,
  textsOf,
} from "./signed-club.ts";

async function recordOf(book: Book, by: Signer, name: string | null): Promise<string> {
  const written = await writeRecordFile(book, by, { player: name === null ? null : player(name), at: AT });
  if (!written.ok) throw new Error(JSON.stringify(written.fault));
  return written.value.text;
}

async function verified(text: string) {
  const result = await verifyRecordFile(text);
  if (!result.ok) throw new Error(JSON.stringify(result.fault));
  return result.value.report;
}

const report = (one = "ada 7", two = "ben 9") => ({ ...played("2026-06-01", one, two, "7-4") });

const textsIn = (text: string): string[] =>
  text
    .split("\n")
    .slice(0, -1)
    .map((line) => JSON.parse(line) as string);

test("RE3 RE9 in a book's record a gap is a gap: what waits in the book waits in the record", async () => {
  const club = await playedClub();
  const lost = nextIn(club.root, club.signers.recorder.id);
  const waits = await entryBy(club.signers.recorder, club.book, "match-reported", report(), {
    seq: lost.seq + 1,
    prev: "A".repeat(43) as never,
  });
  expect(await club.root.takeEntries([waits])).toMatchObject({ ok: true });
  const whole = await verified(await recordOf(club.root, club.signers.root, null));
  expect(whole.uncounted).toEqual([{ reason: "waiting-for-earlier", entries: 1 }]);
  expect(textsIn(await recordOf(club.root, club.signers.root, "ada"))).not.toContain(waits);
});

test("RE6 RE10 an admission that waits admits nobody in a player's record either", async () => {
  const club = await playedClub();
  const { handicapper } = club.signers;
  const friend = await signer(61);
  const next = nextIn(club.root, handicapper.id);
  const prev = "A".repeat(43) as never;
  const body = { device: friend.key, role: "recorder" };
  const waits = await entryBy(handicapper, club.book, "device-admitted", body, { seq: next.seq + 1, prev });
  const match = await entryBy(friend, club.book, "match-reported", report());
  expect(await club.root.takeEntries([waits, match])).toMatchObject({ ok: true });
  const text = await recordOf(club.root, club.signers.root, "ada");
  expect(textsIn(text)).not.toContain(waits);
  // Nobody could check it without the admission.
  expect(textsIn(text)).not.toContain(match);
  expect(canonicalText((await verified(text)).cards)).toBe(canonicalText([club.root.state().cards.get(player("ada"))]));
});

test("RE3 an entry of another book is in no record, though something put it among the book's", async () => {
  const [club, other] = [await signedClub(), await signedClub(40)];
  const source = {
    ...club.root,
    entries: () => [...textsOf(club.root), ...textsOf(other.root)].map((jws) => ({ jws })),
  };
  for (const name of [null, player("ada")]) {
    const written = await writeRecordFile(source, club.signers.root, { player: name, at: AT });
    expect(written.ok && (await verified(written.value.text)).book).toBe(club.book);
  }
});

test("RE7 who is known only through somebody whom nobody knows is not known", async () => {
  const club = await signedClub();
  const [one, two] = [await signer(62), await signer(63)];
  const lost = await entryBy(one, club.book, "device-admitted", { device: two.key, role: "recorder" });
  const friend = await entryBy(two, club.book, "match-reported", report());
  const source = { ...club.root, entries: () => [...textsOf(club.root), lost, friend].map((jws) => ({ jws })) };
  const written = await writeRecordFile(source, club.signers.root, { player: null, at: AT });
  expect(written).toMatchObject({ ok: true, value: { leftOut: 2 } });
  if (written.ok) expect((await verified(written.value.text)).entries).toBe(textsOf(club.root).length);
});

test("RE7 keys are followed as far as need be: an entry that states a key is signed by somebody too", async () => {
  const club = await signedClub();
  const [one, two, three] = [await signer(64), await signer(65), await signer(66)];
  const elsewhere = three.id as never;
  // The recorder carries what `one` wrote in another book, `one` what `two` wrote there; `two` writes here about ada.
  const carrying = async (by: Signer, whose: Signer, next = {}) => {
    const entry = await entryBy(whose, elsewhere, "match-reported", report("x 7", "y 9"));
    return entryBy(by, club.book, "entry-carried", { from: elsewhere, key: whose.key, entry }, next);
  };
  const first = await carrying(club.signers.recorder, one, nextIn(club.root, club.signers.recorder.id));
  const second = await carrying(one, two);
  const about = await entryBy(two, club.book, "match-reported", report());
  expect(await club.root.takeEntries([first, second, about])).toMatchObject({ ok: true });
  const text = await recordOf(club.root, club.signers.root, "ada");
  expect(textsIn(text)).toEqual(expect.arrayContaining([first, second, about]));
  expect((await verified(text)).uncounted).toEqual([{ reason: "not-admitted", entries: 2 }]);
});

test("RE12 a signature with idle bits set is held, and written in the one way there is", async () => {
  const club = await signedClub();
  const jws = await entryBy(
    club.signers.recorder,
    club.book,
    "match-reported",
    report(),
    nextIn(club.root, club.signers.recorder.id),
  );
  const idle = jws.slice(0, -1) + ({ A: "B", Q: "R", g: "h", w: "x" } as Record<string, string>)[jws.at(-1) ?? ""];
  expect(await club.root.takeEntries([idle])).toMatchObject({ ok: true, value: { added: [idOf(jws)] } });
  expect(textsOf(club.root)).toContain(idle);
  const text = await recordOf(club.root, club.signers.root, null);
  expect(textsIn(text)).toContain(jws);
  expect((await verified(text)).uncounted).toEqual([]);
});

test("RE19 a player's record speaks of the player alone, though another program may put more into it", async () => {
  const club = await playedClub();
  const [, ...entries] = textsIn(await recordOf(club.root, club.signers.root, null));
  const digest = digestOf([...entries].map(idOf).sort().join("\n"));
  const manifest = { v: 1, book: club.book, player: player("ada"), entries: entries.length, digest, at: AT };
  const jws = await club.signers.root.sign({ typ: "sward-record" }, canonicalBytes(manifest));
  const text = [jws, ...entries].map((one) => `${JSON.stringify(one)}\n`).join("");
  expect((await verified(text)).cards.map((card) => card.player)).toEqual([player("ada")]);
});

test("RE19 the admission shown is the one that counts, in the role it gave, wherever it stands in the file", async () => {
  const club = await signedClub();
  const { handicapper, root } = club.signers;
  const device = await signer(67);
  const admit = (role: "reader" | "recorder") =>
    ({ kind: "device-admitted", body: { device: device.key, role } }) as const;
  await save(club.handicapper, admit("reader"));
  const [counts] = await save(club.handicapper, admit("recorder"));
  const last = { seq: nextIn(club.handicapper, handicapper.id).seq - 1, id: counts! };
  const [late] = await save(club.handicapper, admit("recorder"));
  const book = await openInMemory(club.book, root);
  await book.takeEntries(textsOf(club.handicapper));
  await save(book, { kind: "device-barred", body: { device: handicapper.id, last } });
  const joins = { player: player("dan"), standing: "visitor" };
  await book.takeEntries([await entryBy(device, club.book, "player-joined", joins)]);

  const [head = "", ...rows] = (await recordOf(book, root, null)).split("\n").slice(0, -1);
  for (const order of [rows, [...rows].reverse()]) {
    const lineOf = (id: string) => 2 + order.findIndex((row) => idOf(JSON.parse(row) as string) === id);
    const { signers } = await verified([head, ...order, ""].join("\n"));
    expect(lineOf(late!)).not.toBe(lineOf(counts!));
    expect(signers.find(({ key }) => key === device.id)?.known[0]).toEqual({
      key: device.id,
      role: "recorder",
      by: handicapper.id,
      line: lineOf(counts!),
    });
  }
});
