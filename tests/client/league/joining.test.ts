/** A club's ask to come into a league, and the league's answer: what is read, and what is not taken. */
import type { PublicKey } from "@sward/core";
import { keyIdOf } from "@sward/core";
import { base64url } from "jose";
import { expect, test } from "vitest";
import type { LeagueWelcome } from "../../../packages/client/src/league/joining.ts";
import {
  leagueAnswer,
  leagueAskCode,
  messageOfParcel,
  newLeagueAsk,
  openLeagueAnswer,
  parcelOfMessage,
  readLeagueAsk,
} from "../../../packages/client/src/league/joining.ts";
import { signer } from "../record/signed-club.ts";

let drawn = 0;
const randomBytes = (count: number): Uint8Array => {
  drawn += 1;
  return new Uint8Array(count).fill(drawn);
};
const [club, device, secretary] = [await signer(80), await signer(81), await signer(82)];
const asking = { club: club.key, name: "Heronsgate", label: "Heronsgate tablet" };
const welcome: LeagueWelcome = {
  league: { book: secretary.id as never, epochs: [{ epoch: 0, secret: base64url.encode(new Uint8Array(32)) }] },
  name: "Osier League",
  admitted: false,
  record: { entries: ["a.b.c"], names: new Map([["someone", new Uint8Array([1, 2, 3])]]) },
};

/** The text with one letter of its payload changed, signature and all else kept. */
function altered(jws: string): string {
  const [header = "", payload = "", signature = ""] = jws.split(".");
  const json = JSON.parse(new TextDecoder().decode(base64url.decode(payload))) as Record<string, unknown>;
  const key = "name" in json ? "name" : "ask";
  const other = base64url.encode(JSON.stringify({ ...json, [key]: "x".repeat(43) }));
  return [header, other, signature].join(".");
}

test("an ask is read with whose it is, and its digits depend on the club's key and on the device's", async () => {
  const { ask } = await newLeagueAsk(device, asking, randomBytes);
  const read = await readLeagueAsk(messageOfParcel(parcelOfMessage(ask.text)));
  expect(read).toEqual({ ok: true, value: ask });
  expect([ask.clubId, ask.device]).toEqual([keyIdOf(club.key), device.id]);
  const code = await leagueAskCode(ask);
  expect(code).toMatch(/^(\d{4} ){3}\d{4}$/);
  expect(await leagueAskCode({ ...ask, club: secretary.key as PublicKey })).not.toBe(code);
  expect(await leagueAskCode({ ...ask, box: (await newLeagueAsk(device, asking, randomBytes)).ask.box })).not.toBe(
    code,
  );
});

test("an answer is opened by the device that asked, with the record that came along, and by no other", async () => {
  const own = await newLeagueAsk(device, asking, randomBytes);
  const answer = await leagueAnswer(secretary, own.ask, welcome);
  expect(await openLeagueAnswer(answer, own)).toEqual({ ok: true, value: welcome });
  const short = await leagueAnswer(secretary, own.ask, { ...welcome, admitted: true, record: null });
  expect(await openLeagueAnswer(short, own)).toMatchObject({ ok: true, value: { admitted: true, record: null } });
  const other = await newLeagueAsk(device, asking, randomBytes);
  expect(await openLeagueAnswer(answer, other)).toEqual({ ok: false, fault: { type: "answer-for-another" } });
  // Somebody who has the ask and not its key.
  expect(await openLeagueAnswer(answer, { ...other, ask: own.ask })).toEqual({
    ok: false,
    fault: { type: "parcel-broken" },
  });
});

test("what was changed on the way, and what is something else, is refused", async () => {
  const own = await newLeagueAsk(device, asking, randomBytes);
  const answer = await leagueAnswer(secretary, own.ask, welcome);
  const broken = { ok: false, fault: { type: "parcel-broken" } };
  expect(await readLeagueAsk(altered(own.ask.text))).toEqual(broken);
  expect(await openLeagueAnswer(altered(answer), own)).toEqual(broken);
  expect(await readLeagueAsk(answer)).toEqual(broken);
  expect(await openLeagueAnswer(own.ask.text, own)).toEqual(broken);
  expect(await readLeagueAsk(messageOfParcel(new Uint8Array([0xff, 0xfe])))).toEqual(broken);
});
