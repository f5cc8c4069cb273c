import type { BookState } from "@sward/core";
import { expect, test } from "vitest";
import type { Book, Pen, Written } from "../../support/cast.ts";
import { clubs, event, league, played } from "../../support/cast.ts";
import { stateOf } from "../../support/state-text.ts";

const match = (score: string) => played("2026-05-01", "ada 7", "ben 9", score);

/** Scores of the one match that stand, reports in order of id. */
const scores = (state: BookState): string[] =>
  [...state.matches.values()].flatMap(({ reports }) =>
    reports.map(({ facts }) => facts.games.map(({ score }) => [...score].sort().reverse().join("-")).join(" ")),
  );

const uncounted = (book: Book, ...written: Written[]) => written.map(({ id }) => stateOf(book).uncounted.get(id));

test("AU13 what replaces an entry counts in its stead, and the last of several does", () => {
  const { north } = clubs("north");
  const first = north.recorder.reports(match("7-1"));
  const second = north.recorder.reports(match("7-2"), first);
  expect(scores(stateOf(north))).toEqual(["7-2"]);
  north.recorder.reports(match("7-3"), second);
  expect(scores(stateOf(north))).toEqual(["7-3"]);
});

test("AU13 a correction that is withdrawn brings back what it corrected", () => {
  const { north } = clubs("north");
  const first = north.recorder.reports(match("7-1"));
  const second = north.recorder.reports(match("7-2"), first);
  const third = north.recorder.reports(match("7-3"), second);
  north.recorder.withdraws(third);
  expect(scores(stateOf(north))).toEqual(["7-2"]);
  north.recorder.withdraws(second);
  expect(scores(stateOf(north))).toEqual(["7-1"]);
  north.recorder.withdraws(first);
  expect(scores(stateOf(north))).toEqual([]);
});

test("AU13 a withdrawn entry stays out when its correction stands, and a withdrawn correction in the middle is passed over", () => {
  const { north } = clubs("north");
  const first = north.recorder.reports(match("7-1"));
  const second = north.recorder.reports(match("7-2"), first);
  north.recorder.withdraws(first);
  expect(scores(stateOf(north))).toEqual(["7-2"]);
  north.recorder.reports(match("7-3"), second);
  north.recorder.withdraws(second);
  expect(scores(stateOf(north))).toEqual(["7-3"]);
});

test("AU13 an entry of another kind corrects nothing", () => {
  const { north } = clubs("north");
  const report = north.recorder.reports(match("7-1"));
  const set = north.handicapper.sets("ada", 6, "2026-05-02", { replaces: report.id });
  expect(uncounted(north, set)).toEqual(["may-not-correct"]);
  expect(scores(north.state())).toEqual(["7-1"]);
});

test("AU14 one corrects one's own, an officer anybody's, a recorder not another's", () => {
  const { north } = clubs("north");
  const other = north.handicapper.admits("other recorder", "recorder");
  const report = north.recorder.reports(match("7-1"));
  const replaced = other.reports(match("7-2"), report);
  const withdrawn = other.withdraws(report);
  expect(uncounted(north, replaced, withdrawn)).toEqual(["may-not-correct", "may-not-correct"]);
  expect(scores(stateOf(north))).toEqual(["7-1"]);

  const byOfficer = north.handicapper.reports(match("7-3"), report);
  expect(scores(stateOf(north))).toEqual(["7-3"]);
  const back = north.recorder.withdraws(byOfficer);
  expect(uncounted(north, back)).toEqual(["may-not-correct"]);
  north.root.withdraws(byOfficer);
  expect(scores(stateOf(north))).toEqual(["7-1"]);
});

test("AU14 a refused correction is no report of its own, and what corrects it stands by itself", () => {
  const { north } = clubs("north");
  const other = north.handicapper.admits("other recorder", "recorder");
  const report = north.recorder.reports(match("7-1"));
  const refused = other.reports(match("7-2"), report);
  expect(scores(stateOf(north))).toEqual(["7-1"]);
  other.reports(match("7-3"), refused);
  expect(scores(stateOf(north)).sort()).toEqual(["7-1", "7-3"]);
});

test("AU14 in a league a club's officer corrects those of his club, the league's anybody's", () => {
  const { north, south } = clubs("north", "south");
  const { league: border, captains } = league("border", { north, south });
  const phone = captains.north.admits("telephone", "recorder");
  const report = phone.reports(match("7-1"));
  const byOther = captains.south.withdraws(report);
  const bySecretary = border.root.admits("secretary", "handicapper");
  expect(uncounted(border, byOther)).toEqual(["may-not-correct"]);
  const byCaptain = captains.north.reports(match("7-2"), report);
  expect(scores(stateOf(border))).toEqual(["7-2"]);
  bySecretary.withdraws(byCaptain);
  expect(scores(stateOf(border))).toEqual(["7-1"]);
});

test("AU15 RP29 two corrections made apart are rivals: the lower id counts until one is withdrawn or replaced", () => {
  const { north } = clubs("north");
  const report = north.recorder.reports(match("7-1"));
  const rivals = [north.recorder.reports(match("7-2"), report), north.handicapper.reports(match("7-3"), report)];
  const [lower, higher] = rivals.sort((a, b) => (a.id < b.id ? -1 : 1)) as [Written, Written];
  const state = stateOf(north);
  expect([...state.matches.values()].map(({ reports }) => reports.map(({ entry }) => entry))).toEqual([[lower.id]]);
  const asked = { about: "rival-corrections", of: report.id, counts: lower.id, others: [higher.id] };
  expect(state.questions).toEqual([asked]);

  const withdrawn = north.handicapper.withdraws(lower);
  const after = stateOf(north);
  expect(scores(after)).toEqual(
    scores(north.ledger(north.written.filter((one) => one !== lower && one !== withdrawn)).state()),
  );
  expect(after.questions).toEqual([]);
});

test("AU15 RP29 a rival that is itself replaced goes on by its replacement", () => {
  const { north } = clubs("north");
  const report = north.recorder.reports(match("7-1"));
  const one = north.recorder.reports(match("7-2"), report);
  const other = north.handicapper.reports(match("7-3"), report);
  const last = north.handicapper.reports(match("7-4"), one);
  const [counts] = [last.id, other.id].sort();
  const state = stateOf(north);
  expect([...state.matches.values()].map(({ reports }) => reports.map(({ entry }) => entry))).toEqual([[counts]]);
  expect(state.questions.map(({ about }) => about)).toEqual(["rival-corrections"]);
  north.handicapper.withdraws(other);
  expect(scores(stateOf(north))).toEqual(["7-4"]);
});

test("AU15 RP29 rivals that say the same are not asked about", () => {
  const { north } = clubs("north");
  const report = north.recorder.reports(match("7-1"));
  north.recorder.reports(match("7-2"), report);
  north.handicapper.reports(played("2026-05-01", "ben 9", "ada 7", "2-7"), report);
  const state = stateOf(north);
  expect(scores(state)).toEqual(["7-2"]);
  expect(state.questions).toEqual([]);
});

test("AU15 rivals there are of settings, events and fixtures too", () => {
  const { north } = clubs("north");
  north.member("ada", 7);
  const opened = north.handicapper.opens("cup", "2026-05-01", "2026-05-02");
  const titles = ["cup of the north", "northern cup"];
  const written = [north.handicapper, north.root].map((pen, place) =>
    pen.opens("cup", "2026-05-01", "2026-05-03", { title: titles[place] as string, replaces: opened.id }),
  );
  const lower = written[0]!.id < written[1]!.id ? 0 : 1;
  const state = stateOf(north);
  expect(state.events.get(event("cup"))?.title).toBe(titles[lower]);
  expect(state.questions.map(({ about }) => about)).toEqual(["rival-corrections"]);
});

test("AU16 a correction may come before what it corrects; whether it may be made is known when that comes", () => {
  const { north } = clubs("north");
  const report = north.recorder.reports(match("7-1"));
  const [byOfficer, byReader] = [north.handicapper.reports(match("7-2"), report), north.handicapper.withdraws(report)];
  const ledger = north.ledger(north.written.filter((one) => one !== report));
  expect(scores(ledger.state())).toEqual(["7-2"]);
  ledger.add([report]);
  expect(scores(ledger.state())).toEqual(["7-2"]);
  expect([byOfficer, byReader].filter(({ id }) => ledger.state().uncounted.has(id))).toEqual([]);

  const other = north.handicapper.admits("other recorder", "recorder");
  const second = north.recorder.reports(played("2026-05-02", "ada 7", "ben 9", "7-1"));
  const refused = other.reports(played("2026-05-02", "ada 7", "ben 9", "7-2"), second);
  const again = north.ledger(north.written.filter((one) => one !== second));
  expect(again.state().uncounted.has(refused.id)).toBe(false);
  again.add([second]);
  expect(again.state().uncounted.get(refused.id)).toBe("may-not-correct");
});

test("AU16 a correction of an entry that does not count stands by itself", () => {
  const { north } = clubs("north");
  const twin = north.recorder.twin();
  const forked = north.recorder.reports(match("7-1"));
  twin.reports(match("7-2"));
  north.handicapper.reports(match("7-3"), forked);
  expect(scores(stateOf(north))).toEqual(["7-3"]);
});

test("AU16 it moves from one day to another when what it corrects comes late", () => {
  const { north } = clubs("north");
  const report = north.recorder.reports(played("2026-05-01", "ada 7", "ben 9", "7-1"));
  north.recorder.reports(played("2026-05-02", "ada 7", "cat 9", "7-1"), report);
  const days = [...stateOf(north).matches.values()].map(({ facts }) => facts?.date);
  expect(days).toEqual(["2026-05-02"]);
});

test("AU17 a withdrawal is final, and admissions and bars are not withdrawn", () => {
  const { north } = clubs("north");
  const report = north.recorder.reports(match("7-1"));
  const withdrawal = north.recorder.withdraws(report);
  north.handicapper.withdraws(withdrawal);
  expect(scores(stateOf(north))).toEqual([]);

  const admission = north.written.find(({ entry }) => entry.kind === "device-admitted")!;
  const bar = north.handicapper.bars(north.reader, null);
  north.root.withdraws(admission);
  north.root.withdraws(bar);
  const { devices } = stateOf(north);
  expect(devices.get(north.handicapper.id)?.role).toBe("handicapper");
  expect(devices.get(north.reader.id)?.barred).toBe(true);
});

test("AU22 of settings that cannot be replaced an author's last holds", () => {
  const { north } = clubs("north");
  const policy = (pen: Pen, unconfirmed: "counts" | "waits") => pen.writes("policy-set", { unconfirmed });
  for (const unconfirmed of ["waits", "counts", "waits", "counts", "waits"] as const) {
    policy(north.handicapper, unconfirmed);
    expect(stateOf(north).unconfirmed).toBe(unconfirmed);
  }
  for (const rules of ["new-south-wales-2022", "england-2016", "new-south-wales-2022"]) {
    north.root.adopts(rules);
    expect(stateOf(north).rules).toEqual([{ rules, from: "2016-01-01" }]);
  }
});

test("AU22 among authors the lowest key's holds, until it is withdrawn", () => {
  const { north } = clubs("north");
  const mine = north.root.writes("policy-set", { unconfirmed: "waits" });
  const other = north.handicapper.writes("policy-set", { unconfirmed: "counts" });
  const rootIsLower = north.root.id < north.handicapper.id;
  expect(stateOf(north).unconfirmed).toBe(rootIsLower ? "waits" : "counts");
  north.root.withdraws(rootIsLower ? mine : other);
  expect(stateOf(north).unconfirmed).toBe(rootIsLower ? "counts" : "waits");
});
