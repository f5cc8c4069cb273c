/**
 * What the inviting device answers, signed by the key that the invitation names.
 *
 *     JWS typ "sward-answer" over {v: 1, invitation, ask, says, box?}
 *
 *     ask    id of the ask it answers; null for one to all
 *     says   "welcome", with `box`; "refused", this ask; "withdrawn", the invitation
 *     box    JWE (RFC 7516), ECDH-ES with X25519 (RFC 8037) to the ask's `box`, A256GCM, of the welcome in JSON:
 *            {v: 1, role, club, leagues, entries?, names?}
 *
 * `club` and `leagues` are the books' secrets as in a pass (`desk/pass.ts`). Where it goes by file, `entries` (signed texts) and `names`
 * (the roster's envelopes by subject) bring the club's record along, so that a device far from any network can write at once.
 *
 * The JWE is to a key made for this ask and thrown away with it, so that a link found later, even with all that lies in the room, opens
 * nothing.
 */
import type { Result } from "@sward/core";
import { fail, ok, Role } from "@sward/core";
import { base64url } from "jose";
import * as z from "zod/mini";
import type { Pass } from "../desk/pass.ts";
import { BookPass } from "../desk/pass.ts";
import type { CarriedRecord } from "../desk/settle.ts";
import { openWith, sealFor } from "../keys/agreement.ts";
import type { Signer } from "../keys/signer.ts";
import type { Ask, OwnAsk } from "./ask.ts";
import type { InviteFault } from "./faults.ts";
import type { Invitation } from "./invitation.ts";
import { isNewer } from "./invitation.ts";
import { readMessage, signMessage } from "./signed.ts";

export const ANSWER_TYP = "sward-answer";

const bytes32 = z.string().check(z.regex(/^[A-Za-z0-9_-]{43}$/));
const base64 = z.string().check(z.regex(/^[A-Za-z0-9_-]+$/), z.maxLength(400_000));

const Answer = z.object({
  v: z.literal(1),
  invitation: bytes32,
  ask: z.nullable(bytes32),
  says: z.enum(["welcome", "refused", "withdrawn"]),
  box: z.optional(z.string()),
});
export type Answer = z.infer<typeof Answer>;

const Welcome = z.object({
  v: z.literal(1),
  role: Role(),
  club: BookPass(),
  leagues: z.array(BookPass()).check(z.maxLength(20)),
  entries: z.optional(z.array(z.string().check(z.maxLength(40_000)))),
  names: z.optional(z.array(z.tuple([z.string().check(z.minLength(1), z.maxLength(60)), base64]))),
});
export type Welcome = z.infer<typeof Welcome>;

export type WelcomeContents = Pick<Welcome, "role" | "club" | "leagues">;

/** @param record comes along where there is no network */
export async function welcomeAnswer(
  signer: Signer,
  ask: Ask,
  contents: WelcomeContents,
  record: CarriedRecord | null,
): Promise<string> {
  const carried =
    record === null
      ? {}
      : {
          entries: [...record.entries],
          names: [...record.names].map(([about, envelope]) => [about, base64url.encode(envelope)]),
        };
  const box = await sealFor(ask.box, new TextEncoder().encode(JSON.stringify({ v: 1, ...contents, ...carried })));
  return signMessage(signer, ANSWER_TYP, { v: 1, invitation: ask.invitation, ask: ask.id, says: "welcome", box });
}

export const refusedAnswer = (signer: Signer, { invitation, id }: Pick<Ask, "invitation" | "id">): Promise<string> =>
  signMessage(signer, ANSWER_TYP, { v: 1, invitation, ask: id, says: "refused" });

export const withdrawnAnswer = (signer: Signer, invitation: string): Promise<string> =>
  signMessage(signer, ANSWER_TYP, { v: 1, invitation, ask: null, says: "withdrawn" });

/** An answer of the device that invited, its signature checked. Never throws. */
export async function readAnswer(
  text: string,
  { from }: Pick<Invitation, "from">,
  invitation: string,
): Promise<Result<Answer, InviteFault>> {
  const read = await readMessage(text, { typ: ANSWER_TYP, shape: Answer, keyOf: () => from });
  if (!read.ok) return read;
  return read.value.invitation === invitation ? read : fail({ type: "parcel-of-another-invitation" });
}

/** What a welcome to our ask holds. Never throws. */
export async function openWelcome(answer: Answer, { ask, box }: OwnAsk): Promise<Result<Welcome, InviteFault>> {
  if (answer.says !== "welcome" || answer.ask !== ask.id) return fail({ type: "answer-for-another" });
  try {
    const plaintext = await openWith(base64url.decode(box.d), answer.box ?? "");
    const json: unknown = JSON.parse(new TextDecoder().decode(plaintext));
    const parsed = Welcome.safeParse(json);
    if (parsed.success) return ok(parsed.data);
    return fail({ type: isNewer(json) ? "made-by-newer" : "parcel-broken" });
  } catch {
    return fail({ type: "parcel-broken" });
  }
}

/** The pass of the device that asked, once it is welcome. */
export const passOfWelcome = (welcome: Welcome, { ask, seed }: OwnAsk, club: string): Pass => ({
  v: 1,
  label: `${ask.label}, ${club}`.slice(0, 80),
  seed: base64url.encode(seed),
  club: welcome.club,
  leagues: welcome.leagues,
});

/** The record that came with a welcome; null when none did. */
export const recordOfWelcome = ({ entries, names }: Welcome): CarriedRecord | null =>
  entries === undefined
    ? null
    : { entries, names: new Map((names ?? []).map(([about, envelope]) => [about, base64url.decode(envelope)])) };
