/** Which rooms of epochs that were left are still listened to, and how a book's lock stands. */
import type { Day, EpochDue, KeyId, PublicKey, StandingEpoch } from "@sward/core";
import { byCodeUnits } from "@sward/core";
import type { HeldSecret } from "./keyring.ts";

/** What a screen shows of it. */
export interface Lock {
  /** The epoch this device writes in. */
  readonly number: number;
  readonly room: PublicKey;
  /** When it was opened, by the clock of the device that did; null in epoch 0. */
  readonly since: string | null;
  /** Why the next one is due. */
  readonly due: EpochDue | null;
  /** Devices that are yet to be given a box. */
  readonly owed: readonly KeyId[];
  /** On the way to another room. */
  readonly moving: boolean;
}

const DAYS = 30;
const DAY_MS = 24 * 60 * 60 * 1_000;

export interface Listening {
  readonly today: Day;
  readonly standing: readonly StandingEpoch[];
  readonly officer: boolean;
}

/**
 * Thirty days from when the next epoch was opened, by the clocks of people: it only decides who hears an old room, and whoever comes
 * late finds the way by the signposts. The room of the first epoch is where the words on paper lead: officers look after it for ever.
 */
export function isListenedTo(secret: Pick<HeldSecret, "epoch">, { today, standing, officer }: Listening): boolean {
  if (secret.epoch === 0 && officer) return true;
  const [left] = standing
    .filter(({ number }) => number > secret.epoch)
    .map(({ at }) => at.slice(0, 10))
    .sort(byCodeUnits);
  return left === undefined || Date.parse(today) - Date.parse(left) <= DAYS * DAY_MS;
}
