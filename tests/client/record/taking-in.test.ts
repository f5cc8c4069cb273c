/** A player's record taken into another club's book, with real keys, files and signatures. */
import type { Book, VerifiedRecord } from "@sward/client";
import { takeRecord, verifyRecordFile, writeRecordFile } from "@sward/client";
import type { Draft } from "@sward/core";
import { canonicalText } from "@sward/core";
import fc from "fast-check";
import { expect, test } from "vitest";
import { suggestedCutover } from "../../../packages/client/src/record/taking.ts";
import { played, player } from "../../support/cast.ts";
import { stateText } from "../../support/state-text.ts";
import { newClub } from "./new-club.ts";
import { AT, meet, openInMemory, playedClub, save, signer, textsOf } from "./signed-club.ts";

const ada = player("ada");
const SEED = 20_261_130;

async function verified(text: string): Promise<VerifiedRecord> {
  const read = await verifyRecordFile(text);
  if (!read.ok) throw new Error(JSON.stringify(read.fault));
  return read.value;
}

async function taken(book: Book, text: string, wish = {}) {
  const done = await takeRecord(book, await verified(text), wish);
  if (!done.ok) throw new Error(JSON.stringify(done.fault));
  return done.value;
}

const cardIn = (book: Book): string => canonicalText(book.state().cards.get(ada));

test("MV1 MV2 MV5 the card is the same at the new club, on every device, and after a restart", async () => {
  const [larkhill, millbrook] = [await playedClub(), await newClub(40)];
  const record = await larkhill.record("ada");
  const told = await taken(millbrook.handicapper, record);
  expect(told).toMatchObject({ player: ada, cutover: "2026-06-15", known: 0, same: true });
  expect(told.card?.lines.length).toBeGreaterThan(3);
  const there = canonicalText(larkhill.root.state().cards.get(ada));
  expect(cardIn(millbrook.handicapper)).toBe(there);
  await millbrook.meet();
  expect(cardIn(millbrook.root)).toBe(there);
  // Read from nothing, as after a restart.
  const again = await openInMemory(millbrook.book, millbrook.signers.root);
  await meet(again, millbrook.handicapper);
  expect(cardIn(again)).toBe(there);
  expect([...again.state().uncounted]).toEqual([]);
});

test("MV4 the same file again writes nothing; from another device of the club it uses the parts that are there", async () => {
  const [larkhill, millbrook] = [await playedClub(), await newClub(40)];
  const record = await larkhill.record("ada");
  const first = await taken(millbrook.handicapper, record);
  const before = stateText(millbrook.handicapper.state());
  const again = await taken(millbrook.handicapper, record);
  expect(again).toMatchObject({ entries: null, added: 0, known: first.added, same: true });
  expect(stateText(millbrook.handicapper.state())).toBe(before);
  await millbrook.meet();
  expect(await taken(millbrook.root, record)).toMatchObject({ entries: null, added: 0 });

  // A newer record brings what came late, and only that.
  await larkhill.plays("2026-05-02", "ada", "ben", "7-1");
  const newer = await taken(millbrook.root, await larkhill.record("ada"));
  expect(newer).toMatchObject({ added: 1, known: first.added, same: true, cutover: "2026-06-15" });
  expect(canonicalText(newer.card)).toBe(canonicalText(larkhill.root.state().cards.get(ada)));
});

test("MV4 stopped between the two savings, the next attempt uses the parts that are there", async () => {
  const [larkhill, millbrook] = [await playedClub(), await newClub(40)];
  const record = await verified(await larkhill.record("ada"));
  let savings = 0;
  const stopped = await takeRecord(
    {
      ...millbrook.handicapper,
      append: (drafts) =>
        savings++ === 0
          ? millbrook.handicapper.append(drafts)
          : Promise.resolve({ ok: false, fault: { type: "not-saved", cause: "the disk is full" } }),
    },
    record,
  );
  expect(stopped).toMatchObject({ ok: false, fault: { type: "not-saved" } });
  expect(millbrook.handicapper.state().cards.size).toBe(0);
  const done = await takeRecord(millbrook.handicapper, record);
  expect(done).toMatchObject({ ok: true, value: { added: 0, same: true } });
  expect(cardIn(millbrook.handicapper)).toBe(canonicalText(larkhill.root.state().cards.get(ada)));
});

test("MV2 the player alone brings the record, signed on a device of his own that may only read", async () => {
  const [larkhill, millbrook] = [await playedClub(), await newClub(40)];
  const written = await writeRecordFile(larkhill.reader, larkhill.signers.reader, { player: ada, at: AT });
  if (!written.ok) throw new Error(written.fault.type);
  const told = await taken(millbrook.handicapper, written.value.text);
  expect(told.same).toBe(true);
  const [record] = millbrook.handicapper.state().records.get(ada)!;
  expect(record).toMatchObject({ name: "Larkhill", inUse: true, beyond: [] });
  expect(record!.takings).toMatchObject([{ vouchedBy: larkhill.signers.reader.id, standing: "confirmed" }]);
});

test("MV7 what the old club has from the cut-over on comes as slips; the day is the one the player left", async () => {
  const [larkhill, millbrook] = [await playedClub(), await newClub(40)];
  await save(larkhill.handicapper, {
    kind: "player-left",
    body: { player: ada, on: "2026-05-03", to: millbrook.book },
  });
  const record = await larkhill.record("ada");
  expect(suggestedCutover(await verified(record))).toBe("2026-05-04");
  await larkhill.plays("2026-05-05", "ada", "cat", "7-6");
  const told = await taken(millbrook.handicapper, await larkhill.record("ada"));
  expect(told).toMatchObject({ cutover: "2026-05-04", same: true });
  expect(told.card?.lines.at(-1)).toMatchObject({ date: "2026-05-05", score: [7, 6] });
  const [match] = millbrook.handicapper.state().matches.values();
  expect(match?.reports).toMatchObject([{ origin: larkhill.book, by: larkhill.signers.recorder.id }]);
});

test("MV13 RE4 RE10 moved twice, by files: the second club's record has the first's in it", async () => {
  const [larkhill, millbrook] = [await playedClub(), await newClub(40)];
  const coldbrook = await newClub(50, "Coldbrook");
  await taken(millbrook.handicapper, await larkhill.record("ada"), { cutover: "2026-05-04" });
  await save(millbrook.handicapper, { kind: "player-joined", body: { player: player("dan"), standing: "visitor" } });
  const body = played("2026-05-06", "ada 6", "dan 9", "7-3");
  await save(millbrook.handicapper, { kind: "match-reported", body });
  await save(millbrook.handicapper, { kind: "player-joined", body: { player: player("gus"), standing: "member" } });
  const written = await writeRecordFile(millbrook.handicapper, millbrook.signers.handicapper, { player: ada, at: AT });
  if (!written.ok) throw new Error(written.fault.type);
  const told = await taken(coldbrook.handicapper, written.value.text);
  expect(told.same).toBe(true);
  expect(cardIn(coldbrook.handicapper)).toBe(cardIn(millbrook.handicapper));
  expect(told.card?.lines.length).toBeGreaterThan(3);
  // And nobody else of the second club.
  expect(Buffer.from(textsOf(coldbrook.handicapper).join("")).toString()).not.toContain(player("gus"));
});

test("MV2 refused and nothing changed: another player, an own record, a whole book, a league's, nobody", async () => {
  const [larkhill, millbrook] = [await playedClub(), await newClub(40)];
  const here = millbrook.handicapper;
  await save(here, {
    kind: "player-joined",
    body: { player: player("vera"), standing: "visitor", home: { book: larkhill.book } },
  });
  await save(here, { kind: "player-joined", body: { player: player("mona"), standing: "member" } });
  await save(here, {
    kind: "player-joined",
    body: { player: ada, standing: "visitor", home: { book: larkhill.book } },
  });
  const ring = await signer(60);
  const league = await openInMemory(ring.id as string as typeof larkhill.book, ring);
  await save(league, { kind: "book-opened", body: { root: ring.key, as: "league", name: "Border League" } });
  await save(league, { kind: "player-joined", body: { player: ada, standing: "visitor" } });
  const ofLeague = await writeRecordFile(league, ring, { player: ada, at: AT });
  if (!ofLeague.ok) throw new Error(ofLeague.fault.type);
  const before = stateText(here.state());
  const record = await larkhill.record("ada");
  const cases = [
    [await verified(record), { as: player("mona") }, "taking-other-player"],
    [await verified(record), { as: player("stranger") }, "taking-nobody"],
    [await verified(await larkhill.record(null)), {}, "taking-whole-book"],
    [await verified(ofLeague.value.text), {}, "taking-of-league"],
  ] as const;
  for (const [file, wish, type] of cases)
    expect(await takeRecord(here, file, wish)).toMatchObject({ ok: false, fault: { type } });
  expect(await takeRecord(larkhill.handicapper, await verified(record))).toMatchObject({
    fault: { type: "taking-own-book" },
  });
  expect(await takeRecord(league, await verified(record))).toMatchObject({ fault: { type: "taking-into-league" } });
  expect(await takeRecord(larkhill.reader, await verified(ofLeague.value.text))).toMatchObject({ ok: false });
  expect(stateText(here.state())).toBe(before);
  // The visitor who is she is joined to her, and has her card.
  const told = await taken(here, record, { as: player("vera") });
  expect(told.same).toBe(true);
  expect(here.state().players.get(ada)).toMatchObject({ standing: "member", home: { book: millbrook.book } });
});

test("MV2 who has games on a card of this club's is not joined to a record from elsewhere; one without games is", async () => {
  const [larkhill, millbrook] = [await playedClub(), await newClub(40)];
  const here = millbrook.handicapper;
  const record = await verified(await larkhill.record("ada"));
  const first = { handicap: 9, from: "2026-01-01", basis: "initial", reason: "first handicap" } as const;
  for (const name of ["nora", "mona"]) {
    await save(here, { kind: "player-joined", body: { player: player(name), standing: "member" } });
    await save(here, { kind: "handicap-set", body: { player: player(name), ...first } });
  }
  await save(here, { kind: "player-joined", body: { player: player("guest"), standing: "visitor" } });
  await save(here, { kind: "match-reported", body: played("2026-05-01", "nora 9", "guest 9", "7-4") });
  const refused = await takeRecord(here, record, { as: player("nora") });
  expect(refused).toMatchObject({ fault: { type: "taking-other-player", why: { type: "link-two-homes" } } });
  const joined = await takeRecord(here, record, { as: player("mona") });
  expect(joined).toMatchObject({ ok: true, value: { same: true } });
});

test(`MV2 RE18 an altered file is refused with its line, wherever it was altered (seed ${SEED})`, async () => {
  const larkhill = await playedClub();
  const record = await larkhill.record("ada");
  const lines = record.trimEnd().split("\n").length;
  await fc.assert(
    fc.asyncProperty(fc.nat(lines - 1), fc.nat(400), async (row, at) => {
      const rows = record.split("\n");
      const line = rows[row]!;
      const place = 1 + (at % (line.length - 2));
      rows[row] = `${line.slice(0, place)}${line[place] === "A" ? "B" : "A"}${line.slice(place + 1)}`;
      const read = await verifyRecordFile(rows.join("\n"));
      expect(read.ok).toBe(false);
      // An altered key is found at the first line that it was to check.
      if (!read.ok) expect(read.fault.line).toBeGreaterThan(0);
    }),
    { seed: SEED, numRuns: 60 },
  );
});

test("MV1 MV2 an officer who alters what he takes in, or whose manifest was not signed so, counts for nothing", async () => {
  const [larkhill, millbrook] = [await playedClub(), await newClub(40)];
  const { texts, manifest, report } = await verified(await larkhill.record("ada"));
  const here = millbrook.handicapper;
  const forged = (jws: string): string => `${jws.slice(0, -4)}${jws.at(-4) === "A" ? "B" : "A"}${jws.slice(-3)}`;
  const keys = Object.values(larkhill.signers).map(({ key }) => key);
  const part = (entries: readonly string[]): Draft => ({
    kind: "record-part",
    body: { from: larkhill.book, keys, entries: [...entries] },
  });
  const [good, bad] = await save(here, part(texts.slice(0, 4)), part([forged(texts[0]!), ...texts.slice(1, 4)]));
  const { uncounted } = here.state();
  expect([good!, bad!].map((id) => uncounted.get(id))).toEqual([undefined, "carried-copy-invalid"]);
  const body = { player: ada, from: larkhill.book, cutover: "2026-06-01", parts: [good!] };
  const told = { entries: report.entries, digest: report.digest, key: larkhill.signers.handicapper.key, manifest };
  const takings = [
    { ...body, ...told },
    { ...body, ...told, manifest: forged(manifest) },
    { ...body, ...told, entries: 4 },
    { ...body, ...told, player: player("ben") },
    { ...body, ...told, key: larkhill.signers.root.key },
  ];
  const ids = await save(here, ...takings.map((one) => ({ kind: "record-taken", body: one }) as const));
  expect(ids.map((id) => here.state().uncounted.get(id))).toEqual([
    undefined,
    ...Array(4).fill("carried-copy-invalid"),
  ]);
});
