import type { Payload } from "@sward/core";
import { createLedger, findRuleSet } from "@sward/core";
import { expect, test } from "vitest";
import type { Club, Written } from "../../support/cast.ts";
import { clubs, played, write } from "../../support/cast.ts";
import { stateText } from "../../support/state-text.ts";

/** A club whose recorder has written down five matches, on five days. */
function season() {
  const { north } = clubs("north");
  const reports = [1, 2, 3, 4, 5].map((day) =>
    north.recorder.reports(played(`2026-05-0${day}`, "ada 7", "ben 9", "7-4")),
  );
  return { north, reports };
}

const days = (north: Club, held: readonly Written[]): string[] =>
  [...north.ledger(held).state().matches.values()].map(({ facts }) => facts?.date.slice(-2) ?? "").sort();

const reasons = (north: Club, held: readonly Written[]) =>
  held.map(({ id }) => north.ledger(held).state().uncounted.get(id) ?? "counts");

const without = (all: readonly Written[], gone: Written | undefined) => all.filter((one) => one !== gone);

test("LE7 a chain counts up to its first gap, and on when the gap is filled", () => {
  const { north, reports } = season();
  const held = without(north.written, reports[2]);
  expect(days(north, held)).toEqual(["01", "02"]);
  expect(reasons(north, held).slice(-2)).toEqual(["waiting-for-earlier", "waiting-for-earlier"]);

  const ledger = north.ledger(held);
  ledger.add([reports[2]!]);
  expect(ledger.state().matches.size).toBe(5);
  expect(stateText(ledger.state())).toBe(stateText(north.state()));
});

test("LE7 a chain that does not begin at its first place waits whole", () => {
  const { north, reports } = season();
  const held = without(north.written, reports[0]);
  expect(days(north, held)).toEqual([]);
});

test("LE8 a chain counts up to the first entry that does not name the one before it", () => {
  const { north, reports } = season();
  const stranger = north.handicapper.reports(played("2026-05-01", "ada 7", "cat 9", "7-4"));
  const broken = north.recorder.writesRaw({
    kind: "match-reported",
    body: played("2026-05-06", "ada 7", "ben 9", "7-4"),
    prev: stranger.id,
  });
  north.recorder.reports(played("2026-05-07", "ada 7", "ben 9", "7-4"));
  expect(days(north, north.written)).toEqual(["01", "01", "02", "03", "04", "05"]);
  expect(north.state().uncounted.get(broken.id)).toBe("waiting-for-earlier");
  expect(north.state().devices.get(north.recorder.id)).toMatchObject({ counted: 5, forkedAt: null });

  // A first entry that names one before it is as broken.
  const first = write(north.reader.key, { ...payloadOf(reports[0]!), seq: 0, prev: stranger.id });
  expect(
    north
      .ledger([...north.written, first])
      .state()
      .uncounted.get(first.id),
  ).toBe("waiting-for-earlier");
});

const payloadOf = ({ entry }: Written): Payload => {
  const { book, seq, prev, at, kind } = entry;
  return { v: 1, book, seq, prev, at, kind, body: entry.understood ? { ...entry.body } : {} };
};

test("LE9 two entries in one place: the chain counts up to before them, both are kept", () => {
  const { north, reports } = season();
  const twin = north.recorder.twin();
  const one = north.recorder.reports(played("2026-05-06", "ada 7", "ben 9", "7-4"));
  const next = north.recorder.reports(played("2026-05-07", "ada 7", "ben 9", "7-4"));
  const other = twin.reports(played("2026-05-06", "ada 7", "ben 9", "4-7"));

  // It counted before the second of the two was seen.
  const ledger = north.ledger(without(north.written, other));
  expect(ledger.state().matches.size).toBe(7);
  ledger.add([other]);
  const state = ledger.state();
  expect(days(north, north.written)).toEqual(["01", "02", "03", "04", "05"]);
  expect([one, next, other].map(({ id }) => state.uncounted.get(id))).toEqual(["forked", "forked", "forked"]);
  expect(state.devices.get(north.recorder.id)).toMatchObject({ counted: 5, forkedAt: 5 });
  expect(state.entries).toBe(north.written.length);
  expect(stateText(state)).toBe(stateText(north.state()));
  expect(reports).toHaveLength(5);
});

test("LE9 a fork further back takes back more", () => {
  const { north, reports } = season();
  const fork = write(north.recorder.key, {
    ...payloadOf(reports[1]!),
    body: { ...played("2026-05-02", "ada 7", "dan 9", "7-4") },
  });
  const ledger = north.ledger();
  ledger.add([fork]);
  expect(days(north, [...north.written, fork])).toEqual(["01"]);
  expect(ledger.state().devices.get(north.recorder.id)).toMatchObject({ counted: 1, forkedAt: 1 });
});

test("LE9 a fork beyond a gap is seen, and what waits before it counts when the gap is filled", () => {
  const { north, reports } = season();
  const twin = north.recorder.twin();
  north.recorder.reports(played("2026-05-06", "ada 7", "ben 9", "7-4"));
  twin.reports(played("2026-05-07", "ada 7", "ben 9", "7-4"));
  const held = without(north.written, reports[2]);
  expect(days(north, held)).toEqual(["01", "02"]);
  expect(reasons(north, held).slice(-4)).toEqual(["waiting-for-earlier", "waiting-for-earlier", "forked", "forked"]);
  expect(days(north, north.written)).toEqual(["01", "02", "03", "04", "05"]);
});

test("LE10 an entry of another book is kept and counts for nothing", () => {
  const { north, south } = clubs("north", "south");
  const elsewhere = south.recorder.reports(played("2026-05-01", "ada 7", "ben 9", "7-4"));
  const before = north.state();
  const after = north.ledger([...north.written, elsewhere]).state();
  expect(after.uncounted.get(elsewhere.id)).toBe("wrong-book");
  expect(after.entries).toBe(before.entries + 1);
  expect(after.matches.size).toBe(0);
});

test("LE10 not even of a device that writes in both", () => {
  const { north, south } = clubs("north", "south");
  const same = write(north.recorder.key, {
    ...payloadOf(south.recorder.reports(played("2026-05-01", "ada 7", "ben 9", "7-4"))),
  });
  const real = north.recorder.reports(played("2026-05-02", "ada 7", "ben 9", "7-4"));
  const state = north.ledger([...north.written, same]).state();
  expect(state.uncounted.get(same.id)).toBe("wrong-book");
  expect(state.uncounted.has(real.id)).toBe(false);
});

test("LE11 an author's next entry names the last one held", () => {
  const { north, reports } = season();
  const ledger = north.ledger();
  expect(ledger.next(north.recorder.id)).toEqual({ seq: 5, prev: reports[4]!.id });
  expect(ledger.next(north.reader.id)).toEqual({ seq: 0, prev: null });
  ledger.add([north.recorder.reports(played("2026-05-06", "ada 7", "ben 9", "7-4"))]);
  expect(ledger.next(north.recorder.id).seq).toBe(6);
});

test("LE11 beyond a gap it does not fill the gap, which would be a fork when the missing one comes", () => {
  const { north, reports } = season();
  const ledger = north.ledger(without(north.written, reports[2]));
  expect(ledger.next(north.recorder.id)).toEqual({ seq: 5, prev: reports[4]!.id });
});

test("LE11 after a fork it names one of the two, and what it writes does not count either", () => {
  const { north } = season();
  const twin = north.recorder.twin();
  const two = [
    north.recorder.reports(played("2026-05-06", "ada 7", "ben 9", "7-4")),
    twin.reports(played("2026-05-07", "ada 7", "ben 9", "7-4")),
  ];
  const next = north.ledger().next(north.recorder.id);
  expect(next.seq).toBe(6);
  expect(two.map(({ id }) => id)).toContain(next.prev);
});

test("LE12 in an excerpt a chain counts over gaps, whatever the order, up to the first fork", () => {
  const { north, reports } = season();
  const twin = north.recorder.twin();
  const kept = without(without(north.written, reports[0]), reports[2]);
  const late = north.recorder.reports(played("2026-05-06", "ada 7", "ben 9", "7-4"));
  const other = twin.reports(played("2026-05-07", "ada 7", "ben 9", "7-4"));
  for (const order of [kept, [...kept].reverse()]) {
    const ledger = createLedger(north.id, { findRules: findRuleSet, chains: "excerpt" });
    for (const one of order) ledger.add([one]);
    expect([...ledger.state().matches.values()].map(({ facts }) => facts?.date.slice(-1)).sort()).toEqual([
      "2",
      "4",
      "5",
    ]);
    expect(ledger.state().uncounted.size).toBe(0);
    ledger.add([late, other]);
    expect(ledger.state().matches.size).toBe(3);
    expect(ledger.state().uncounted.get(late.id)).toBe("forked");
  }
});

test("LE12 an excerpt without its opening, or with another in its place, counts for nothing", () => {
  const { north } = season();
  const ledger = createLedger(north.id, { findRules: findRuleSet, chains: "excerpt" });
  ledger.add(north.written.slice(1));
  expect(ledger.state()).toMatchObject({ as: null });
  expect(ledger.state().matches.size).toBe(0);
});

test("LE12 a bar in an excerpt cuts by place, not by how many entries were left in", () => {
  const { north, reports } = season();
  north.handicapper.bars(north.recorder, reports[3]!);
  const ledger = createLedger(north.id, { findRules: findRuleSet, chains: "excerpt" });
  ledger.add(without(without(north.written, reports[0]), reports[1]));
  expect([...ledger.state().matches.values()].map(({ facts }) => facts?.date.slice(-1)).sort()).toEqual(["3", "4"]);
  expect(ledger.state().uncounted.get(reports[4]!.id)).toBe("after-bar");
});
