import type { EntryId } from "@sward/core";
import { expect, test } from "vitest";
import type { Club, Written } from "../../support/cast.ts";
import { clubs, keyOf, Pen, played } from "../../support/cast.ts";
import { stateText } from "../../support/state-text.ts";

/** A recorder's matches, one a day. */
const writesDays = (pen: Pen, ...days: number[]): Written[] =>
  days.map((day) => pen.reports(played(`2026-05-0${day}`, "ada 7", "ben 9", "7-4")));

const days = (club: Club, held: readonly Written[] = club.written): string =>
  [...club.ledger(held).state().matches.values()]
    .map(({ facts }) => facts?.date.slice(-1) ?? "")
    .sort()
    .join("");

/** The same, with every entry handed in by itself, in the order written and in reverse. */
function daysAsTheyCome(club: Club): string[] {
  return [club.written, [...club.written].reverse()].map((order) => {
    const ledger = club.empty();
    for (const one of order) ledger.add([one]);
    expect(stateText(ledger.state())).toBe(stateText(club.state()));
    return days(club);
  });
}

test("AU5 a barred device counts up to the entry the bar names, whatever the clock of a later one says", () => {
  const { north } = clubs("north");
  const [, second] = writesDays(north.recorder, 1, 2, 3);
  north.handicapper.bars(north.recorder, second!);
  const backDated = north.recorder.writesRaw({
    kind: "match-reported",
    body: played("2026-04-01", "ada 7", "ben 9", "7-4"),
    at: "2020-01-01T00:00:00Z",
  });
  expect(daysAsTheyCome(north)).toEqual(["12", "12"]);
  const state = north.state();
  expect(state.devices.get(north.recorder.id)).toMatchObject({ barred: true, counted: 2 });
  expect(state.uncounted.get(backDated.id)).toBe("after-bar");
});

test("AU5 a bar that names no entry takes out all", () => {
  const { north } = clubs("north");
  writesDays(north.recorder, 1, 2);
  north.handicapper.bars(north.recorder, null);
  expect(daysAsTheyCome(north)).toEqual(["", ""]);
});

test("AU5 of several bars the lowest cut holds", () => {
  const { north } = clubs("north");
  const [first, second, third] = writesDays(north.recorder, 1, 2, 3, 4);
  north.handicapper.bars(north.recorder, third!);
  north.root.bars(north.recorder, first!);
  north.handicapper.bars(north.recorder, second!);
  expect(daysAsTheyCome(north)).toEqual(["1", "1"]);
});

test("AU5 admitting a device again does not lift its bar, nor does it matter which came first", () => {
  const { north } = clubs("north");
  const [first] = writesDays(north.recorder, 1, 2);
  north.handicapper.bars(north.recorder, first!);
  north.root.admits("recorder of north", "recorder");
  expect(daysAsTheyCome(north)).toEqual(["1", "1"]);
});

test("AU5 a key barred before anybody admitted it stays barred", () => {
  const { north } = clubs("north");
  const stolen = new Pen(north, keyOf("stolen"));
  north.handicapper.bars(stolen, null);
  north.handicapper.admits("stolen", "recorder");
  writesDays(stolen, 1);
  expect(daysAsTheyCome(north)).toEqual(["", ""]);
});

test("AU6 a bar may name an entry not yet held: the chain counts up to it when it comes", () => {
  const { north } = clubs("north");
  const [first, second, third] = writesDays(north.recorder, 1, 2, 3);
  const bar = north.root.bars(north.recorder, second!);
  const others = north.written.filter((one) => one !== second && one !== third && one !== bar);
  const ledger = north.ledger([...others, bar]);
  expect(ledger.state().matches.size).toBe(1);
  ledger.add([second!]);
  expect(ledger.state().matches.size).toBe(2);
  ledger.add([third!]);
  expect(ledger.state().matches.size).toBe(2);
  expect(first).toBeDefined();
});

test("AU6 another entry in the place the bar names does not count, in whatever order the two come", () => {
  const { north } = clubs("north");
  writesDays(north.recorder, 1);
  const elsewhere = { entry: { seq: 1 }, id: "x".repeat(43) as EntryId } as Written;
  const bar = north.root.bars(north.recorder, elsewhere);
  const [other] = writesDays(north.recorder, 2, 3);
  const held = north.written;
  expect(days(north, held)).toBe("1");
  expect(daysAsTheyCome(north)).toEqual(["1", "1"]);

  // The bar first, the entry it did not name after.
  const ledger = north.ledger(held.filter((one) => one.entry.author !== north.recorder.id || one.entry.seq === 0));
  expect(ledger.state().devices.get(north.recorder.id)?.barred).toBe(true);
  ledger.add([other!]);
  expect(ledger.state().uncounted.get(other!.id)).toBe("after-bar");
  ledger.add(held);
  expect(stateText(ledger.state())).toBe(stateText(north.state()));
  expect(bar).toBeDefined();
});

test("AU6 a bar far beyond the end of the chain lets it grow up to there", () => {
  const { north } = clubs("north");
  writesDays(north.recorder, 1);
  north.root.bars(north.recorder, { entry: { seq: 2 ** 40 }, id: "x".repeat(43) as EntryId } as Written);
  writesDays(north.recorder, 2);
  expect(daysAsTheyCome(north)).toEqual(["12", "12"]);
});

test("AU7 handicappers bar recorders and readers, not each other; nobody bars the root", () => {
  const { north } = clubs("north");
  const second = north.root.admits("second handicapper", "handicapper");
  const bars = [
    north.handicapper.bars(second, null),
    second.bars(north.handicapper, null),
    second.bars(north.root, null),
    north.root.bars(north.root, null),
  ];
  const state = north.state();
  expect(bars.map(({ id }) => state.uncounted.get(id))).toEqual(bars.map(() => "role-may-not"));
  expect([...state.devices.values()].filter(({ barred }) => barred)).toEqual([]);

  second.bars(north.reader, null);
  north.root.bars(second, null);
  const after = north.state();
  expect(after.devices.get(second.id)?.barred).toBe(true);
  // Nothing of the second handicapper counts, his bar of the reader no more than the rest.
  expect(after.devices.get(north.reader.id)?.barred).toBe(false);
});

test("AU7 a recorder bars nobody", () => {
  const { north } = clubs("north");
  const bar = north.recorder.bars(north.reader, null);
  expect(north.state().uncounted.get(bar.id)).toBe("role-may-not");
  expect(north.state().devices.get(north.reader.id)?.barred).toBe(false);
});

test("AU8 what a barred handicapper admitted and barred up to the cut holds, and nothing after it", () => {
  const { north } = clubs("north");
  const early = north.handicapper.admits("early", "recorder");
  const last = north.handicapper.bars(north.reader, null);
  const late = north.handicapper.admits("late", "handicapper");
  const later = late.admits("later still", "recorder");
  north.handicapper.bars(north.recorder, null);
  north.root.bars(north.handicapper, last);
  const { devices } = north.state();
  expect([early, late, later].map(({ id }) => devices.has(id))).toEqual([true, false, false]);
  expect(devices.get(north.reader.id)?.barred).toBe(true);
  expect(devices.get(north.recorder.id)?.barred).toBe(false);
  daysAsTheyCome(north);
});

test("AU8 a handicapper barred for good takes with him all whom only he admitted", () => {
  const { north } = clubs("north");
  const second = north.handicapper.admits("second", "handicapper");
  const shared = north.handicapper.admits("shared", "recorder");
  north.root.writes("device-admitted", { device: shared.key.publicKey, role: "reader" });
  north.root.bars(north.handicapper, null);
  const { devices } = north.state();
  expect(devices.has(second.id)).toBe(false);
  expect(devices.get(shared.id)?.role).toBe("reader");
});
