/**
 * How a club comes into a league: its device asks, by a code, a file or text; whoever may admit takes the ask, admits, and hands back an
 * answer that only this device can open. The same way a second device of a club comes in, asked of its own club.
 *
 *     ask      JWS typ "sward-league-ask", signed by `key`, over {v: 1, club, name, key, label, box, nonce}
 *     answer   JWS typ "sward-league-answer", signed by `from`, over {v: 1, ask, from, box}
 *
 *     club     public root key of the club: what is admitted       name    of the club, for people
 *     key      the asking device's Ed25519 public key              label   such as "Heronsgate tablet"
 *     box      in an ask an X25519 public key, used once; in an answer a JWE (RFC 7516), ECDH-ES to it, A256GCM, of the JSON
 *              {v: 1, league, name, admitted, entries?, names?}; `admitted` when the device itself is, and no words are needed
 *
 * An ask says nothing secret, so it needs no seal; that it is the club's is what people make sure of, by the sixteen digits both see
 * (`invite/short-code.ts`). Where it goes by file the answer brings the league's record along, so that a club without a network can
 * join and write at once. Rejected: the league's secret in a plain link (whoever finds the letter reads every club's names), and an
 * invitation by the league with a room at the relay (clubs meet once a year in a room of the other kind, and then have no signal).
 */
import type { KeyId, Result } from "@sward/core";
import { fail, keyIdOf, ok, PublicKey } from "@sward/core";
import { base64url, CompactEncrypt, compactDecrypt, exportJWK, generateKeyPair } from "jose";
import * as z from "zod/mini";
import { BookPass } from "../desk/pass.ts";
import type { CarriedRecord } from "../desk/settle.ts";
import type { BoxKey } from "../invite/ask.ts";
import type { InviteFault } from "../invite/faults.ts";
import { shortCode } from "../invite/short-code.ts";
import { readMessage, signMessage } from "../invite/signed.ts";
import type { Signer } from "../keys/signer.ts";

const ASK_TYP = "sward-league-ask";
const ANSWER_TYP = "sward-league-answer";

const text = (max: number) => z.string().check(z.minLength(1), z.maxLength(max));
const bytes32 = z.string().check(z.regex(/^[A-Za-z0-9_-]{43}$/));
const base64 = z.string().check(z.regex(/^[A-Za-z0-9_-]+$/), z.maxLength(400_000));

const AskPayload = z.object({
  v: z.literal(1),
  club: PublicKey(),
  name: text(80),
  key: PublicKey(),
  label: text(60),
  box: bytes32,
  nonce: z.string().check(z.regex(/^[A-Za-z0-9_-]{22}$/)),
});

export interface LeagueAsk extends z.infer<typeof AskPayload> {
  readonly id: string;
  readonly clubId: KeyId;
  readonly device: KeyId;
  /** As it was signed. */
  readonly text: string;
}

/** What the asking device keeps until it is answered. */
export interface OwnLeagueAsk {
  readonly ask: LeagueAsk;
  readonly box: BoxKey;
}

const Answer = z.object({ v: z.literal(1), ask: bytes32, from: PublicKey(), box: z.string() });

const Contents = z.object({
  v: z.literal(1),
  league: BookPass(),
  name: z.string().check(z.maxLength(80)),
  admitted: z.boolean(),
  entries: z.optional(z.array(z.string().check(z.maxLength(40_000)))),
  names: z.optional(z.array(z.tuple([text(60), base64]))),
});

export interface LeagueWelcome {
  readonly league: BookPass;
  readonly name: string;
  /** The device itself is admitted: the club's words are not needed. */
  readonly admitted: boolean;
  /** The league's record, where it came along. */
  readonly record: CarriedRecord | null;
}

export interface AskingClub {
  /** Public root key. */
  readonly club: PublicKey;
  readonly name: string;
  readonly label: string;
}

export async function newLeagueAsk(
  signer: Signer,
  { club, name, label }: AskingClub,
  randomBytes: (count: number) => Uint8Array,
): Promise<OwnLeagueAsk> {
  const { privateKey } = await generateKeyPair("ECDH-ES", { crv: "X25519", extractable: true });
  const { x = "", d = "" } = await exportJWK(privateKey);
  const nonce = base64url.encode(randomBytes(16));
  const who = { club, name: name.slice(0, 80), key: signer.key, label: label.slice(0, 60) };
  const signed = await signMessage(signer, ASK_TYP, { v: 1, ...who, box: x, nonce });
  const ask = await readLeagueAsk(signed);
  if (!ask.ok) throw new Error(`an ask of our own cannot be read: ${ask.fault.type}`);
  return { ask: ask.value, box: { kty: "OKP", crv: "X25519", x, d } };
}

/** An ask, its signature checked. Never throws. */
export async function readLeagueAsk(signed: string): Promise<Result<LeagueAsk, InviteFault>> {
  const read = await readMessage(signed, { typ: ASK_TYP, shape: AskPayload, keyOf: ({ key }) => key });
  if (!read.ok) return read;
  const { club, key } = read.value;
  return ok({ ...read.value, id: await idOf(signed), clubId: keyIdOf(club), device: keyIdOf(key), text: signed });
}

const idOf = async (signed: string): Promise<string> =>
  base64url.encode(new Uint8Array(await crypto.subtle.digest("SHA-256", new TextEncoder().encode(signed))));

/** The digits both sides compare before anything is admitted. */
export const leagueAskCode = ({ club, key, box, nonce }: LeagueAsk): Promise<string> =>
  shortCode({ from: club }, { invitation: ASK_TYP, key, box, nonce });

/** @param record comes along where there is no network */
export async function leagueAnswer(
  signer: Signer,
  ask: LeagueAsk,
  { league, name, admitted, record }: LeagueWelcome,
): Promise<string> {
  const carried =
    record === null
      ? {}
      : {
          entries: [...record.entries],
          names: [...record.names].map(([about, envelope]) => [about, base64url.encode(envelope)]),
        };
  const contents = JSON.stringify({ v: 1, league, name, admitted, ...carried });
  const box = await new CompactEncrypt(new TextEncoder().encode(contents))
    .setProtectedHeader({ alg: "ECDH-ES", enc: "A256GCM" })
    .encrypt({ kty: "OKP", crv: "X25519", x: ask.box });
  return signMessage(signer, ANSWER_TYP, { v: 1, ask: ask.id, from: signer.key, box });
}

/** What an answer to our ask holds. Never throws. */
export async function openLeagueAnswer(
  signed: string,
  { ask, box }: OwnLeagueAsk,
): Promise<Result<LeagueWelcome, InviteFault>> {
  const read = await readMessage(signed, { typ: ANSWER_TYP, shape: Answer, keyOf: ({ from }) => from });
  if (!read.ok) return read;
  if (read.value.ask !== ask.id) return fail({ type: "answer-for-another" });
  try {
    const { plaintext } = await compactDecrypt(read.value.box, { ...box }, { keyManagementAlgorithms: ["ECDH-ES"] });
    const parsed = Contents.safeParse(JSON.parse(new TextDecoder().decode(plaintext)));
    if (!parsed.success) return fail({ type: "parcel-broken" });
    const { league, name, admitted, entries, names = [] } = parsed.data;
    const record =
      entries === undefined
        ? null
        : { entries, names: new Map(names.map(([about, envelope]) => [about, base64url.decode(envelope)])) };
    return ok({ league, name, admitted, record });
  } catch {
    return fail({ type: "parcel-broken" });
  }
}

/** As it is shown in codes, put in a file, or pasted (`invite/parcels.ts`). */
export const parcelOfMessage = (signed: string): Uint8Array => new TextEncoder().encode(signed);

/** Empty when it is no text, which then is no message of ours either. */
export function messageOfParcel(parcel: Uint8Array): string {
  try {
    return new TextDecoder("utf-8", { fatal: true }).decode(parcel);
  } catch {
    return "";
  }
}
