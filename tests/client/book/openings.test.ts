/** What opens a book's epochs, read from what is held: most books have none, and then nothing else is looked at. */
import type { Counted, PublicKey } from "@sward/core";
import { expect, test } from "vitest";
import { KeptEntry } from "../../../packages/client/src/book/kept-entry.ts";
import { openingsIn } from "../../../packages/client/src/book/keyring.ts";
import type { HeldEntry } from "../../../packages/client/src/book/vault.ts";
import type { Club, Pen, Written } from "../../support/cast.ts";
import { clubs, keyOf, played } from "../../support/cast.ts";

const room = (name: string): PublicKey => keyOf(`room ${name}`).publicKey;

const opens = (by: Pen, number: number, where: PublicKey): Written =>
  by.writes("epoch-opened", { number, room: where, from: number - 1, without: [], boxes: [] });

const textOf = ({ id, jws, entry }: Written): HeldEntry => ({ id, jws, understood: entry.understood, place: null });

function read(club: Club, entries: readonly HeldEntry[], arrived: readonly Written[] = club.written) {
  const ledger = club.ledger(arrived);
  const asked: string[] = [];
  function* counted(): Iterable<Counted> {
    asked.push("what counts");
    yield* ledger.counted();
  }
  const state = ledger.state();
  const seen = {
    book: state.book,
    devices: state.devices,
    get uncounted() {
      asked.push("what does not");
      return state.uncounted;
    },
  };
  return { ...openingsIn({ entries, counted: counted(), state: seen }), asked };
}

test("a book in which nothing opens an epoch is not asked what counts in it", () => {
  const { north } = clubs("north");
  north.member("ada", 7);
  north.member("ben", 9);
  north.recorder.reports(played("2026-05-02", "ada 7", "ben 9", "7-4"));
  north.root.writesRaw({ kind: "lawn-mown", body: { lawn: 1 } });
  const found = read(north, north.written.map(textOf));
  expect(found).toMatchObject({ all: [], standing: [], asked: [] });
  expect(found.comingRooms.size).toBe(0);
});

test("those of officers are found whether they count or not, from texts as from entries; where one waits for an earlier one, its room is coming", () => {
  const { north } = clubs("north");
  const first = opens(north.handicapper, 1, room("a"));
  opens(north.recorder, 1, room("b"));
  const gone = north.handicapper.joins("ada");
  const late = opens(north.handicapper, 2, room("c"));
  const arrived = north.written.filter((one) => one !== gone);
  const kept = (one: Written): KeptEntry => KeptEntry.ofRead(one.entry, one.jws, null);
  for (const entries of [arrived.map(textOf), arrived.map(kept)]) {
    const found = read(north, entries, arrived);
    expect(found.all.map(({ id }) => id)).toEqual([first.id, late.id]);
    expect(found.standing.map(({ number }) => number)).toEqual([1]);
    expect([...found.comingRooms]).toEqual([room("c")]);
  }
  const whole = read(north, north.written.map(textOf));
  expect(whole.standing.map(({ number }) => number)).toEqual([1, 2]);
  expect(whole.comingRooms.size).toBe(0);
});
