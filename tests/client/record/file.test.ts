import { createHash } from "node:crypto";
import { verifyRecordFile, writeRecordFile } from "@sward/client";
import type { PlayerId } from "@sward/core";
import { canonicalText } from "@sward/core";
import { calculateJwkThumbprint, compactVerify, decodeProtectedHeader, importJWK } from "jose";
import { expect, test } from "vitest";
import { player } from "../../support/cast.ts";
import { AT, meet, nextIn, openInMemory, playedClub, save, signedClub, signer, textsOf } from "./signed-club.ts";

const linesOf = (text: string): string[] =>
  text
    .split("\n")
    .slice(0, -1)
    .map((line) => JSON.parse(line) as string);

const payloadOf = (jws: string) => JSON.parse(Buffer.from(jws.split(".")[1]!, "base64url").toString("utf8"));

/** SHA-256 of what was signed, as RFC 7515 says what is signed. */
const idOf = (jws: string): string =>
  createHash("sha256").update(jws.split(".").slice(0, 2).join("."), "ascii").digest("base64url");

/**
 * A record read as a stranger would who has this paragraph, a JSON parser and a JOSE library (RFC 7515, RFC 7638, RFC 8037,
 * https://www.rfc-editor.org/rfc/rfc7515) and none of our code: keys are those that admissions state, up to the opening whose
 * key's thumbprint is the name of the book.
 */
async function readByStranger(text: string) {
  expect(text.endsWith('"\n')).toBe(true);
  const [manifest = "", ...entries] = linesOf(text);
  const keys = new Map<string, string>();
  const learn = async (x: string) => keys.set(await calculateJwkThumbprint({ kty: "OKP", crv: "Ed25519", x }), x);
  const openings = entries.map(payloadOf).filter(({ kind }) => kind === "book-opened");
  expect(openings).toHaveLength(1);
  await learn(openings[0].body.root);
  expect([...keys.keys()]).toEqual([openings[0].book]);
  for (const { kind, body } of entries.map(payloadOf)) if (kind === "device-admitted") await learn(body.device);

  const verified = [];
  for (const jws of [manifest, ...entries]) {
    const { kid } = decodeProtectedHeader(jws);
    const key = await importJWK({ kty: "OKP", crv: "Ed25519", x: keys.get(kid!)! }, "EdDSA");
    verified.push(await compactVerify(jws, key));
  }
  const [head, ...bodies] = verified.map(({ payload }) => JSON.parse(new TextDecoder().decode(payload)));
  const digest = createHash("sha256").update(entries.map(idOf).sort().join("\n"), "ascii").digest("base64url");
  return { head, headers: verified.map(({ protectedHeader }) => protectedHeader), bodies, digest };
}

test("RE1 RE2 RE11 a book's record is read and verified with a JSON parser and a JOSE library alone", async () => {
  const club = await playedClub();
  const { head, headers, bodies, digest } = await readByStranger(await club.record(null));
  expect(head).toEqual({ v: 1, book: club.book, player: null, entries: bodies.length, digest, at: AT });
  expect(headers[0]).toEqual({ alg: "EdDSA", kid: club.signers.handicapper.id, typ: "sward-record" });
  expect(new Set(headers.slice(1).map(({ typ }) => typ))).toEqual(new Set(["sward-entry"]));
  expect(bodies).toHaveLength([...club.root.entries()].length);
  expect(digest).toBe(club.root.digest());
});

test("RE1 RE2 RE11 so is a player's, signed by whichever device wrote it", async () => {
  const club = await playedClub();
  for (const by of ["root", "recorder", "reader"] as const) {
    const text = await club.record("ada", club.signers[by], club[by]);
    const { head, headers, bodies, digest } = await readByStranger(text);
    expect(head).toEqual({ v: 1, book: club.book, player: player("ada"), entries: bodies.length, digest, at: AT });
    expect(headers[0]!.kid).toBe(club.signers[by].id);
    expect(bodies.length).toBeLessThan([...club.root.entries()].length);
  }
});

test("RE2 the manifest is RFC 8785 JSON under a header with one encoding", async () => {
  const club = await signedClub();
  const [manifest = ""] = linesOf(await club.record(null));
  const [header = "", body = ""] = manifest.split(".").map((part) => Buffer.from(part, "base64url").toString("utf8"));
  expect(header).toBe(`{"alg":"EdDSA","kid":"${club.signers.handicapper.id}","typ":"sward-record"}`);
  const digest = club.root.digest();
  expect(body).toBe(`{"at":"${AT}","book":"${club.book}","digest":"${digest}","entries":11,"player":null,"v":1}`);
});

test("RE3 a book's record has every entry held, also those that do not count and those of a later version", async () => {
  const club = await playedClub();
  const stranger = await signer(77);
  const unadmitted = await stranger.signEntry({
    v: 1,
    book: club.book,
    seq: 0,
    prev: null,
    at: AT,
    kind: "player-joined",
    body: { player: player("dan"), standing: "member" },
  });
  const admission = { device: stranger.key, role: "recorder" as const };
  const next = nextIn(club.handicapper, club.signers.recorder.id);
  const mayNot = await club.signers.recorder.signEntry({
    v: 1,
    book: club.book,
    ...next,
    at: AT,
    kind: "device-admitted",
    body: admission,
  });
  const later = await club.signers.recorder.signEntry({
    v: 7,
    book: club.book,
    seq: next.seq + 1,
    prev: idOf(mayNot) as never,
    at: AT,
    kind: "prize-given",
    body: {},
  });
  expect(await club.handicapper.takeEntries([unadmitted, mayNot, later])).toMatchObject({ ok: true });

  const text = await club.record(null);
  expect(new Set(linesOf(text).slice(1))).toEqual(new Set(textsOf(club.handicapper)));
  const verified = await verifyRecordFile(text);
  expect(verified).toMatchObject({
    ok: true,
    value: {
      report: {
        uncounted: [
          { reason: "not-admitted", entries: 1 },
          { reason: "not-understood", entries: 1 },
          { reason: "role-may-not", entries: 1 },
        ],
      },
    },
  });
});

test("RE7 what nobody could check is not written: an entry whose signer's key nothing else in the book states", async () => {
  const club = await signedClub();
  const stranger = await signer(78);
  const body = { player: player("dan"), standing: "member" };
  const lost = await stranger.signEntry({
    v: 1,
    book: club.book,
    seq: 0,
    prev: null,
    at: AT,
    kind: "player-joined",
    body,
  });
  const source = {
    id: club.book,
    state: () => club.root.state(),
    entries: () => [...textsOf(club.root), lost].map((jws) => ({ jws })),
  };
  const written = await writeRecordFile(source, club.signers.root, { player: null, at: AT });
  expect(written).toMatchObject({ ok: true, value: { leftOut: 1 } });
  if (written.ok) expect(await verifyRecordFile(written.value.text)).toMatchObject({ ok: true });
});

test("RE7 a player's record has the entries that state its signers' keys, though they say nothing of the player", async () => {
  const north = await signedClub(20);
  const south = await signedClub(30);
  // Somebody of another club, known here only by what was carried, writes about ada.
  const guest = south.signers.recorder;
  const foreign = await guest.signEntry({
    v: 1,
    book: south.book,
    seq: 0,
    prev: null,
    at: AT,
    kind: "match-reported",
    body: matchOf("ben", "cat"),
  });
  await save(north.recorder, { kind: "entry-carried", body: { from: south.book, key: guest.key, entry: foreign } });
  const own = await guest.signEntry({
    v: 1,
    book: north.book,
    seq: 0,
    prev: null,
    at: AT,
    kind: "match-reported",
    body: matchOf("ada", "ben"),
  });
  expect(await north.recorder.takeEntries([own])).toMatchObject({ ok: true });
  await meet(north.recorder, north.handicapper);
  const text = await north.record("ada");
  expect(linesOf(text)).toContain(own);
  expect(await verifyRecordFile(text)).toMatchObject({ ok: true });
});

const matchOf = (one: string, two: string) => ({
  date: "2026-05-01",
  occasion: "club-competition",
  n: 1,
  play: "handicap",
  format: 13,
  sides: [[{ player: player(one), off: 7 }], [{ player: player(two), off: 9 }]],
  games: [{ score: [7, 4] }],
});

test("RE8 the same entries give the same lines in the same order, whoever holds them: opening, devices, rules, then each author", async () => {
  const club = await playedClub();
  const [one, two] = [await club.record(null), await club.record(null, club.signers.reader, club.reader)];
  expect(linesOf(one).slice(1)).toEqual(linesOf(two).slice(1));
  const entries = linesOf(one)
    .slice(1)
    .map((jws) => ({ ...payloadOf(jws), kid: decodeProtectedHeader(jws).kid! }));
  const rank = (kind: string) => ["book-opened", "device-admitted", "rules-adopted"].indexOf(kind);
  const head = entries.slice(0, 5).map(({ kind }) => rank(kind));
  expect(head).toEqual([0, 1, 1, 1, 2]);
  const rest = entries.slice(5).map(({ kid, seq }) => `${kid} ${String(seq).padStart(9, "0")}`);
  expect(rest).toEqual([...rest].sort());
  expect(entries.slice(5).every(({ kind }) => rank(kind) === -1)).toBe(true);
});

test("RE8 a record whose lines stand in another order is as good", async () => {
  const club = await playedClub();
  const [manifest, ...rest] = (await club.record(null)).split("\n").slice(0, -1);
  const turned = await verifyRecordFile([manifest, ...rest.reverse(), ""].join("\n"));
  expect(turned).toMatchObject({ ok: true });
});

test("RE10 the card in a signed player's record is byte for byte that of the book, and it has no other card", async () => {
  const club = await playedClub();
  for (const [name] of [["ada"], ["ben"], ["cat"]] as const) {
    const verified = await verifyRecordFile(await club.record(name));
    expect(verified.ok && canonicalText(verified.value.report.cards)).toBe(
      canonicalText([club.root.state().cards.get(player(name))]),
    );
  }
});

test("RE4 a record is asked for by any of the player's ids, and names the person", async () => {
  const club = await signedClub();
  await save(
    club.handicapper,
    { kind: "player-joined", body: { player: player("guest"), standing: "visitor" } },
    { kind: "player-linked", body: { player: player("guest"), to: player("ada") } },
  );
  const verified = await verifyRecordFile(await club.record("guest"));
  expect(verified).toMatchObject({
    ok: true,
    value: { report: { player: player("ada"), cards: [{ player: player("ada") }] } },
  });
});

test("RE21 no record of a player nobody knows, of a book not opened yet, or by a device no entry names", async () => {
  const club = await signedClub();
  const wish = { player: null, at: AT };
  const nobody = player("nobody") as PlayerId;
  expect(await writeRecordFile(club.root, club.signers.root, { player: nobody, at: AT })).toEqual({
    ok: false,
    fault: { type: "export-unknown-player", player: nobody },
  });
  const stranger = await signer(79);
  for (const player_ of [null, player("ada")]) {
    expect(await writeRecordFile(club.root, stranger, { player: player_, at: AT })).toEqual({
      ok: false,
      fault: { type: "export-device-unknown", device: stranger.id },
    });
  }
  const empty = await openInMemory(club.book, club.signers.reader);
  expect(await writeRecordFile(empty, club.signers.reader, wish)).toEqual({
    ok: false,
    fault: { type: "export-no-opening", book: club.book },
  });
});
