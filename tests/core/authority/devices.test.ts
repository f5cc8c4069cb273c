import { expect, test } from "vitest";
import { Book, Club, clubs, keyOf, Pen, played, write } from "../../support/cast.ts";
import { stateText } from "../../support/state-text.ts";

test("AU1 a book begins with its opening; until that is held nothing counts", () => {
  const { north } = clubs("north");
  north.member("ada", 7);
  const [opening, ...rest] = north.written;
  const ledger = north.ledger(rest);
  expect(ledger.state()).toMatchObject({ as: null, name: "", rules: [], entries: rest.length });
  expect(ledger.state().cards.size).toBe(0);
  expect([...ledger.state().devices.keys()]).toEqual([]);
  const handicappers = rest.filter(({ entry }) => entry.author === north.handicapper.id);
  expect(handicappers.map(({ id }) => ledger.state().uncounted.get(id))).toEqual(
    handicappers.map(() => "not-admitted"),
  );
  ledger.add([opening!]);
  expect(ledger.state()).toMatchObject({ as: "club", name: "north" });
  expect(stateText(ledger.state())).toBe(stateText(north.state()));
});

test("AU1 an opening by another key, or that names another key, opens nothing", () => {
  const key = keyOf("impostor");
  const { north } = clubs("north");
  const at = { seq: 0, prev: null, at: "2026-05-01T10:00:00Z", v: 1, kind: "book-opened" } as const;
  const body = { as: "club", name: "mine", root: key.publicKey };
  const empty = north.empty();
  empty.add([write(key, { ...at, book: north.id, body })]);
  expect(empty.state()).toMatchObject({ as: null, name: "" });
  empty.add([write(north.root.key, { ...at, book: north.id, body })]);
  expect(empty.state()).toMatchObject({ as: null, name: "" });
});

test("AU1 a second opening does not count", () => {
  const { north } = clubs("north");
  const again = north.root.writes("book-opened", { root: north.root.key.publicKey, as: "league", name: "other" });
  const others = north.handicapper.writes("book-opened", { root: keyOf("x").publicKey, as: "club", name: "other" });
  const state = north.state();
  expect(state).toMatchObject({ as: "club", name: "north" });
  expect([again, others].map(({ id }) => state.uncounted.get(id))).toEqual(["second-opening", "second-opening"]);
});

test("AU2 the root and handicappers admit devices in any role, recorders and readers none", () => {
  const { north } = clubs("north");
  const second = north.handicapper.admits("second handicapper", "handicapper");
  const third = second.admits("third handicapper", "handicapper");
  const recorder = third.admits("another recorder", "recorder");
  const byRecorder = recorder.admits("a friend", "recorder");
  const byReader = north.reader.admits("another friend", "reader");
  const { devices, uncounted } = north.state();
  expect(devices.get(third.id)).toMatchObject({
    role: "handicapper",
    admittedBy: second.id,
    club: null,
    barred: false,
  });
  expect(devices.get(recorder.id)).toMatchObject({ role: "recorder", admittedBy: third.id });
  expect(devices.has(byRecorder.id)).toBe(false);
  expect(devices.has(byReader.id)).toBe(false);
  expect([...uncounted.values()]).toEqual(["role-may-not", "role-may-not"]);
});

test("AU2 what a device wrote before it was admitted counts once it is", () => {
  const { north } = clubs("north");
  const early = new Pen(north, keyOf("early"));
  const report = early.reports(played("2026-05-01", "ada 7", "ben 9", "7-4"));
  const ledger = north.ledger();
  expect(ledger.state().uncounted.get(report.id)).toBe("not-admitted");
  north.handicapper.admits("early", "recorder");
  ledger.add(north.written);
  expect(ledger.state().uncounted.size).toBe(0);
  expect(ledger.state().matches.size).toBe(1);
});

test("AU3 of several admissions the highest role holds, whichever came first", () => {
  for (const roles of [
    ["reader", "recorder", "handicapper"],
    ["handicapper", "recorder", "reader"],
    ["reader", "recorder"],
    ["recorder", "reader"],
  ] as const) {
    const { north } = clubs("north");
    let device = north.root;
    for (const role of roles) device = north.handicapper.admits("pavilion", role);
    const highest = roles.some((role) => role === "handicapper") ? "handicapper" : "recorder";
    expect(north.state().devices.get(device.id)?.role).toBe(highest);
  }
});

test("AU3 the root stays the root whoever admits it", () => {
  const { north } = clubs("north");
  north.handicapper.admits("root of north", "reader");
  expect(north.state().devices.get(north.root.id)).toMatchObject({ role: "root", admittedBy: north.root.id });
});

test("AU4 who is not admitted writes nothing that counts", () => {
  const { north } = clubs("north");
  const before = stateText(north.state());
  const stranger = new Pen(north, keyOf("stranger"));
  const written = [
    stranger.joins("mallory"),
    stranger.reports(played("2026-05-01", "ada 7", "ben 9", "7-4")),
    stranger.bars(north.recorder, null),
    stranger.writes("device-admitted", { device: stranger.key.publicKey, role: "handicapper" }),
  ];
  const state = north.state();
  expect(written.map(({ id }) => state.uncounted.get(id))).toEqual(written.map(() => "not-admitted"));
  expect(stateText({ ...bare(state), entries: state.entries - written.length, uncounted: new Map() })).toBe(before);
});

/** A state with what is worked out when asked for, as plain members. */
const bare = (state: ReturnType<Club["state"]>) => ({
  ...state,
  devices: state.devices,
  fixtures: state.fixtures,
  stated: state.stated,
  questions: state.questions,
  uncounted: state.uncounted,
});

test("AU23 a device counts the entries of its chain that do, and every other is listed with the reason", () => {
  const { north, south } = clubs("north", "south");
  const counts = north.recorder.reports(played("2026-05-01", "ada 7", "ben 9", "7-4"));
  const cannotBe = north.recorder.reports(played("2026-05-01", "ada 7", "ada 7", "7-4"));
  const mayNot = north.recorder.sets("ada", 4, "2026-05-01");
  const unknown = north.recorder.writesRaw({ kind: "lawn-mown", body: {} });
  const copy = north.recorder.carries(south.recorder.reports(played("2026-05-01", "eve 7", "dan 9", "7-4")));
  const state = north.state();
  expect(state.devices.get(north.recorder.id)?.counted).toBe(2);
  expect(state.uncounted).toEqual(
    new Map([
      [cannotBe.id, "cannot-be"],
      [mayNot.id, "role-may-not"],
      [unknown.id, "not-understood"],
    ]),
  );
  expect([counts, copy].filter(({ id }) => state.uncounted.has(id))).toEqual([]);
});

test("AU9 a reader makes nothing", () => {
  const { north } = clubs("north");
  const report = north.reader.reports(played("2026-05-01", "ada 7", "ben 9", "7-4"));
  const withdrawal = north.reader.withdraws(report);
  const { uncounted } = north.state();
  expect(uncounted.get(report.id)).toBe("role-may-not");
  expect(uncounted.get(withdrawal.id)).toBe("role-may-not");
});

test("AU1 a league is opened the same way", () => {
  const league = new Book("border", "league");
  expect(league.state()).toMatchObject({ as: "league", name: "border" });
  expect(new Club("north").state().as).toBe("club");
});
