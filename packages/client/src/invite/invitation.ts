/**
 * An invitation: what a handicapper gives to whoever is to become a device of the club, as a link, on paper as a code, or as text. It
 * admits nobody by itself: it lets a device ask, and people compare a code (`short-code.ts`) before the handicapper admits it. It lives in
 * the fragment of an address, which no browser sends to a server:
 *
 *     <relay>/#invite=base64url(JSON {v: 1, secret, relay, club, from, until, check?})
 *
 *     secret   32 random bytes, base64url        from    the inviting device's public key, which signs every answer
 *     relay    origin of the relay               until   seconds since 1970, after which nobody is admitted by it
 *     club     name, for people                  check   only with a passphrase: tells a wrong one
 *
 * Keys, all by HKDF-SHA-256 with the salt "sward invitation" (RFC 5869):
 *
 *     id, room key   of the secret: "id", "meeting room"; the room is of the ledger kind at the relay
 *     seal, check    of the secret, followed by the stretched passphrase where there is one: "seal", "check" (8 bytes)
 *     stretched      PBKDF2-SHA-256 of the passphrase (NFKC, trimmed), salt "sward passphrase" and the secret, 600,000 rounds, as
 *                    https://cheatsheetseries.owasp.org/cheatsheets/Password_Storage_Cheat_Sheet.html asks for
 *
 * `check` lets whoever has the link try passphrases, at that price each; so would any sealed ask in the room. Rejected: a passphrase that
 * also changes the room (a wrong one would lead to an empty room and could not be told from a slow handicapper), and a pass in the link
 * (a letter read by somebody else would be a device of the club).
 */
import type { Result } from "@sward/core";
import { fail, ok, PublicKey } from "@sward/core";
import { base64url } from "jose";
import * as z from "zod/mini";
import type { Signer } from "../keys/signer.ts";
import { createSigner } from "../keys/signer.ts";
import type { InviteFault } from "./faults.ts";

const text = (max: number) => z.string().check(z.minLength(1), z.maxLength(max));

export const Invitation = z.object({
  v: z.literal(1),
  secret: z.string().check(z.regex(/^[A-Za-z0-9_-]{43}$/)),
  relay: text(300).check(z.refine(isOrigin)),
  club: text(80),
  from: PublicKey(),
  until: z.int().check(z.minimum(0), z.maximum(100_000_000_000)),
  check: z.optional(z.string().check(z.regex(/^[A-Za-z0-9_-]{11}$/))),
});
export type Invitation = z.infer<typeof Invitation>;

/** What is made of an invitation's secret and its passphrase. */
export interface InvitationKeys {
  /** Names the invitation: 32 bytes, base64url. */
  readonly id: string;
  readonly room: Signer;
  readonly seal: CryptoKey;
}

export const PASSPHRASE_ROUNDS = 600_000;
const LONGEST_LINK = 4_000;

function isOrigin(relay: string): boolean {
  return URL.canParse(relay) && /^https?:$/.test(new URL(relay).protocol) && new URL(relay).origin === relay;
}

export const encodeInvitation = (invitation: Invitation): string => base64url.encode(JSON.stringify(invitation));

export const linkOf = (invitation: Invitation): string => `${invitation.relay}/#invite=${encodeInvitation(invitation)}`;

/** @param given a link, its fragment, or what follows `#invite=` in it */
export function decodeInvitation(given: string): Result<Invitation, InviteFault> {
  const encoded = given.trim().replace(/^[\s\S]*#invite=/, "");
  if (encoded.length > LONGEST_LINK) return fail({ type: "not-an-invitation" });
  try {
    const json: unknown = JSON.parse(new TextDecoder("utf-8", { fatal: true }).decode(base64url.decode(encoded)));
    const parsed = Invitation.safeParse(json);
    if (parsed.success) return ok(parsed.data);
    return fail({ type: isNewer(json) ? "made-by-newer" : "not-an-invitation" });
  } catch {
    return fail({ type: "not-an-invitation" });
  }
}

/** Whether something says that it is of a version after the first. */
export function isNewer(json: unknown): boolean {
  const v = typeof json === "object" && json !== null ? (json as { readonly v?: unknown }).v : undefined;
  return typeof v === "number" && v > 1;
}

export type InvitationTerms = Pick<Invitation, "relay" | "club" | "from" | "until">;

/** @param passphrase empty for none */
export async function newInvitation(
  terms: InvitationTerms,
  passphrase: string,
  randomBytes: (count: number) => Uint8Array,
): Promise<{ readonly invitation: Invitation; readonly keys: InvitationKeys }> {
  const plain: Invitation = { v: 1, secret: base64url.encode(randomBytes(32)), ...terms };
  const { keys, check } = await derive(plain, passphrase);
  return { invitation: tidy(passphrase) === "" ? plain : { ...plain, check }, keys };
}

/** The keys of an invitation somebody gave us. */
export async function keysOf(invitation: Invitation, passphrase: string): Promise<Result<InvitationKeys, InviteFault>> {
  const needed = invitation.check !== undefined;
  if (needed && tidy(passphrase) === "") return fail({ type: "passphrase-needed" });
  const { keys, check } = await derive(invitation, needed ? passphrase : "");
  return needed && check !== invitation.check ? fail({ type: "passphrase-wrong" }) : ok(keys);
}

/** The same when the seal was kept, so that nobody need write the passphrase twice. */
export async function keysKept({ secret }: Invitation, seal: CryptoKey): Promise<InvitationKeys> {
  const { id, room } = await namesOf(base64url.decode(secret));
  return { id, room, seal };
}

const tidy = (passphrase: string): string => passphrase.normalize("NFKC").trim();

const utf8 = (words: string): Uint8Array<ArrayBuffer> => new TextEncoder().encode(words);

const importHkdf = (bytes: Uint8Array) =>
  crypto.subtle.importKey("raw", bytes.slice(), "HKDF", false, ["deriveBits", "deriveKey"]);

const hkdf = (label: string) => ({
  name: "HKDF",
  hash: "SHA-256",
  salt: utf8("sward invitation"),
  info: utf8(`${label} 1`),
});

const bitsOf = async (material: CryptoKey, label: string, bytes: number): Promise<Uint8Array> =>
  new Uint8Array(await crypto.subtle.deriveBits(hkdf(label), material, bytes * 8));

async function namesOf(secret: Uint8Array): Promise<Pick<InvitationKeys, "id" | "room">> {
  const material = await importHkdf(secret);
  const id = base64url.encode(await bitsOf(material, "id", 32));
  return { id, room: await createSigner(await bitsOf(material, "meeting room", 32)) };
}

async function derive({ secret }: Pick<Invitation, "secret">, passphrase: string) {
  const bytes = base64url.decode(secret);
  const words = tidy(passphrase);
  const stretched = words === "" ? new Uint8Array() : await stretch(words, bytes);
  const material = await importHkdf(Uint8Array.from([...bytes, ...stretched]));
  const seal = await crypto.subtle.deriveKey(hkdf("seal"), material, { name: "AES-GCM", length: 256 }, false, [
    "encrypt",
    "decrypt",
  ]);
  const check = base64url.encode(await bitsOf(material, "check", 8));
  return { keys: { ...(await namesOf(bytes)), seal }, check };
}

async function stretch(passphrase: string, secret: Uint8Array): Promise<Uint8Array> {
  const material = await crypto.subtle.importKey("raw", utf8(passphrase), "PBKDF2", false, ["deriveBits"]);
  const salt = Uint8Array.from([...utf8("sward passphrase"), ...secret]);
  const bits = { name: "PBKDF2", hash: "SHA-256", salt, iterations: PASSPHRASE_ROUNDS };
  return new Uint8Array(await crypto.subtle.deriveBits(bits, material, 256));
}
