/** What the process that appends and the test that kills it both know: the rooms, and what is written in them. */
import type { RoomName } from "@sward/core";
import { screenLimits } from "@sward/core";
import type { RoomKey } from "@sward/relay";
import type { RoomsLimits } from "../../packages/relay/src/rooms.ts";
import { envelope } from "./envelopes.ts";
import { binaryItem, block, update } from "./hand-made-updates.ts";

export const driverLimits: RoomsLimits = {
  screen: screenLimits,
  roomBytes: { ledger: 256 * 1024 * 1024, roster: 8 * 1024 * 1024 },
  pageBytes: 512 * 1024,
  roomBytesPerSecond: 1024 * 1024 * 1024,
  readings: 8,
};

export const driverRooms: readonly RoomKey[] = ["a", "b", "c", "d"].map((letter) => ({
  kind: "ledger",
  room: letter.repeat(43) as RoomName,
}));

/** The Yjs client id under which all of it is written. */
export const ledgerClient = 77;

/** The number in the envelope at this clock of this room. */
export const numberAt = (place: number, clock: number): number => place * 100_000 + clock;

export const ledgerUpdate = (place: number, clock: number): Uint8Array =>
  update([
    block(ledgerClient, clock, [
      binaryItem(envelope(numberAt(place, clock), 60), clock > 0 ? { origin: [ledgerClient, clock - 1] } : {}),
    ]),
  ]);
