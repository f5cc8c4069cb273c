import type { MatchStatus } from "@sward/core";
import { expect, test } from "vitest";
import type { Book, Written } from "../../support/cast.ts";
import { clubs, event, keyOf, keyOfMatch, league, Pen, played } from "../../support/cast.ts";
import { stateOf } from "../../support/state-text.ts";

const fixtureMatch = (score: string) => played("2026-05-01", "ada 7", "ben 9", score, { occasion: "league" });

/** Two clubs in a league, north's captain having reported a match there. */
function border() {
  const { north, south } = clubs("north", "south");
  const { league: book, captains } = league("border", { north, south });
  const report = captains.north.reports(fixtureMatch("7-1"));
  return { north, south, book, captains, report };
}

const statuses = (book: Book): MatchStatus[] => [...stateOf(book).matches.values()].map(({ status }) => status);
const reasonOf = (book: Book, written: Written) => stateOf(book).uncounted.get(written.id);

test("AU18 a report carried from another book counts, once however many copies there are", () => {
  const { north, book, report } = border();
  const ada = north.member("ada", 7);
  north.recorder.carries(report);
  north.handicapper.carries(report);
  const state = stateOf(north);
  expect(statuses(north)).toEqual(["one-report"]);
  expect([...state.matches.values()][0]?.reports).toMatchObject([{ entry: report.id, origin: book.id }]);
  expect(state.cards.get(ada)?.index).toBe(1360);
  expect(state.uncounted.size).toBe(0);
});

test("AU18 a copy whose signature, book or key does not fit does not count", () => {
  const { north, south, captains, report } = border();
  const copies = [
    north.recorder.carries(report, { verified: false }),
    north.recorder.carries(report, { from: south.id }),
    north.recorder.carries(report, { key: captains.south.key.publicKey }),
  ];
  expect(copies.map((copy) => reasonOf(north, copy))).toEqual(copies.map(() => "carried-copy-invalid"));
  expect(stateOf(north).matches.size).toBe(0);
});

test("AU18 only what keeps its meaning in another book is carried, and no match that cannot be", () => {
  const { north, south, book, captains } = border();
  const others = [
    captains.north.joins("ada", "visitor"),
    captains.north.writes("handicap-stated", {
      player: fixtureMatch("7-1").sides[0][0]!.player,
      handicap: 6,
      index: 1400,
      on: "2026-05-01",
    }),
    book.root.writes("policy-set", { unconfirmed: "waits" }),
    captains.north.admits("mallory", "handicapper").book.written.at(-1)!,
    captains.north.reports(played("2026-05-01", "ada 7", "ben 9", "9-9")),
    captains.north.writesRaw({ kind: "lawn-mown", body: {} }),
  ];
  const copies = others.map((one) => north.recorder.carries(one));
  expect(copies.map((copy) => reasonOf(north, copy))).toEqual(copies.map(() => "carried-copy-invalid"));
  const nested = north.handicapper.carries(south.recorder.carries(others[0]!));
  expect(reasonOf(north, nested)).toBe("carried-copy-invalid");
});

test("AU18 events, rulings and withdrawals are carried too", () => {
  const { north, book, captains, report } = border();
  const other = captains.south.reports(fixtureMatch("7-2"));
  const opened = captains.north.opens("cup", "2026-05-01", "2026-05-02");
  for (const one of [report, other, opened]) north.recorder.carries(one);
  expect(statuses(north)).toEqual(["held"]);
  expect(stateOf(north).events.has(event("cup"))).toBe(true);

  const ruling = book.root.rules(keyOfMatch(fixtureMatch("7-1")), other);
  north.handicapper.carries(ruling);
  expect(statuses(north)).toEqual(["ruled"]);
  const withdrawn = book.root.withdraws(ruling);
  north.handicapper.carries(withdrawn);
  expect(statuses(north)).toEqual(["held"]);
  north.handicapper.carries(captains.north.withdraws(report));
  expect(statuses(north)).toEqual(["one-report"]);
});

test("AU24 a recorder's copy of a ruling or a withdrawal decides nothing; an officer's of the same does", () => {
  const { north, book, captains, report } = border();
  const other = captains.south.reports(fixtureMatch("7-2"));
  for (const one of [report, other]) north.recorder.carries(one);
  const decisions = [book.root.rules(keyOfMatch(fixtureMatch("7-1")), other), captains.north.withdraws(report)];
  for (const one of decisions) expect(reasonOf(north, north.recorder.carries(one))).toBe("role-may-not");
  expect(statuses(north)).toEqual(["held"]);
  north.handicapper.carries(decisions[0]!);
  expect(statuses(north)).toEqual(["ruled"]);
});

test("AU18 nothing is carried from another book into a league's", () => {
  const { north, book, captains } = border();
  const own = north.recorder.reports(fixtureMatch("7-3"));
  expect(reasonOf(book, captains.north.carries(own))).toBe("not-this-kind-of-book");
});

test("AU19 a copy is withdrawn by its carrier or an officer, and its entry counts while another copy does", () => {
  const { north, report } = border();
  const first = north.recorder.carries(report);
  const second = north.handicapper.carries(report);
  const notHis = north.recorder.withdraws(second);
  expect(reasonOf(north, notHis)).toBe("may-not-correct");
  north.recorder.withdraws(first);
  expect(statuses(north)).toEqual(["one-report"]);
  north.root.withdraws(second);
  expect(statuses(north)).toEqual([]);
  north.recorder.carries(report);
  expect(statuses(north)).toEqual(["one-report"]);
});

test("AU20 an officer adopts what a fork keeps out", () => {
  const { north } = clubs("north");
  const twin = north.recorder.twin();
  const good = north.recorder.reports(played("2026-05-01", "ada 7", "ben 9", "7-1"));
  const bad = twin.reports(played("2026-05-01", "ada 7", "ben 9", "1-7"));
  expect(statuses(north)).toEqual([]);
  north.handicapper.carries(good);
  expect(statuses(north)).toEqual(["one-report"]);
  expect([...stateOf(north).matches.values()][0]?.reports[0]).toMatchObject({ entry: good.id, origin: north.id });
  expect(stateOf(north).uncounted.get(bad.id)).toBe("forked");
});

test("AU20 and what a bar keeps out, but a recorder does not", () => {
  const { north } = clubs("north");
  const phone = north.handicapper.admits("telephone", "recorder");
  const first = phone.reports(played("2026-05-01", "ada 7", "ben 9", "7-1"));
  const after = phone.reports(played("2026-05-02", "ada 7", "ben 9", "7-1"));
  north.handicapper.bars(phone, first);
  const byRecorder = north.recorder.carries(after);
  const byHimself = phone.carries(after);
  expect(reasonOf(north, byRecorder)).toBe("role-may-not");
  expect(reasonOf(north, byHimself)).toBe("after-bar");
  expect(statuses(north)).toHaveLength(1);
  const byOfficer = north.handicapper.carries(after);
  expect(reasonOf(north, byOfficer)).toBe(undefined);
  expect(statuses(north)).toHaveLength(2);
});

test("AU20 in a league a club's officer adopts what his own club's devices wrote", () => {
  const { book, captains } = border();
  const phone = captains.north.admits("telephone", "recorder");
  const late = phone.reports(played("2026-05-03", "ada 7", "ben 9", "7-1"));
  book.root.bars(phone, null);
  expect(reasonOf(book, captains.south.carries(late))).toBe("role-may-not");
  expect(statuses(book)).toHaveLength(1);
  captains.north.carries(late);
  expect(statuses(book)).toHaveLength(2);
});

test("AU20 what a stranger wrote is adopted under the name of the officer who carried it", () => {
  const { north } = clubs("north");
  const stranger = new Pen(north, keyOf("stranger"));
  const report = stranger.reports(played("2026-05-01", "ada 7", "ben 9", "7-1"));
  // He could as well write it down himself.
  north.handicapper.carries(report);
  expect(statuses(north)).toEqual(["one-report"]);
  expect(reasonOf(north, report)).toBe("not-admitted");
});

test("AU21 a carried correction reaches what was carried from the same book, and nothing else", () => {
  const { north, south, captains, report } = border();
  const corrected = captains.north.reports(fixtureMatch("7-5"), report);
  north.recorder.carries(corrected);
  // Before what it corrects is carried, it stands by itself.
  expect(statuses(north)).toEqual(["one-report"]);
  north.recorder.carries(report);
  const [match] = stateOf(north).matches.values();
  expect(match?.reports.map(({ entry }) => entry)).toEqual([corrected.id]);

  const own = north.recorder.reports(played("2026-06-01", "ada 7", "ben 9", "7-1"));
  const foreign = south.root.withdraws(own);
  north.handicapper.carries(foreign);
  const ofCarried = north.root.withdraws(corrected);
  const replaced = north.root.reports(fixtureMatch("7-6"), corrected);
  expect(statuses(north)).toHaveLength(2);
  const { uncounted } = stateOf(north);
  expect([foreign, ofCarried, replaced].map(({ id }) => uncounted.get(id))).toEqual(Array(3).fill("may-not-correct"));
});
