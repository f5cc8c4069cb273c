/**
 * Erasing a person at a desk: the name under every id the person goes by, in the club's roster and in those of the leagues this device
 * is in, and the names of the devices that are in the person's name. The record is not touched: entries have no names.
 *
 * Each book erases for itself, all or none; a league in which this device is no officer says so, and is for somebody else.
 */
import type { BookId, PlayerId } from "@sward/core";
import type { EraseFault } from "../book/faults.ts";
import type { ErasureReason, RosterSubject } from "../book/roster.ts";
import type { Desk } from "./desk.ts";

/** Those of a desk's parts that are needed. */
export type ErasingDesk = Pick<Desk, "club" | "leagues">;

export interface ErasedWhere {
  readonly erased: readonly BookId[];
  /** Books that still have the name, and why. */
  readonly left: readonly { readonly book: BookId; readonly fault: EraseFault }[];
}

/** @param players every id of the person; @param devices keys whose holder is the person */
export async function erasePerson(
  { club, leagues }: ErasingDesk,
  { players, devices }: { readonly players: readonly PlayerId[]; readonly devices: readonly RosterSubject[] },
  reason: ErasureReason,
): Promise<ErasedWhere> {
  const erased: BookId[] = [];
  const left: { book: BookId; fault: EraseFault }[] = [];
  for (const { id, roster, state } of [club, ...leagues]) {
    const holds = (about: RosterSubject): boolean => roster.envelopes().has(about);
    const isKnown = [...state().players.values()].some(({ player, alsoKnownAs }) =>
      players.some((id) => id === player || alsoKnownAs.includes(id)),
    );
    // Under an id that has no name here somebody may have written one who was not heard of yet.
    const subjects = [...players.filter((id) => isKnown || holds(id)), ...devices.filter(holds)];
    const fresh = subjects.filter((about) => roster.erased(about) === undefined);
    if (fresh.length === 0) continue;
    const done = await roster.erase(fresh, reason);
    if (done.ok) erased.push(id);
    else left.push({ book: id, fault: done.fault });
  }
  return { erased, left };
}
