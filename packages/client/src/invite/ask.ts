/**
 * What a new device asks with: its own key, made here and now, a key for this one answer, and what people call it.
 *
 *     JWS typ "sward-ask", signed by `key`, over {v: 1, invitation, key, box, label, nonce}
 *
 *     invitation   id of the invitation asked by
 *     key          the device's Ed25519 public key       box   X25519 public key, used once, to which the answer is sealed
 *     label        such as "Bo's phone"                  nonce 16 random bytes
 *
 * Its id is the base64url SHA-256 of the whole text.
 */
import type { KeyId, Result } from "@sward/core";
import { fail, keyIdOf, ok, PublicKey } from "@sward/core";
import { base64url } from "jose";
import * as z from "zod/mini";
import { publicOf } from "../keys/agreement.ts";
import { createSigner, SEED_BYTES } from "../keys/signer.ts";
import type { InviteFault } from "./faults.ts";
import { readMessage, signMessage } from "./signed.ts";

export const ASK_TYP = "sward-ask";

const bytes32 = z.string().check(z.regex(/^[A-Za-z0-9_-]{43}$/));

const AskPayload = z.object({
  v: z.literal(1),
  invitation: bytes32,
  key: PublicKey(),
  box: bytes32,
  label: z.string().check(z.minLength(1), z.maxLength(60)),
  nonce: z.string().check(z.regex(/^[A-Za-z0-9_-]{22}$/)),
});

export interface Ask extends z.infer<typeof AskPayload> {
  readonly id: string;
  readonly device: KeyId;
  /** As it was signed. */
  readonly text: string;
}

/** The private half of `box`, as a JWK, so that it outlives a reload of the page. */
export interface BoxKey {
  readonly kty: "OKP";
  readonly crv: "X25519";
  readonly x: string;
  readonly d: string;
}

/** What the asking device keeps to itself until it is answered. */
export interface OwnAsk {
  readonly ask: Ask;
  readonly seed: Uint8Array;
  readonly box: BoxKey;
}

export async function newAsk(
  invitation: string,
  label: string,
  randomBytes: (count: number) => Uint8Array,
): Promise<OwnAsk> {
  const seed = randomBytes(SEED_BYTES);
  const signer = await createSigner(seed);
  const half = randomBytes(32);
  const [x, d] = [await publicOf(half), base64url.encode(half)];
  const nonce = base64url.encode(randomBytes(16));
  const payload = { v: 1 as const, invitation, key: signer.key, box: x, label: label.trim().slice(0, 60), nonce };
  const text = await signMessage(signer, ASK_TYP, payload);
  const ask: Ask = { ...payload, id: await idOf(text), device: signer.id, text };
  return { ask, seed, box: { kty: "OKP", crv: "X25519", x, d } };
}

/** An ask by this invitation, its signature checked. Never throws. */
export async function readAsk(text: string, invitation: string): Promise<Result<Ask, InviteFault>> {
  const read = await readMessage(text, { typ: ASK_TYP, shape: AskPayload, keyOf: ({ key }) => key });
  if (!read.ok) return read;
  if (read.value.invitation !== invitation) return fail({ type: "parcel-of-another-invitation" });
  return ok({ ...read.value, id: await idOf(text), device: keyIdOf(read.value.key), text });
}

const idOf = async (text: string): Promise<string> =>
  base64url.encode(new Uint8Array(await crypto.subtle.digest("SHA-256", new TextEncoder().encode(text))));
