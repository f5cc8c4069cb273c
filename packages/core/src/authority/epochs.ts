/**
 * Which of a book's epochs stand, which one a device writes in, and what is owed. After a bar the book goes on under a new secret that
 * the barred device is not given; the entry that says so is an entry as any other, so the answer follows from the set of entries alone.
 *
 * Two officers may open an epoch of one number side by side: both stand and both can be read, and the room that comes first is written
 * in. Numbers cannot be skipped, so nobody uses them up. Which epoch is in force for a device also depends on the secrets it has: an
 * opening that gives nobody the secret moves nobody, and one that leaves somebody out who belongs makes the next one due.
 *
 * Rejected: the epoch with the latest clock (a wrong clock would win); moving only when everybody has a box (one spoilt key would hold
 * up all the others); a bar that lifts when its epoch does not come (what counts must not wait for a network).
 *
 * SPEC: AU.
 */
import type { EntryId, KeyId, PublicKey } from "../ids.ts";
import type { EntryOf } from "../ledger/entry.ts";
import { byCodeUnits, byNumber } from "../order.ts";
import type { Device } from "../state.ts";

export interface StandingEpoch {
  readonly number: number;
  readonly room: PublicKey;
  /** Barred devices it was opened to leave behind. */
  readonly without: ReadonlySet<KeyId>;
  /** Devices that were given a box; whether it opens is known only to each of them. */
  readonly given: ReadonlySet<KeyId>;
  readonly openings: readonly EntryId[];
  /** When it was first said to be opened, by clocks of those who opened it: for people, and for how long an old room is listened to. */
  readonly at: string;
}

/** @param openings those that count, in any order @returns standing epochs by number, then by room */
export function settleEpochs(openings: Iterable<EntryOf<"epoch-opened">>): readonly StandingEpoch[] {
  const byName = new Map<string, EntryOf<"epoch-opened">[]>();
  for (const opening of openings) {
    const name = `${opening.body.number} ${opening.body.room}`;
    byName.set(name, [...(byName.get(name) ?? []), opening]);
  }
  const all = [...byName.values()].map(together).sort(byNumberAndRoom);
  const standing: StandingEpoch[] = [];
  for (const epoch of all) {
    if (epoch.number > (standing.at(-1)?.number ?? 0) + 1) break;
    standing.push(epoch);
  }
  return standing;
}

function together(openings: readonly EntryOf<"epoch-opened">[]): StandingEpoch {
  const bodies = openings.map(({ body }) => body);
  const { number, room } = bodies[0] as (typeof bodies)[number];
  return {
    number,
    room,
    without: new Set(bodies.flatMap(({ without }) => without).sort(byCodeUnits)),
    given: new Set(bodies.flatMap(({ boxes }) => boxes.map(({ to }) => to)).sort(byCodeUnits)),
    openings: openings.map(({ id }) => id).sort(byCodeUnits),
    at: openings.map(({ at }) => at).sort(byCodeUnits)[0] ?? "",
  };
}

/** The standing epoch a device writes in; null for epoch 0. */
export function epochInForce(
  standing: readonly StandingEpoch[],
  hasSecretOf: (room: PublicKey) => boolean,
): StandingEpoch | null {
  const held = standing.filter(({ room }) => hasSecretOf(room));
  const highest = held.at(-1)?.number;
  return held.find(({ number }) => number === highest) ?? null;
}

/** Why the next epoch is due, or null. */
export type EpochDue =
  /** These are barred and the epoch in force does not leave them behind. */
  | { readonly type: "barred-inside"; readonly devices: readonly KeyId[] }
  /** A later epoch stands whose secret this device was not given, or was given in a box that does not open. */
  | { readonly type: "left-out"; readonly number: number };

export function epochDue(
  standing: readonly StandingEpoch[],
  inForce: StandingEpoch | null,
  devices: ReadonlyMap<KeyId, Device>,
): EpochDue | null {
  const inside = [...devices.values()].filter(({ device, barred }) => barred && inForce?.without.has(device) !== true);
  if (inside.length > 0)
    return { type: "barred-inside", devices: inside.map(({ device }) => device).sort(byCodeUnits) };
  const highest = standing.at(-1)?.number ?? 0;
  return highest > (inForce?.number ?? 0) ? { type: "left-out", number: highest } : null;
}

/** Devices that are owed a box of an epoch, sorted; with null, of one that is yet to be opened. */
export const boxesOwed = (epoch: StandingEpoch | null, devices: ReadonlyMap<KeyId, Device>): readonly KeyId[] =>
  [...devices.values()]
    .filter(({ device, barred }) => !barred && epoch?.given.has(device) !== true)
    .map(({ device }) => device)
    .sort(byCodeUnits);

/** The number of the next epoch to open. */
export const nextEpochNumber = (standing: readonly StandingEpoch[]): number => (standing.at(-1)?.number ?? 0) + 1;

const byNumberAndRoom = (a: StandingEpoch, b: StandingEpoch): number =>
  byNumber(a.number, b.number) || byCodeUnits(a.room, b.room);
