/**
 * A league's own devices. A desk is a club's, with the leagues the club plays in; the league's officers are no club, so their devices
 * have a small record of their own in a club's place, the office: it names the officers' devices, lets them invite one another, and has
 * no members. The league's book is the same for them as for the clubs.
 *
 *     root seed ──▶ the league's root key and book, exactly as a club's (`found.ts`)
 *     a seed thrown away ──▶ the office, which nobody misses: a league that is found again with its words has a new one
 *
 * Rejected: the league's book in the club's place (every screen would have to ask what it is for) and an office made of the league's
 * words (two founders with one paper would write one chain twice).
 */
import type { Draft, Result } from "@sward/core";
import { ok } from "@sward/core";
import type { AppendFault, TakeFault } from "../book/faults.ts";
import { createSigner, SEED_BYTES } from "../keys/signer.ts";
import type { ClubToFound, FirstDevice, FoundDeps, FoundedClub } from "./found.ts";
import { deviceRecord, foundClub, rootOf, writeAsRoot } from "./found.ts";
import type { Pass } from "./pass.ts";
import { seedOf } from "./pass.ts";
import { settleDevice } from "./settle.ts";

export interface Office {
  /** What the officers' own record is called. */
  readonly name: string;
  readonly rules: ClubToFound["rules"];
  readonly from: ClubToFound["from"];
}

/** The same device at an office, with the league its pass was for among its leagues. Durable when it resolves well. */
export async function withOffice(
  pass: Pass,
  { name, rules, from }: Office,
  first: FirstDevice,
  deps: FoundDeps,
): Promise<Result<Pass, AppendFault | TakeFault>> {
  const device = await createSigner(seedOf(pass));
  const office = await rootOf(deps.randomBytes(SEED_BYTES));
  const drafts: readonly Draft[] = [
    { kind: "book-opened", body: { root: office.root.key, as: "club", name } },
    { kind: "rules-adopted", body: { rules, from } },
    { kind: "device-admitted", body: { device: device.key, role: "handicapper" } },
  ];
  const written = await writeAsRoot(office, drafts, new Map([[device.id, deviceRecord(first)]]), deps);
  if (!written.ok) return written;
  const moved: Pass = { ...pass, club: office.club, leagues: [pass.club, ...pass.leagues] };
  const settled = await settleDevice(moved, written.value, deps.optionsFor);
  return settled.ok ? ok(moved) : settled;
}

/** A league with its first entries in this device's own storage: the secretary's device, and the league's own key where it is kept. */
export async function foundLeague(
  rootSeed: Uint8Array,
  league: Omit<ClubToFound, "as">,
  officeName: string,
  first: FirstDevice,
  /** What the root is called among this browser's devices, or null: its seed is kept nowhere. */
  rootLabel: string | null,
  deps: FoundDeps,
): Promise<Result<FoundedClub, AppendFault | TakeFault>> {
  const founded = await foundClub(rootSeed, { ...league, as: "league" }, first, rootLabel, deps);
  if (!founded.ok) return founded;
  const office: Office = { name: officeName, rules: league.rules, from: league.from };
  const pass = await withOffice(founded.value.pass, office, first, deps);
  if (!pass.ok) return pass;
  if (founded.value.rootPass === null) return ok({ pass: pass.value, rootPass: null });
  const rootPass = await withOffice(founded.value.rootPass, office, first, deps);
  return rootPass.ok ? ok({ pass: pass.value, rootPass: rootPass.value }) : rootPass;
}
