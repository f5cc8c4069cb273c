/** A player who comes from another club brings the record along. */
import type { Card } from "@sward/core";
import { canonicalText } from "@sward/core";
import { expect, test } from "vitest";
import type { Book, Club } from "../../support/cast.ts";
import { clubs, event, keyOf, league, Pen, played, player } from "../../support/cast.ts";
import { stateOf, stateText } from "../../support/state-text.ts";
import { digestOfEntries, takePart, takeRecord } from "./taking.ts";

const CUTOVER = "2026-06-01";
const ada = player("ada");

/** North with a season in which Ada's handicap moves, an event, a correction, a ruling, a signature. */
function season(rules?: string): { readonly north: Club; readonly south: Club } {
  const { north, south } = clubs("north", "south");
  if (rules !== undefined) north.root.adopts(rules, "2026-05-03");
  north.member("ada", 7, { index: 1390 });
  north.member("ben", 9);
  north.member("cat", 4);
  north.recorder.reports(played("2026-05-01", "ada 7", "ben 9", "7-4"));
  const slip = north.recorder.reports(played("2026-05-02", "cat 4", "ada 6", "7-6"));
  north.recorder.reports(played("2026-05-02", "cat 4", "ada 6", "6-7"), slip);
  north.handicapper.opens("cup", "2026-05-04", "2026-05-05");
  north.recorder.reports(played("2026-05-04", "ada 6", "cat 4", "7-1 7-2 7-3", { event: event("cup") }));
  north.handicapper.signs("ada", "2026-05-05");
  return { north, south };
}

const adaAt = (book: Book): Card => stateOf(book).cards.get(ada)!;

test("MV5 MV11 the card is the same at the new club, byte for byte, its signatures too", () => {
  for (const rules of [undefined, "new-south-wales-2022"]) {
    const { north, south } = season(rules);
    const before = canonicalText(north.card(ada));
    expect(north.card(ada).lines.length).toBeGreaterThan(5);
    expect(north.card(ada).signatures).toMatchObject([{ standing: "holds" }]);
    south.handicapper.joins("ada");
    expect(stateOf(south).cards.get(ada)).toBe(undefined);
    takeRecord(south.handicapper, north, { name: "ada", cutover: CUTOVER });
    expect(canonicalText(adaAt(south))).toBe(before);
    // Nobody else of the old club has come.
    expect([...stateOf(south).cards.keys()]).toEqual([ada]);
    expect(stateOf(south).matches.size).toBe(0);
  }
});

test("MV6 results after the cut-over go on from there, under this club's rules", () => {
  const { north, south } = season("new-south-wales-2022");
  south.handicapper.joins("ada");
  takeRecord(south.handicapper, north, { name: "ada", cutover: CUTOVER });
  const { lines, handicap, index } = adaAt(south);
  south.recorder.reports(played("2026-06-02", `ada ${handicap}`, "dan 9", "7-4"));
  const after = adaAt(south).lines;
  expect(canonicalText(after.slice(0, -1))).toBe(canonicalText(lines));
  expect(after.at(-1)).toMatchObject({ line: "game", rules: "england-2016", points: 10, index: index + 10 });
  // What the old club sets from then on, and plays with a visitor there, is not the home club's word any more.
  north.handicapper.sets("ada", 12, "2026-06-03");
  north.recorder.reports(played("2026-06-04", "ada 12", "ben 9", "7-4"));
  takeRecord(south.handicapper, north, { name: "ada", cutover: CUTOVER });
  expect(canonicalText(adaAt(south).lines)).toBe(canonicalText(after));
  south.handicapper.sets("ada", 8, "2026-06-05");
  south.handicapper.sets("ada", 1, "2026-05-02");
  expect(adaAt(south).lines.slice(after.length)).toMatchObject([{ line: "set", handicap: 8 }]);
});

test("MV4 a second import changes no card, and a newer record brings what came late", () => {
  const { north, south } = season();
  south.handicapper.joins("ada");
  takeRecord(south.handicapper, north, { name: "ada", cutover: CUTOVER });
  const once = stateOf(south);
  const card = canonicalText(once.cards.get(ada));
  const { takings } = once.records.get(ada)![0]!;
  takeRecord(south.root, north, { name: "ada", cutover: CUTOVER, perPart: 3 });
  const twice = stateOf(south);
  expect(canonicalText(twice.cards.get(ada))).toBe(card);
  expect(twice.records.get(ada)).toHaveLength(1);
  expect(twice.records.get(ada)![0]!.takings).toHaveLength(takings.length + 1);

  north.recorder.reports(played("2026-05-03", "ada 6", "ben 9", "7-5"));
  takeRecord(south.handicapper, north, { name: "ada", cutover: CUTOVER });
  expect(canonicalText(adaAt(south))).toBe(canonicalText(north.card(ada)));
  expect(adaAt(south).signatures).toMatchObject([{ standing: "touched" }]);
});

test("MV7 the old club's late result reaches the card as a slip, once, whatever brings it again", () => {
  const { north, south } = season();
  south.handicapper.joins("ada");
  takeRecord(south.handicapper, north, { name: "ada", cutover: CUTOVER });
  const late = north.recorder.reports(played("2026-05-03", "ada 6", "ben 9", "7-5"));
  south.recorder.carries(late);
  const bySlip = canonicalText(adaAt(south).lines);
  expect(bySlip).toBe(canonicalText(north.card(ada).lines));
  takeRecord(south.handicapper, north, { name: "ada", cutover: CUTOVER });
  expect(canonicalText(adaAt(south).lines)).toBe(bySlip);
  // The old club takes it back: the copy here does not bring it again.
  north.recorder.withdraws(late);
  takeRecord(south.handicapper, north, { name: "ada", cutover: CUTOVER });
  expect(canonicalText(adaAt(south).lines)).toBe(canonicalText(north.card(ada).lines));
  expect(adaAt(south).lines.some(({ date }) => date === "2026-05-03")).toBe(false);
});

test("MV7 a league's book brings a late result too, and this club's own report of a match there is one with it", () => {
  const { north, south } = season();
  const { captains } = league("border", { north, south });
  const match = played("2026-05-06", "ada 5", "dan 9", "7-2", { occasion: "league" });
  const report = captains.north.reports(match);
  south.handicapper.joins("ada");
  south.handicapper.carries(report);
  takeRecord(south.handicapper, north, { name: "ada", cutover: CUTOVER });
  const lines = canonicalText(adaAt(south).lines);
  expect(adaAt(south).lines.at(-1)).toMatchObject({ date: "2026-05-06", score: [7, 2] });
  north.handicapper.carries(report);
  expect(lines).toBe(canonicalText(north.card(ada).lines));
  takeRecord(south.handicapper, north, { name: "ada", cutover: CUTOVER });
  expect(canonicalText(adaAt(south).lines)).toBe(lines);
});

test("MV7 a visitor's game that both clubs wrote down counts once, by links; one only this club has is a late result", () => {
  const { north, south } = season();
  north.recorder.reports(played("2026-05-06", "ada 5", "dan 9", "7-2"));
  const before = canonicalText(north.card(ada).lines);
  south.member("dan", 9);
  south.recorder.joins("guest", "visitor");
  south.recorder.reports(played("2026-05-06", "guest 5", "dan 9", "7-2"));
  south.handicapper.links("guest", "ada");
  south.handicapper.joins("ada");
  takeRecord(south.handicapper, north, { name: "ada", cutover: CUTOVER });
  expect(canonicalText(adaAt(south).lines)).toBe(before);
  expect(stateOf(south).cards.get(player("dan"))!.lines).toHaveLength(2);
  south.recorder.reports(played("2026-05-07", "guest 5", "dan 9", "7-2"));
  expect(adaAt(south).lines).toHaveLength(north.card(ada).lines.length + 1);
});

test("MV1 MV2 MV3 a part, a statement or a record that does not hold changes nothing", () => {
  const { north, south } = season();
  south.handicapper.joins("ada");
  const wish = { name: "ada", cutover: CUTOVER };
  const part = takePart(south.handicapper, north, north.written.slice(0, 2), false);
  const own = takePart(south.handicapper, south, south.written.slice(0, 2));
  const wrongKey = south.handicapper.writesRaw({
    kind: "record-part",
    body: { from: north.id, keys: [keyOf("mallory").publicKey], entries: [north.written[0]!.jws] },
  });
  south.written[south.written.length - 1] = { ...wrongKey, parts: [north.written[0]!] };
  const unsigned = takeRecord(south.handicapper, north, { ...wish, vouched: false });
  for (const { id } of [part, own, wrongKey, unsigned.taken])
    expect(stateOf(south).uncounted.get(id)).toBe("carried-copy-invalid");
  expect(stateOf(south).records.size).toBe(0);
  // A line is missing, or one is there that nobody vouched for.
  takeRecord(south.handicapper, north, { ...wish, more: { entries: north.written.length + 1 } });
  takeRecord(south.handicapper, north, { ...wish, more: { digest: digestOfEntries([]) } });
  const state = stateOf(south);
  expect(state.records.get(ada)![0]!.takings.map(({ complete }) => complete)).toEqual([false, false]);
  expect(state.cards.size).toBe(0);
});

test("MV3 a league's book has no record of anybody's card", () => {
  const { north, south } = season();
  const { league: border } = league("border", { north, south });
  south.member("ada", 9);
  const before = stateText({ ...stateOf(south), entries: 0, records: new Map(), devices: new Map() });
  takeRecord(south.handicapper, border, { name: "ada", cutover: CUTOVER });
  const state = stateOf(south);
  expect(state.records.get(ada)).toMatchObject([{ inUse: false }]);
  expect(stateText({ ...state, entries: 0, records: new Map(), devices: new Map() })).toBe(before);
});

test("MV8 MV9 of several takings the author's last has the cut-over, and one taken back is as if it had not been", () => {
  const { north, south } = season();
  south.handicapper.joins("ada");
  const before = stateText({ ...stateOf(south), entries: 0, devices: new Map() });
  const first = takeRecord(south.handicapper, north, { name: "ada", cutover: CUTOVER });
  const second = takeRecord(south.handicapper, north, { name: "ada", cutover: "2026-05-03" });
  expect(stateOf(south).records.get(ada)).toMatchObject([{ cutover: "2026-05-03", inUse: true, name: "north" }]);
  expect(adaAt(south).lines.at(-1)?.date).toBe("2026-05-02");
  south.handicapper.withdraws(second.taken);
  expect(stateOf(south).records.get(ada)).toMatchObject([{ cutover: CUTOVER }]);
  south.handicapper.withdraws(first.parts[0]!);
  expect(stateOf(south).records.get(ada)).toMatchObject([{ inUse: false }]);
  south.handicapper.withdraws(first.taken);
  expect(stateText({ ...stateOf(south), entries: 0, devices: new Map() })).toBe(before);
});

test("MV10 RP32 a member of two clubs has one home and one card; the record brings the home along", () => {
  const { north, south } = season();
  south.handicapper.joins("ada", "member", { book: north.id });
  south.handicapper.sets("ada", 9, "2026-05-01", { basis: "initial" });
  const state = stateOf(south);
  expect(state.cards.size).toBe(0);
  expect(state.questions).toEqual([]);
  takeRecord(south.handicapper, north, { name: "ada", cutover: CUTOVER });
  expect(stateOf(south).players.get(ada)?.home).toEqual({ book: south.id });
  expect(canonicalText(adaAt(south).lines)).toBe(canonicalText(north.card(ada).lines));
});

test("MV12 a signer barred after his head stays; what he wrote beyond the bar does not count, and is listed", () => {
  const { north, south } = season();
  const phone = north.handicapper.admits("telephone", "recorder");
  const good = phone.reports(played("2026-05-10", "ada 5", "ben 9", "7-5"));
  south.handicapper.joins("ada");
  const wish = { name: "ada", cutover: CUTOVER, exporter: phone };
  takeRecord(south.handicapper, north, wish);
  const before = canonicalText(adaAt(south).lines);
  // Barred after the head that the record has: everything stays, also once the bar is known here.
  north.handicapper.bars(phone, good);
  takeRecord(south.handicapper, north, wish);
  expect(canonicalText(adaAt(south).lines)).toBe(before);
  expect(stateOf(south).records.get(ada)).toMatchObject([
    { beyond: [], takings: [{ standing: "confirmed" }, { standing: "confirmed" }] },
  ]);
  expect(stateOf(south).records.get(ada)![0]!.signers).toContainEqual({
    key: phone.id,
    role: "recorder",
    admittedBy: north.handicapper.id,
    counted: 1,
    barred: true,
  });
  const bad = phone.reports(played("2026-05-11", "ada 5", "ben 9", "7-0"));
  takeRecord(south.handicapper, north, wish);
  expect(canonicalText(adaAt(south).lines)).toBe(before);
  const [record] = stateOf(south).records.get(ada)!;
  expect(record!.beyond).toEqual([{ entry: bad.id, by: phone.id }]);
  expect(record!.takings.map(({ standing }) => standing).sort()).toEqual(["confirmed", "confirmed", "unconfirmed"]);
  const stranger = new Pen(north, keyOf("stranger"));
  takeRecord(south.handicapper, north, { ...wish, exporter: stranger });
  expect(
    stateOf(south)
      .records.get(ada)![0]!
      .takings.filter(({ vouchedBy }) => vouchedBy === stranger.id),
  ).toMatchObject([{ standing: "unconfirmed" }]);
});

test("MV8 MV13 who moves twice has one card with the lines of all three clubs, and may come back", () => {
  const { north, south } = season();
  const { west } = clubs("west");
  south.handicapper.joins("ada");
  takeRecord(south.handicapper, north, { name: "ada", cutover: CUTOVER });
  south.recorder.reports(played("2026-06-02", "ada 5", "dan 9", "7-4"));
  west.handicapper.joins("ada");
  takeRecord(west.handicapper, south, { name: "ada", cutover: "2026-07-01" });
  expect(canonicalText(adaAt(west))).toBe(canonicalText(adaAt(south)));
  west.recorder.reports(played("2026-07-02", "ada 5", "eve 9", "7-4"));
  // The first club's record alone is older: the card goes on from the second's.
  takeRecord(west.handicapper, north, { name: "ada", cutover: CUTOVER });
  expect(stateOf(west).records.get(ada)).toMatchObject([
    { name: "south", inUse: true },
    { name: "north", inUse: false },
  ]);
  const there = canonicalText(adaAt(west).lines);
  // Home again: north's own old games are in what comes back, and count once.
  takeRecord(north.handicapper, west, { name: "ada", cutover: "2026-08-01" });
  expect(canonicalText(adaAt(north).lines)).toBe(there);
});
