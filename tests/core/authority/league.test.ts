import { byCodeUnits } from "@sward/core";
import { expect, test } from "vitest";
import type { Pen } from "../../support/cast.ts";
import { clubs, league, played } from "../../support/cast.ts";
import { stateText } from "../../support/state-text.ts";

function border() {
  const { north, south } = clubs("north", "south");
  return { north, south, ...league("border", { north, south }) };
}

test("AU11 each club's root admits that club's own devices, and they admit further", () => {
  const { league: book, roots, captains } = border();
  const phone = captains.north.admits("telephone", "recorder");
  const secretary = book.root.admits("secretary", "handicapper");
  const { clubs: admitted, devices } = book.state();
  expect([...admitted.values()]).toEqual([
    { club: roots.north.id, name: "north" },
    { club: roots.south.id, name: "south" },
  ]);
  expect(devices.get(roots.north.id)).toMatchObject({ role: "root", club: roots.north.id, admittedBy: book.root.id });
  expect(devices.get(captains.north.id)).toMatchObject({ role: "handicapper", club: roots.north.id });
  expect(devices.get(phone.id)).toMatchObject({
    role: "recorder",
    club: roots.north.id,
    admittedBy: captains.north.id,
  });
  expect(devices.get(secretary.id)).toMatchObject({ role: "handicapper", club: null });
});

test("AU11 a club's root bars its own handicappers, and nobody of another club or of the league", () => {
  const { league: book, roots, captains } = border();
  const secretary = book.root.admits("secretary", "handicapper");
  const refused = [
    roots.north.bars(captains.south, null),
    roots.north.bars(roots.south, null),
    roots.north.bars(secretary, null),
    roots.north.bars(book.root, null),
    captains.north.bars(roots.north, null),
    secretary.bars(captains.north, null),
  ];
  roots.north.bars(captains.north, null);
  const { devices, uncounted } = book.state();
  // What the barred captain wrote is out for that reason already.
  expect(refused.map(({ id }) => uncounted.get(id))).toEqual([
    "role-may-not",
    "role-may-not",
    "role-may-not",
    "role-may-not",
    "after-bar",
    "role-may-not",
  ]);
  expect([...devices.values()].filter(({ barred }) => barred).map(({ device }) => device)).toEqual([captains.north.id]);
});

test("AU11 a league's officer bars any club's recorder, a club's officer its own", () => {
  const { league: book, captains } = border();
  const secretary = book.root.admits("secretary", "handicapper");
  const [one, two] = [captains.north.admits("one", "recorder"), captains.north.admits("two", "recorder")];
  captains.south.bars(one, null);
  expect(book.state().devices.get(one.id)?.barred).toBe(false);
  captains.north.bars(one, null);
  secretary.bars(two, null);
  expect(book.state().devices.get(one.id)?.barred).toBe(true);
  expect(book.state().devices.get(two.id)?.barred).toBe(true);
});

test("AU11 a device admitted by two clubs speaks for the one with the lower key, and that one's bar holds", () => {
  const { north, south } = clubs("north", "south");
  for (const members of [
    { north, south },
    { south, north },
  ]) {
    const { league: book, roots } = league("border", members);
    const [lower, higher] = [roots.north, roots.south].sort((a, b) => byCodeUnits(a.id, b.id)) as [Pen, Pen];
    higher.admits("shared", "handicapper");
    const shared = lower.admits("shared", "handicapper");
    const below = shared.admits("below", "recorder");
    expect(book.state().devices.get(shared.id)?.club).toBe(lower.id);
    expect(book.state().devices.get(below.id)?.club).toBe(lower.id);

    higher.bars(shared, null);
    expect(book.state().devices.get(shared.id)?.barred).toBe(false);
    lower.bars(shared, null);
    const { devices } = book.state();
    expect(devices.get(shared.id)).toMatchObject({ barred: true, club: lower.id });
    expect(devices.has(below.id)).toBe(false);
  }
});

test("AU11 the highest role decides for which club, the league's own device comes before any club's", () => {
  const { league: book, roots } = border();
  const [lower, higher] = [roots.north, roots.south].sort((a, b) => byCodeUnits(a.id, b.id));
  lower?.admits("shared", "reader");
  const shared = higher?.admits("shared", "handicapper");
  expect(book.state().devices.get(shared!.id)).toMatchObject({ role: "handicapper", club: higher?.id });
  book.root.admits("shared", "handicapper");
  expect(book.state().devices.get(shared!.id)).toMatchObject({ role: "handicapper", club: null });
});

test("AU12 a club barred in a league admits nobody after its cut; barred for good, it has no devices", () => {
  const { league: book, roots, captains } = border();
  const admission = roots.north.book.written.findLast(({ entry }) => entry.author === roots.north.id)!;
  const late = roots.north.admits("late", "handicapper");
  book.root.bars(roots.north, admission);
  expect(book.state().devices.has(late.id)).toBe(false);
  expect(book.state().devices.get(captains.north.id)).toMatchObject({ barred: false });

  book.root.bars(roots.north, null);
  const report = captains.north.reports(played("2026-05-01", "ada 7", "ben 9", "7-1"));
  const state = book.state();
  expect(state.devices.has(captains.north.id)).toBe(false);
  expect(state.uncounted.get(report.id)).toBe("not-admitted");
  expect(state.devices.get(captains.south.id)).toMatchObject({ barred: false });
});

test("AU11 a club's book knows no clubs", () => {
  const { north, south } = clubs("north", "south");
  north.root.writes("club-admitted", { club: south.root.key.publicKey, name: "south" });
  expect(north.state().clubs.size).toBe(0);
  expect(north.state().devices.has(south.root.id)).toBe(false);
});

test("AU11 who stands does not depend on the order in which admissions and bars come", () => {
  const { league: book, roots, captains } = border();
  for (const root of [roots.south, roots.north]) root.admits("shared", "handicapper").admits("below", "recorder");
  const phone = captains.south.admits("telephone", "recorder");
  phone.reports(played("2026-05-01", "ada 7", "ben 9", "7-1"));
  captains.south.bars(phone, null);
  book.root.bars(captains.south, null);
  const whole = stateText(book.state());
  const ledger = book.empty();
  for (const one of [...book.written].reverse()) ledger.add([one]);
  expect(stateText(ledger.state())).toBe(whole);
  // South's captain is out, and with him his recorder.
  expect(book.state().devices.has(phone.id)).toBe(false);
});
