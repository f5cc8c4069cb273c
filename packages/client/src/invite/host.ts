/**
 * The inviting side: which asks have come, and admitting or refusing one. Admitting writes the device into the club's book and the leagues
 * this device may write in, with its holder's name in the roster; then the answer is made. The answer is part of what is kept of the
 * invitation, so that it is said again until the relay has it; and an invitation that has let one device in lets in no other.
 *
 * An admission that was written and whose answer was not (the page closed in between) harms nobody: the device was compared and chosen,
 * and may be admitted again. Rejected: the answer first (a device with the secrets that nobody admitted).
 */
import type { Draft, Result, Role } from "@sward/core";
import { fail, mayMake, ok } from "@sward/core";
import type { Book } from "../book/book.ts";
import type { AppendFault } from "../book/faults.ts";
import type { RosterRecord } from "../book/roster.ts";
import { bookPassOf } from "../desk/pass.ts";
import type { CarriedRecord } from "../desk/settle.ts";
import type { Signer } from "../keys/signer.ts";
import { refusedAnswer, welcomeAnswer, withdrawnAnswer } from "./answer.ts";
import type { Ask } from "./ask.ts";
import { readAsk } from "./ask.ts";
import type { InviteFault } from "./faults.ts";
import type { Invitation, InvitationKeys } from "./invitation.ts";

/** What the inviting device keeps of an invitation. */
export interface GivenInvitation {
  readonly invitation: Invitation;
  readonly keys: Pick<InvitationKeys, "id" | "seal">;
  readonly state: "open" | "used" | "withdrawn";
  /** Signed answers that belong in the room. */
  readonly answers: readonly string[];
  /** Ids of the asks that were answered. */
  readonly answered: readonly string[];
  /** The answer that let a device in, with the club's record along: to be handed over where there is no network. */
  readonly byHand: string | null;
}

export interface Admission {
  readonly role: Role;
  readonly holder: RosterRecord;
  /** The ask came without a network: then the answer is also made with the club's record and names along. */
  readonly byHand: boolean;
}

export interface HostDesk {
  readonly club: Book;
  readonly leagues: readonly Book[];
  readonly signer: Signer;
  /** Seconds since 1970. */
  readonly now: number;
}

/** An invitation as it is when somebody asks by it: not used, not withdrawn, and in time. */
export function stillGood({ state, invitation }: GivenInvitation, now: number): InviteFault | null {
  if (state !== "open") return { type: "invitation-over", why: state };
  if (now <= invitation.until) return null;
  return { type: "invitation-expired", until: new Date(invitation.until * 1000).toISOString() };
}

/** The asks among what lies in the room that nobody has answered, as they came. */
export async function asksIn(texts: readonly string[], given: GivenInvitation): Promise<readonly Ask[]> {
  const asks: Ask[] = [];
  for (const text of texts) {
    const ask = await readAsk(text, given.keys.id);
    if (ask.ok && !given.answered.includes(ask.value.id)) asks.push(ask.value);
  }
  return asks;
}

export interface Admitted {
  readonly given: GivenInvitation;
  /** The signed answer, to be sealed and handed over. */
  readonly answer: string;
}

export async function admitAsk(
  given: GivenInvitation,
  ask: Ask,
  { role, holder, byHand }: Admission,
  { club, leagues, signer, now }: HostDesk,
): Promise<Result<Admitted, InviteFault | AppendFault>> {
  const over = stillGood(given, now);
  if (over !== null) return fail(over);
  if (ask.invitation !== given.keys.id) return fail({ type: "parcel-of-another-invitation" });
  const admitted = await admitDevice(ask, role, holder, { club, leagues });
  if (!admitted.ok) return admitted;
  const contents = { role, club: bookPassOf(club), leagues: admitted.value.map(bookPassOf) };
  const answer = await welcomeAnswer(signer, ask, contents, null);
  const large = byHand ? await welcomeAnswer(signer, ask, contents, recordOf(club)) : null;
  return ok({ given: { ...answeredWith(given, "used", answer, ask), byHand: large }, answer });
}

/** Admits a device to the club and to the leagues this device may write in, which it resolves with; and says whose it is. */
export async function admitDevice(
  ask: Ask,
  role: Role,
  holder: RosterRecord,
  { club, leagues }: Pick<HostDesk, "club" | "leagues">,
): Promise<Result<readonly Book[], AppendFault>> {
  const admission: Draft = { kind: "device-admitted", body: { device: ask.key, role } };
  const saved = await club.append([admission]);
  if (!saved.ok) return saved;
  const joined: Book[] = [];
  for (const league of leagues) {
    if (mayAdmit(league) && (await league.append([admission])).ok) joined.push(league);
  }
  await club.roster.write(new Map([[ask.device, { ...holder, device: ask.label }]]));
  return ok(joined);
}

export async function refuseAsk(given: GivenInvitation, ask: Ask, signer: Signer): Promise<GivenInvitation> {
  return answeredWith(given, given.state, await refusedAnswer(signer, ask), ask);
}

export async function withdraw(given: GivenInvitation, signer: Signer): Promise<GivenInvitation> {
  return answeredWith(given, "withdrawn", await withdrawnAnswer(signer, given.keys.id), null);
}

const answeredWith = (
  given: GivenInvitation,
  state: GivenInvitation["state"],
  answer: string,
  ask: Ask | null,
): GivenInvitation => ({
  ...given,
  state,
  answers: [...given.answers, answer],
  answered: ask === null ? given.answered : [...given.answered, ask.id],
});

function mayAdmit(league: Book): boolean {
  const { as, devices } = league.state();
  const own = devices.get(league.device);
  if (as === null || own === undefined || own.barred) return false;
  const office = own.role === "root" && own.club !== null ? "club" : own.role;
  return mayMake({ kind: "device-admitted", body: {} }, office, as, own.club !== null) === "yes";
}

const recordOf = (club: Book): CarriedRecord => ({
  entries: [...club.entries()].map(({ jws }) => jws),
  names: club.roster.envelopes(),
});
