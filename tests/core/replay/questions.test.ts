import type { Question } from "@sward/core";
import { expect, test } from "vitest";
import type { Book } from "../../support/cast.ts";
import { Club, clubs, fixture, keyOfMatch, league, played, player } from "../../support/cast.ts";
import { stateOf } from "../../support/state-text.ts";

const questions = (book: Book): readonly Question[] => stateOf(book).questions;
const about = (book: Book): string[] => questions(book).map((question) => question.about);

/** A club whose ada is a 7 ten points below six. */
function nearly() {
  const { north } = clubs("north");
  const ada = north.member("ada", 7, { index: 1390 });
  const other = north.handicapper.admits("telephone", "recorder");
  return { north, ada, other };
}

test("RP25 a held match is asked about until it counts or is void", () => {
  for (const end of ["corrected", "withdrawn", "ruled", "void"] as const) {
    const { north, other } = nearly();
    const match = played("2026-05-01", "eve 7", "ben 9", "7-4");
    north.recorder.reports(match);
    const wrong = other.reports({ ...match, games: [{ score: [7, 5] }] });
    expect(questions(north)).toEqual([{ about: "disputed-match", match: keyOfMatch(match) }]);
    if (end === "corrected") other.reports(match, wrong);
    if (end === "withdrawn") north.handicapper.withdraws(wrong);
    if (end === "ruled") north.handicapper.rules(keyOfMatch(match), wrong);
    if (end === "void") north.handicapper.rules(keyOfMatch(match), null);
    expect(questions(north), end).toEqual([]);
  }
});

test("RP26 a change of handicap by play is asked about until a signature covers it", () => {
  const { north, ada } = nearly();
  north.recorder.reports(played("2026-05-01", "ada 7", "ben 9", "7-4"));
  expect(questions(north)).toEqual([{ about: "unsigned-change", player: ada, line: 1, date: "2026-05-01" }]);
  north.handicapper.signs("ada", "2026-05-01");
  expect(questions(north)).toEqual([]);
});

test("RP27 a touched signature is asked about until one up to the same day or later holds", () => {
  const { north, ada } = nearly();
  north.recorder.reports(played("2026-05-01", "ada 7", "ben 9", "4-7"));
  const last = north.recorder.reports(played("2026-05-03", "ada 7", "ben 9", "4-7"));
  const signed = north.handicapper.signs("ada", "2026-05-03");
  // The last line goes: the card is shorter than what was signed.
  north.recorder.withdraws(last);
  expect(questions(north)).toEqual([{ about: "touched-signature", player: ada, signature: signed.id, line: 2 }]);
  north.handicapper.signs("ada", "2026-05-02");
  expect(about(north)).toEqual(["touched-signature"]);
  north.handicapper.signs("ada", "2026-05-03");
  expect(questions(north)).toEqual([]);
});

test("RP27 a late game in a signed period: the lines and signatures it touches are told, and the change it makes", () => {
  const { north, ada } = nearly();
  north.recorder.reports(played("2026-05-03", "ada 7", "ben 9", "4-7"));
  const signed = [north.handicapper.signs("ada", "2026-05-02"), north.handicapper.signs("ada", "2026-05-03")];
  north.recorder.reports(played("2026-05-02", "ada 7", "ben 9", "7-4"));
  expect(questions(north)).toEqual([
    { about: "touched-signature", player: ada, signature: signed[0]?.id, line: 1 },
    { about: "touched-signature", player: ada, signature: signed[1]?.id, line: 1 },
    { about: "unsigned-change", player: ada, line: 1, date: "2026-05-02" },
    { about: "played-off", player: ada, match: keyOfMatch(played("2026-05-03", "ada 7", "ben 9", "4-7")), line: 2 },
  ]);
  north.handicapper.signs("ada", "2026-05-04");
  expect(questions(north)).toEqual([]);
});

test("RP28 a handicap played off that is not the record's is asked about until signed, or put right", () => {
  for (const end of ["signed", "corrected", "set"] as const) {
    const { north, ada } = nearly();
    const report = north.recorder.reports(played("2026-05-01", "ada 5", "ben 9", "4-7"));
    expect(questions(north)).toMatchObject([{ about: "played-off", player: ada, line: 1 }]);
    if (end === "signed") north.handicapper.signs("ada", "2026-05-01");
    if (end === "corrected") north.recorder.reports(played("2026-05-01", "ada 7", "ben 9", "4-7"), report);
    if (end === "set") north.handicapper.sets("ada", 5, "2026-05-01");
    expect(questions(north), end).toEqual([]);
  }
});

test("RP30 a match of a fixture that one club has reported is asked about until the other does", () => {
  const { north, south } = clubs("north", "south");
  const { league: book, captains } = league("border", { north, south });
  const slot = { fixture: fixture("first"), number: 1 };
  const match = played("2026-05-01", "ada 7", "ben 9", "7-4", { occasion: "league", slot });
  captains.north.reports(match);
  expect(questions(book)).toEqual([{ about: "one-report", match: keyOfMatch(match) }]);
  captains.south.reports(match);
  expect(questions(book)).toEqual([]);
});

test("RP30 a match that waits for a second report is asked about, fixture or not; one that counts alone is not", () => {
  const { north, other } = nearly();
  north.recorder.reports(played("2026-05-01", "eve 7", "ben 9", "7-4"));
  expect(questions(north)).toEqual([]);
  north.handicapper.writes("policy-set", { unconfirmed: "waits" });
  expect(about(north)).toEqual(["one-report"]);
  other.reports(played("2026-05-01", "eve 7", "ben 9", "7-4"));
  expect(questions(north)).toEqual([]);
});

test("RP31 a forked device is asked about until it is barred", () => {
  const { north } = nearly();
  const last = north.recorder.reports(played("2026-05-01", "eve 7", "ben 9", "7-4"));
  const twin = north.recorder.twin();
  north.recorder.reports(played("2026-05-02", "eve 7", "ben 9", "7-4"));
  twin.reports(played("2026-05-03", "eve 7", "ben 9", "7-4"));
  expect(questions(north)).toEqual([{ about: "forked-device", device: north.recorder.id, seq: 1 }]);
  north.handicapper.bars(north.recorder, last);
  expect(questions(north)).toEqual([]);
  expect(north.state().matches.size).toBe(1);
});

test("RP32 a member without a card is asked about until a first handicap is set", () => {
  const { north } = clubs("north");
  north.handicapper.joins("mona");
  north.recorder.joins("vera", "visitor");
  expect(questions(north)).toEqual([{ about: "no-handicap", player: player("mona") }]);
  const left = north.handicapper.writes("player-left", { player: player("mona"), on: "2026-05-01" });
  expect(questions(north)).toEqual([]);
  north.handicapper.withdraws(left);
  north.handicapper.sets("mona", 16, "2026-05-01", { basis: "initial" });
  expect(questions(north)).toEqual([]);
});

test("RP32 a league keeps no cards and does not ask", () => {
  const { north } = clubs("north");
  const { league: book, captains } = league("border", { north });
  captains.north.joins("ada");
  expect(questions(book)).toEqual([]);
});

test("RP33 rules this version does not have are asked about", () => {
  const { north } = nearly();
  north.root.adopts("rules-of-tomorrow", "2026-05-01");
  expect(questions(north)).toEqual([{ about: "unknown-rules", rules: "rules-of-tomorrow" }]);
});

test("RP34 questions come in order of kind, then of day, then of their text", () => {
  const north = new Club("north");
  north.member("ada", 7, { index: 1390 });
  north.member("zoe", 7, { index: 1390 });
  const other = north.handicapper.admits("telephone", "recorder");
  north.handicapper.joins("mona");
  for (const [day, who] of [
    ["2026-05-03", "eve"],
    ["2026-05-01", "dan"],
    ["2026-05-02", "cat"],
  ] as const) {
    north.recorder.reports(played(day, `${who} 7`, "ben 9", "7-4"));
    other.reports(played(day, `${who} 7`, "ben 9", "7-5"));
  }
  north.recorder.reports(played("2026-05-04", "zoe 7", "ben 9", "7-4"));
  north.recorder.reports(played("2026-05-03", "ada 7", "ben 9", "7-4"));
  const report = north.recorder.reports(played("2026-05-05", "ada 5", "ben 9", "7-4"));
  for (const pen of [north.recorder, north.handicapper]) {
    pen.reports(played("2026-05-05", "ada 5", "ben 9", pen === north.recorder ? "7-5" : "7-6"), report);
  }
  north.handicapper.signs("ada", "2026-05-02");
  north.recorder.reports(played("2026-05-02", "ada 7", "eve 7", "4-7"));
  north.recorder.reports(
    played("2026-05-01", "eve 7", "ben 9", "7-4", { slot: { fixture: fixture("first"), number: 1 } }),
  );
  north.root.adopts("rules-of-tomorrow", "2026-08-01");
  const twin = other.twin();
  other.joins("late visitor", "visitor");
  twin.joins("later visitor", "visitor");

  const asked = questions(north);
  expect(asked.map((question) => question.about)).toEqual([
    "unknown-rules",
    "forked-device",
    "disputed-match",
    "disputed-match",
    "disputed-match",
    "rival-corrections",
    "touched-signature",
    "unsigned-change",
    "unsigned-change",
    "played-off",
    "no-handicap",
    "one-report",
  ]);
  expect(asked.flatMap((question) => (question.about === "disputed-match" ? question.match.slice(8, 10) : []))).toEqual(
    ["01", "02", "03"],
  );
  expect(asked.flatMap((question) => (question.about === "unsigned-change" ? question.date : []))).toEqual([
    "2026-05-04",
    "2026-05-05",
  ]);
});
