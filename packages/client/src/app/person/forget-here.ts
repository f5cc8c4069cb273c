/**
 * What this browser keeps of a person beside the record, forgotten when the name is erased: names on score pads and notes of a round of
 * cards. Both are local and in localStorage, by the player's id. A name that was only written on a pad, with no player chosen, belongs
 * to nobody's id and cannot be found; the pad goes after ten more, or with its bin.
 */
import type { BookId, KeyId } from "@sward/core";
import { keepRound, readRound } from "../check/kept-round.ts";
import type { PadSetup } from "../lawn/pad.ts";
import type { PadStorage } from "../lawn/pad-store.ts";
import { padStoreOf } from "../lawn/pad-store.ts";

export function forgetHere(
  storage: PadStorage,
  device: KeyId,
  book: BookId,
  erased: { has(about: string): boolean },
): void {
  const pads = padStoreOf(device, storage);
  for (const pad of pads.list()) {
    const setup = withoutNames(pad.setup, erased);
    if (setup !== pad.setup) pads.write({ ...pad, setup });
  }
  const round = readRound(storage, device, book);
  if (round === null) return;
  const notes = Object.entries(round.notes).filter(([about]) => !erased.has(about));
  if (notes.length < Object.keys(round.notes).length) {
    keepRound(storage, device, book, { ...round, notes: Object.fromEntries(notes) });
  }
}

function withoutNames(setup: PadSetup, erased: { has(about: string): boolean }): PadSetup {
  let changed = false;
  const side = (seats: PadSetup["sides"][0]): PadSetup["sides"][0] =>
    seats.map((seat) => {
      if (seat.player === null || seat.name === "" || !erased.has(seat.player)) return seat;
      changed = true;
      return { ...seat, name: "" };
    });
  const sides: PadSetup["sides"] = [side(setup.sides[0]), side(setup.sides[1])];
  return changed ? { ...setup, sides } : setup;
}
