/** Epochs: which stand, which is written in, what is owed. Boxes are texts here; that they open is tested with real keys. */
import type { Bodies, KeyId, PublicKey } from "@sward/core";
import { bodies, boxesOwed, epochDue, epochInForce, nextEpochNumber, settleEpochs } from "@sward/core";
import fc from "fast-check";
import { expect, test } from "vitest";
import type { Book, Club, Pen, Written } from "../../support/cast.ts";
import { clubs, keyOf, league, played } from "../../support/cast.ts";

const room = (name: string): PublicKey => keyOf(`room ${name}`).publicKey;
const rooms = ["a", "b", "c"].map(room).sort();

const opens = (
  by: Pen,
  number: number,
  where: PublicKey,
  { without = [], to = [] }: { without?: readonly Pen[]; to?: readonly Pen[] } = {},
): Written =>
  by.writes("epoch-opened", {
    number,
    room: where,
    from: number - 1,
    without: without.map(({ id }) => id),
    boxes: to.map(({ id }) => ({ to: id, box: "x.y.z" })),
  });

function epochsOf(book: Book, held: readonly Written[] = book.written) {
  const ledger = book.ledger(held);
  const openings = [...ledger.counted()].flatMap(({ entry }) => (entry.kind === "epoch-opened" ? [entry] : []));
  return { standing: settleEpochs(openings), devices: ledger.state().devices };
}

const names = (standing: ReturnType<typeof settleEpochs>): string[] =>
  standing.map(({ number, room }) => `${number}${"abc"[rooms.indexOf(room)]}`);

const everyone = (club: Club): KeyId[] => [club.root, club.handicapper, club.recorder, club.reader].map(({ id }) => id);

test("AU25 officers open epochs, others do not; openings of one epoch put their boxes and whom they leave behind together", () => {
  const { north } = clubs("north");
  const other = north.root.admits("another handicapper", "handicapper");
  const first = opens(north.handicapper, 1, rooms[0]!, { to: [north.root], without: [north.reader] });
  const second = opens(other, 1, rooms[0]!, { to: [other, north.root], without: [north.recorder] });
  const refused = opens(north.recorder, 1, rooms[1]!);
  const { standing } = epochsOf(north);
  expect(names(standing)).toEqual(["1a"]);
  expect([...standing[0]!.given].sort()).toEqual([north.root.id, other.id].sort());
  expect([...standing[0]!.without].sort()).toEqual([north.reader.id, north.recorder.id].sort());
  expect(standing[0]!.at).toBe([first, second].map(({ entry }) => entry.at).sort()[0]);
  expect(north.state().uncounted.get(refused.id)).toBe("role-may-not");
});

test("AU25 the form: numbers from 1 that fit an envelope, a room, and boxes of a bounded length and count", () => {
  const good: Bodies["epoch-opened"] = { number: 1, room: rooms[0]!, from: 0, without: [], boxes: [] };
  const reads = (change: object): boolean => bodies["epoch-opened"].safeParse({ ...good, ...change }).success;
  expect([{}, { number: 2 ** 32 - 1 }].map(reads)).toEqual([true, true]);
  const box = { to: keyOf("x").id, box: "b".repeat(600) };
  expect(reads({ boxes: Array(60).fill(box) })).toBe(true);
  const bad = [
    { number: 0 },
    { number: 2 ** 32 },
    { room: "short" },
    { boxes: [{ ...box, box: "b".repeat(601) }] },
    { boxes: Array(61).fill(box) },
    { without: Array(201).fill(box.to) },
    { secret: "s" },
  ];
  expect(bad.map(reads)).toEqual(bad.map(() => false));
});

test("AU26 numbers cannot be skipped, so none can be used up; two of one number both stand", () => {
  const { north } = clubs("north");
  opens(north.handicapper, 2 ** 32 - 1, rooms[0]!);
  expect(names(epochsOf(north).standing)).toEqual([]);
  opens(north.root, 1, rooms[1]!);
  opens(north.handicapper, 1, rooms[0]!);
  opens(north.handicapper, 3, rooms[2]!);
  expect(names(epochsOf(north).standing)).toEqual(["1a", "1b"]);
  expect(nextEpochNumber(epochsOf(north).standing)).toBe(2);
  opens(north.root, 2, rooms[1]!);
  expect(names(epochsOf(north).standing)).toEqual(["1a", "1b", "2b", "3c"]);
});

test("AU26 an epoch that a handicapper opened after his cut does not stand, nor what was built on it alone", () => {
  const { north } = clubs("north");
  const kept = opens(north.handicapper, 1, rooms[0]!);
  opens(north.handicapper, 2, rooms[1]!);
  opens(north.root, 3, rooms[2]!);
  expect(names(epochsOf(north).standing)).toEqual(["1a", "2b", "3c"]);
  north.root.bars(north.handicapper, kept);
  expect(names(epochsOf(north).standing)).toEqual(["1a"]);
  opens(north.root, nextEpochNumber(epochsOf(north).standing), rooms[0]!);
  expect(names(epochsOf(north).standing)).toEqual(["1a", "2a", "3c"]);
});

test("AU27 the highest number one has the secret of, and of twins the room that comes first", () => {
  const { north } = clubs("north");
  opens(north.handicapper, 1, rooms[1]!);
  opens(north.root, 1, rooms[0]!);
  opens(north.root, 2, rooms[2]!);
  const { standing } = epochsOf(north);
  const inForce = (...held: PublicKey[]): string | undefined =>
    names([epochInForce(standing, (one) => held.includes(one))].flatMap((one) => one ?? []))[0];
  expect(inForce()).toBe(undefined);
  expect(inForce(rooms[1]!)).toBe("1b");
  expect(inForce(rooms[1]!, rooms[0]!)).toBe("1a");
  expect(inForce(...rooms)).toBe("2c");
});

test("AU28 overdue while a barred device is not left behind, and for whom a later epoch gave no box", () => {
  const { north } = clubs("north");
  const due = (inForce: "none" | "last") => {
    const { standing, devices } = epochsOf(north);
    return epochDue(standing, inForce === "none" ? null : (standing.at(-1) ?? null), devices);
  };
  expect(due("none")).toBe(null);
  north.handicapper.bars(north.recorder, null);
  expect(due("none")).toEqual({ type: "barred-inside", devices: [north.recorder.id] });
  opens(north.handicapper, 1, rooms[0]!, { without: [north.recorder] });
  expect(due("last")).toBe(null);
  north.root.bars(north.reader, null);
  expect(due("last")).toEqual({ type: "barred-inside", devices: [north.reader.id] });
  opens(north.root, 2, rooms[1]!, { without: [north.recorder, north.reader] });
  expect(due("last")).toBe(null);

  const { south } = clubs("south");
  opens(south.handicapper, 1, rooms[0]!);
  const { standing, devices } = epochsOf(south);
  expect(epochDue(standing, null, devices)).toEqual({ type: "left-out", number: 1 });
});

test("AU28 two bars made apart, each with its epoch: neither is enough, and the next one is", () => {
  const { north } = clubs("north");
  north.handicapper.bars(north.recorder, null);
  opens(north.handicapper, 1, rooms[0]!, { without: [north.recorder] });
  north.root.bars(north.reader, null);
  opens(north.root, 1, rooms[1]!, { without: [north.reader] });
  const both = epochsOf(north);
  expect(
    epochDue(
      both.standing,
      epochInForce(both.standing, () => true),
      both.devices,
    ),
  ).toEqual({
    type: "barred-inside",
    devices: [north.reader.id],
  });
  opens(north.root, 2, rooms[2]!, { without: [north.reader, north.recorder] });
  const { standing, devices } = epochsOf(north);
  expect(
    epochDue(
      standing,
      epochInForce(standing, () => true),
      devices,
    ),
  ).toBe(null);
});

test("AU28 a box is owed to everybody who stands and is not barred, the root among them, until it is given", () => {
  const { north } = clubs("north");
  const owed = () => {
    const { standing, devices } = epochsOf(north);
    return boxesOwed(standing.at(-1) ?? null, devices);
  };
  expect(owed()).toEqual(everyone(north).sort());
  north.handicapper.bars(north.recorder, null);
  opens(north.handicapper, 1, rooms[0]!, { to: [north.root, north.handicapper] });
  expect(owed()).toEqual([north.reader.id]);
  north.handicapper.admits("late", "recorder");
  expect(owed()).toEqual([north.reader.id, keyOf("late").id].sort());
});

test("AU29 AU12 a club barred in a league leaves the devices it admitted: each is barred by itself", () => {
  const { north, south } = clubs("north", "south");
  const { league: book, captains, roots } = league("border", { north, south });
  const before = captains.north.reports(played("2026-05-01", "ada 7", "ben 9", "7-4"));
  const barred = book.root.bars(roots.north, book.written.find(({ entry }) => entry.author === roots.north.id)!);
  const late = roots.north.admits("too late", "recorder");
  const state = book.state();
  expect(state.devices.get(roots.north.id)?.barred).toBe(true);
  expect(state.devices.get(captains.north.id)).toMatchObject({ barred: false, counted: 1 });
  expect(state.devices.has(late.id)).toBe(false);
  expect(state.uncounted.has(before.id)).toBe(false);
  expect(boxesOwed(null, state.devices)).toContain(captains.north.id);
  expect(boxesOwed(null, state.devices)).not.toContain(roots.north.id);
  book.root.bars(captains.north, before);
  captains.north.reports(played("2026-05-02", "ada 7", "ben 9", "7-4"));
  expect(book.state().devices.get(captains.north.id)).toMatchObject({ barred: true, counted: 1 });
  expect(book.state().uncounted.has(barred.id)).toBe(false);
});

const SEED = 20261125;
test(`AU25 AU26 AU27 epochs follow from the set of openings alone (seed ${SEED})`, () => {
  const { north } = clubs("north");
  for (const number of [1, 1, 2, 2, 3, 5]) {
    for (const pen of [north.root, north.handicapper])
      opens(pen, number, rooms[(number * 7) % 3]!, { to: [north.reader] });
  }
  const want = epochsOf(north);
  expect(want.standing.length).toBeGreaterThan(2);
  fc.assert(
    fc.property(fc.shuffledSubarray(north.written, { minLength: north.written.length }), (order) => {
      expect(epochsOf(north, order).standing).toEqual(want.standing);
    }),
    { seed: SEED, numRuns: 50 },
  );
});
