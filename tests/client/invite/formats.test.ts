/** What an invitation, an ask and an answer are made of, and that nothing else is taken for one. */
import { createSigner, systemRandom } from "@sward/client";
import type { BookId } from "@sward/core";
import { compactDecrypt, compactVerify, decodeProtectedHeader, importJWK } from "jose";
import { expect, test } from "vitest";
import {
  openWelcome,
  passOfWelcome,
  readAnswer,
  refusedAnswer,
  welcomeAnswer,
} from "../../../packages/client/src/invite/answer.ts";
import { newAsk, readAsk } from "../../../packages/client/src/invite/ask.ts";
import { decodeBase45, encodeBase45 } from "../../../packages/client/src/invite/base45.ts";
import { standingOf } from "../../../packages/client/src/invite/guest.ts";
import {
  decodeInvitation,
  encodeInvitation,
  keysKept,
  keysOf,
  linkOf,
  newInvitation,
} from "../../../packages/client/src/invite/invitation.ts";
import {
  codesOfParcel,
  collectCodes,
  openParcel,
  parcelOfText,
  sealParcel,
  textOfParcel,
} from "../../../packages/client/src/invite/parcels.ts";
import { shortCode } from "../../../packages/client/src/invite/short-code.ts";

const host = await createSigner(systemRandom(32));
const terms = { relay: "https://relay.example", club: "Larkfield", from: host.key, until: 2_000_000_000 };
const { invitation, keys } = await newInvitation(terms, "", systemRandom);
const own = await newAsk(keys.id, "Bo's phone", systemRandom);
const secret = Buffer.alloc(32, 5).toString("base64url");
const contents = {
  role: "recorder" as const,
  club: { book: host.id as string as BookId, epochs: [{ epoch: 0, secret }] },
  leagues: [],
};

test("an invitation comes back from its link, its fragment and its bare text, and its keys from it alone", async () => {
  const link = linkOf(invitation);
  expect(link.startsWith("https://relay.example/#invite=")).toBe(true);
  for (const given of [link, ` ${link}\n`, link.slice(link.indexOf("#")), encodeInvitation(invitation)]) {
    expect(decodeInvitation(given)).toEqual({ ok: true, value: invitation });
  }
  const again = await keysOf(invitation, "");
  expect(again.ok && [again.value.id, again.value.room.key]).toEqual([keys.id, keys.room.key]);
  const parcel = await sealParcel(keys, "hello", systemRandom);
  expect(again.ok && (await openParcel(again.value, parcel))).toEqual({ ok: true, value: "hello" });
  const other = await newInvitation(terms, "", systemRandom);
  expect(await openParcel(other.keys, parcel)).toMatchObject({ fault: { type: "parcel-of-another-invitation" } });
  expect(other.keys.room.key).not.toBe(keys.room.key);
});

test("a passphrase is asked for, a wrong one said, and a right one opens whatever way it is written", async () => {
  const locked = await newInvitation(terms, " Café lawn ", systemRandom);
  expect(await keysOf(locked.invitation, "  ")).toEqual({ ok: false, fault: { type: "passphrase-needed" } });
  expect(await keysOf(locked.invitation, "cafe lawn")).toEqual({ ok: false, fault: { type: "passphrase-wrong" } });
  // The accent as a letter of its own, as some keyboards write it.
  const right = await keysOf(locked.invitation, "Cafe\u0301 lawn");
  const parcel = await sealParcel(locked.keys, "hello", systemRandom);
  expect(right.ok && (await openParcel(right.value, parcel))).toEqual({ ok: true, value: "hello" });
  const withoutIt = await keysOf({ ...locked.invitation, check: undefined } as never, "");
  expect(withoutIt.ok && (await openParcel(withoutIt.value, parcel))).toMatchObject({ ok: false });
  const kept = await keysKept(locked.invitation, locked.keys.seal);
  expect([kept.id, kept.room.key]).toEqual([locked.keys.id, locked.keys.room.key]);
  expect(await openParcel(kept, parcel)).toEqual({ ok: true, value: "hello" });
});

test("a later version says so; a relay that is no origin is not taken", () => {
  const encode = (json: unknown) => Buffer.from(JSON.stringify(json)).toString("base64url");
  expect(decodeInvitation(encode({ ...invitation, v: 2 }))).toMatchObject({ fault: { type: "made-by-newer" } });
  for (const relay of ["javascript:alert(1)", "https://relay.example/path", "relay.example", "ftp://relay.example"]) {
    expect(decodeInvitation(encode({ ...invitation, relay }))).toMatchObject({ fault: { type: "not-an-invitation" } });
  }
});

test("an ask is signed by the key it names, and by this invitation only", async () => {
  const { ask } = own;
  expect(await readAsk(ask.text, keys.id)).toEqual({ ok: true, value: ask });
  expect((await createSigner(own.seed)).key).toBe(ask.key);
  const verified = await compactVerify(ask.text, await importJWK({ kty: "OKP", crv: "Ed25519", x: ask.key }, "EdDSA"));
  expect(verified.protectedHeader).toEqual({ alg: "EdDSA", kid: ask.device, typ: "sward-ask" });
  expect(await readAsk(ask.text, host.id)).toMatchObject({ fault: { type: "parcel-of-another-invitation" } });
  const [header, , signature] = ask.text.split(".");
  const swapped = { ...JSON.parse(Buffer.from(ask.text.split(".")[1] ?? "", "base64url").toString()), label: "Eve" };
  const forged = [header, Buffer.from(JSON.stringify(swapped)).toString("base64url"), signature].join(".");
  expect(await readAsk(forged, keys.id)).toMatchObject({ fault: { type: "parcel-broken" } });
});

test("a welcome opens for the device that asked and nobody else, and any JOSE library reads it", async () => {
  const text = await welcomeAnswer(host, own.ask, contents, null);
  const answer = await readAnswer(text, invitation, keys.id);
  if (!answer.ok) throw new Error(answer.fault.type);
  const opened = await openWelcome(answer.value, own);
  expect(opened).toEqual({ ok: true, value: { v: 1, ...contents } });
  const pass = opened.ok && passOfWelcome(opened.value, own, "Larkfield");
  expect(pass).toMatchObject({ label: "Bo's phone, Larkfield", club: contents.club, leagues: [] });

  const box = answer.value.box ?? "";
  expect(decodeProtectedHeader(box)).toMatchObject({ alg: "ECDH-ES", enc: "A256GCM", epk: { crv: "X25519" } });
  const { plaintext } = await compactDecrypt(box, { ...own.box });
  expect(JSON.parse(Buffer.from(plaintext).toString())).toMatchObject({ role: "recorder" });
  expect(text).not.toContain(secret);

  const stranger = await newAsk(keys.id, "another", systemRandom);
  expect(await openWelcome(answer.value, stranger)).toMatchObject({ fault: { type: "answer-for-another" } });
  const turned = { ...answer.value, ask: stranger.ask.id };
  expect(await openWelcome(turned, stranger)).toMatchObject({ fault: { type: "parcel-broken" } });
});

test("only the device that invited answers, and a welcome to another ask means the invitation is used", async () => {
  const mallory = await createSigner(systemRandom(32));
  const false_ = await welcomeAnswer(mallory, own.ask, contents, null);
  expect(await readAnswer(false_, invitation, keys.id)).toMatchObject({ fault: { type: "parcel-broken" } });
  expect(await standingOf([false_, own.ask.text, "nonsense"], invitation, own)).toEqual({ type: "waiting" });
  const stranger = await newAsk(keys.id, "another", systemRandom);
  const theirs = await welcomeAnswer(host, stranger.ask, contents, null);
  expect(await standingOf([theirs], invitation, own)).toEqual({ type: "over", why: "used" });
  const no = await refusedAnswer(host, own.ask);
  expect(await standingOf([no], invitation, own)).toEqual({ type: "refused" });
  expect(await standingOf([no], invitation, stranger)).toEqual({ type: "waiting" });
  const yes = await welcomeAnswer(host, own.ask, contents, null);
  expect(await standingOf([theirs, yes], invitation, own)).toMatchObject({ type: "welcome" });
});

test("the code is the same on both sides, and another when any key, nonce or the invitation is", async () => {
  const code = await shortCode(invitation, own.ask);
  expect(code).toMatch(/^\d{4} \d{4} \d{4} \d{4}$/);
  const read = await readAsk(own.ask.text, keys.id);
  expect(read.ok && (await shortCode(invitation, read.value))).toBe(code);
  const stranger = await newAsk(keys.id, "Bo's phone", systemRandom);
  for (const part of ["key", "box", "nonce", "invitation"] as const) {
    const changed = { ...own.ask, [part]: part === "invitation" ? host.id : stranger.ask[part] };
    expect(await shortCode(invitation, changed)).not.toBe(code);
  }
  expect(await shortCode({ from: own.ask.key }, own.ask)).not.toBe(code);
});

test("base 45 as the examples of RFC 9285, section 4.3 and 4.4 (https://www.rfc-editor.org/rfc/rfc9285), from memory", () => {
  for (const [plain, coded] of [
    ["AB", "BB8"],
    ["Hello!!", "%69 VD92EX0"],
    ["base-45", "UJCLQE7W581"],
    ["ietf!", "QED8WEX0"],
  ] as const) {
    expect(encodeBase45(new TextEncoder().encode(plain))).toBe(coded);
    expect(new TextDecoder().decode(decodeBase45(coded) ?? new Uint8Array())).toBe(plain);
  }
  // "FGW" is 65,535; one more, and what is no digit at all, are refused.
  expect(decodeBase45("FGW")).toEqual(Uint8Array.of(255, 255));
  for (const wrong of ["GGW", "A", ":::", "é00", "aa0"]) expect(decodeBase45(wrong)).toBeNull();
});

test("a parcel goes as text and as codes in any order, twice, and with another one begun in between", async () => {
  const parcel = await sealParcel(keys, own.ask.text.repeat(2), systemRandom);
  const text = textOfParcel(parcel);
  expect(parcelOfText(` ${text.slice(0, 40)}\r\n${text.slice(40)} `)).toEqual({ ok: true, value: parcel });
  expect(parcelOfText(text.replace("parcel-1", "parcel-2"))).toMatchObject({ fault: { type: "made-by-newer" } });
  const codes = (await codesOfParcel(parcel)) ?? [];
  expect(codes.length).toBeGreaterThan(2);
  for (const code of codes) expect(code).toMatch(/^[0-9A-Z $%*+\-./:]+$/);
  const collector = collectCodes();
  const others = (await codesOfParcel(await sealParcel(keys, own.ask.text, systemRandom))) ?? [];
  await collector.take(others[0] ?? "");
  expect(await collector.take("https://relay.example")).toBeNull();
  for (const code of codes.slice(1).reverse()) expect(await collector.take(code)).toMatchObject({ parcel: null });
  await collector.take(codes[1] ?? "");
  expect(await collector.take(codes[0] ?? "")).toEqual({ have: codes.length, of: codes.length, parcel });
});

test("codes that do not belong together are not put together", async () => {
  const parcel = await sealParcel(keys, "x".repeat(900), systemRandom);
  const codes = (await codesOfParcel(parcel)) ?? [];
  const collector = collectCodes();
  const wrong = (codes[0] ?? "").replace(/.$/, (last) => (last === "0" ? "1" : "0"));
  for (const code of [wrong, ...codes.slice(1)]) {
    expect(await collector.take(code)).not.toMatchObject({ parcel: expect.anything() });
  }
});
