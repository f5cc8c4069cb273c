/** What needs attention, found in the states of real books. */
import type { Day } from "@sward/core";
import { expect, test } from "vitest";
import { factRows, gamesWords, sideWords } from "../../../packages/client/src/app/attention/accounts.ts";
import { countPressing, groupMatters } from "../../../packages/client/src/app/attention/groups.ts";
import type { CardMatter, DisputeMatter, MatterDesk } from "../../../packages/client/src/app/attention/matters.ts";
import { mattersOf } from "../../../packages/client/src/app/attention/matters.ts";
import { playedOff } from "../../../packages/client/src/app/attention/played-off.ts";
import { planQuestions, planWholeCard } from "../../../packages/client/src/app/card/signing.ts";
import { rowsOfCard } from "../../../packages/core/src/replay/card-lines.ts";
import type { Book, Pen, Written } from "../../support/cast.ts";
import { clubs, event, fixture, league, played, player } from "../../support/cast.ts";

const TODAY = "2026-06-30";

const seen = (book: Book, pen: Pen) => ({ id: book.id, device: pen.id, state: () => book.state() });

const deskOf = (book: Book, pen: Pen, leagues: MatterDesk["leagues"] = []): MatterDesk => ({
  club: seen(book, pen),
  leagues,
});

const cardMatters = (desk: MatterDesk, today: Day = TODAY): CardMatter[] =>
  mattersOf(desk, today).filter((matter): matter is CardMatter => matter.about === "card");

/** Carried over as a club's device does by itself. */
const carry = (club: { handicapper: Pen }, written: readonly Written[]): void => {
  for (const one of written) club.handicapper.carries(one);
};

test("a change of handicap is one matter, with who, from, to, and the game that did it", () => {
  const { north } = clubs("north");
  north.member("ada", 7, { index: 1390 });
  north.member("ben", 9);
  north.recorder.reports(played("2026-05-02", "ada 7", "ben 9", "7-4"));
  const [group] = groupMatters(deskOf(north, north.handicapper), TODAY);
  expect(group?.name).toBe("changes");
  const matter = group!.matters[0] as CardMatter;
  expect(matter.player).toBe(player("ada"));
  expect(matter.changes.map(({ line }) => line.moved)).toEqual([
    { from: 7, to: 6, trigger: 1400, after: "2026-05-02" },
  ]);
  expect(matter.changes[0]?.line.score).toEqual([7, 4]);
  expect(matter.plan).toEqual({ upto: "2026-05-02", fresh: 2, handicap: 6, index: 1400, stillOpen: false });
});

test("what signing would cover is told of a long card by the lines asked about, and no other line is made for it", () => {
  const { north } = clubs("north");
  north.member("ada", 7, { index: 1390 });
  north.member("ben", 9);
  north.recorder.reports(played("2026-05-02", "ada 7", "ben 9", "7-4"));
  for (let n = 1; n <= 200; n += 1)
    north.recorder.reports(played("2026-05-03", "ada 6", "ben 9", n % 2 === 0 ? "7-4" : "4-7", { n }));
  const matters = cardMatters(deskOf(north, north.handicapper));
  expect(matters.length).toBeGreaterThan(0);
  for (const { card, changes } of matters) {
    const before = rowsOfCard(card).made;
    const asked = changes.map(({ place }) => place);
    expect(planQuestions(card, asked, TODAY)).not.toBeNull();
    expect(planWholeCard(card, TODAY)?.upto).toBe("2026-05-03");
    expect(rowsOfCard(card).made - before).toBeLessThanOrEqual(asked.length + 3);
  }
});

test("signing ends with the event a change waits for, and on the day itself it is said to be open still", () => {
  const { north } = clubs("north");
  north.member("ada", 7, { index: 1390 });
  north.member("ben", 9);
  north.handicapper.opens("cup", "2026-06-29", "2026-07-01", { occasion: "calendar-event" });
  const cup = { event: event("cup"), occasion: "calendar-event" } as const;
  north.recorder.reports(played("2026-06-29", "ada 7", "ben 9", "7-4", cup));
  const desk = deskOf(north, north.handicapper);
  expect(cardMatters(desk)[0]?.plan).toMatchObject({ upto: "2026-06-30", stillOpen: true });
  expect(cardMatters(desk, "2026-07-05")[0]?.plan).toMatchObject({ upto: "2026-07-01", stillOpen: false });
});

test("a late game below a signature: which signature, from which line, old and new, and one signature answers all", () => {
  const { north } = clubs("north");
  north.member("ada", 7, { index: 1390 });
  north.member("ben", 9);
  north.recorder.reports(played("2026-05-09", "ada 7", "ben 9", "3-7"));
  const signature = north.handicapper.signs("ada", "2026-05-10");
  north.recorder.reports(played("2026-05-02", "ada 7", "ben 9", "7-4"));
  const desk = deskOf(north, north.handicapper);
  const [group] = groupMatters(desk, TODAY);
  expect(group?.name).toBe("looked-at-again");
  const [matter] = cardMatters(desk);
  const [touched] = matter!.touched;
  expect(touched?.signature).toMatchObject({ entry: signature.id, handicap: 7, index: 1380, lines: 2 });
  expect(touched?.now).toMatchObject({ handicap: 6, index: 1390, lines: 3 });
  expect(matter!.card.lines[touched!.from]).toMatchObject({ date: "2026-05-02", points: 10 });
  expect(matter!.changes).toHaveLength(1);

  north.handicapper.signs("ada", matter!.plan!.upto);
  expect(cardMatters(deskOf(north, north.handicapper)).filter((each) => each.player === player("ada"))).toEqual([]);
});

test("off another handicap: what the points and the extra strokes would have been", () => {
  const { north } = clubs("north");
  north.member("ada", 4);
  north.member("ben", 1);
  north.recorder.reports(played("2026-05-02", "ada 7", "ben 1", "7-4"));
  north.recorder.reports(played("2026-05-03", "ada 2", "ben 1", "7-4", { play: "level" }));
  north.recorder.reports(played("2026-05-04", "ada 2", "ben 1", "5-5a", { play: "level" }));
  const [matter] = cardMatters(deskOf(north, north.handicapper)).filter((each) => each.player === player("ada"));
  const [handicapGame, levelGame, abandoned] = matter!.playedOff.map(({ different }) => different);
  expect(handicapGame).toEqual({
    off: 7,
    record: 4,
    points: { was: 10, would: 10 },
    strokes: { was: 6, would: 3 },
  });
  // A 4 who beats a 1 gains 16, a 2 gains 12: common practice, no source.
  expect(levelGame).toEqual({ off: 2, record: 4, points: { was: 12, would: 16 }, strokes: null });
  expect(abandoned).toEqual({ off: 2, record: 4, points: { was: 0, would: 0 }, strokes: null });
});

test("a loss off another handicap keeps its sign, and rules nobody has give nothing to compare", () => {
  const { north } = clubs("north");
  north.member("ada", 4);
  north.member("ben", 1);
  north.recorder.reports(played("2026-05-03", "ada 2", "ben 1", "4-7", { play: "level" }));
  const [matter] = cardMatters(deskOf(north, north.handicapper)).filter((each) => each.player === player("ada"));
  const { line, different } = matter!.playedOff[0]!;
  expect(different.points).toEqual({ was: -8, would: -4 });
  expect(playedOff({ ...line, rules: "nobody-2031" }).points).toEqual({ was: -8, would: null });
});

test("a match told in two ways inside the club: who may correct which report, and who may decide", () => {
  const { north } = clubs("north");
  north.member("ada", 7);
  north.member("ben", 9);
  const first = north.recorder.reports(played("2026-05-02", "ada 7", "ben 9", "7-4"));
  const second = north.handicapper.reports(played("2026-05-02", "ada 7", "ben 9", "4-7"));
  const find = (pen: Pen) =>
    mattersOf(deskOf(north, pen), TODAY).find((each) => each.about === "disputed-match") as DisputeMatter;
  expect(new Set(find(north.handicapper).ours)).toEqual(new Set([first.id, second.id]));
  expect(find(north.handicapper)).toMatchObject({ mayRule: true, match: { differs: ["games"] } });
  expect(find(north.recorder)).toMatchObject({ ours: [first.id], mayRule: false });
  expect(find(north.reader)).toMatchObject({ ours: [], mayRule: false });
});

test("a league match told in two ways is listed once, to be corrected by either club and decided by the league", () => {
  const { north, south } = clubs("north", "south");
  north.member("ada", 7);
  south.member("cat", 9);
  const { league: rivers, captains } = league("rivers", { north, south });
  for (const pen of [captains.north, captains.south]) pen.joins(pen === captains.north ? "ada" : "cat", "visitor");
  rivers.root.adopts("england-2016");
  const told = (pen: Pen, score: string) =>
    pen.reports(played("2026-05-02", "ada 7", "cat 9", score, { occasion: "league" }));
  const ours = told(captains.north, "7-4");
  const theirs = told(captains.south, "4-7");
  carry(north, [ours, theirs]);

  const withLeague = deskOf(north, north.handicapper, [seen(rivers, captains.north)]);
  const disputes = mattersOf(withLeague, TODAY).filter((each) => each.about === "disputed-match");
  expect(disputes).toHaveLength(1);
  expect(disputes[0]).toMatchObject({ book: rivers.id, ours: [ours.id], mayRule: false });

  // A device of the club that is not in the league sees it in the club's book, and can do nothing about it there.
  const without = mattersOf(deskOf(north, north.handicapper), TODAY).filter((each) => each.about === "disputed-match");
  expect(without).toMatchObject([{ book: north.id, ours: [], mayRule: false }]);
  const atTheLeague = mattersOf({ club: seen(rivers, rivers.root), leagues: [] }, TODAY);
  expect(atTheLeague.find((each) => each.about === "disputed-match")).toMatchObject({ mayRule: true });
});

test("a fixture told by one side waits, and is not counted as something to do", () => {
  const { north, south } = clubs("north", "south");
  const { league: rivers, captains, roots } = league("rivers", { north, south });
  rivers.root.writes("fixture-set", {
    fixture: fixture("f"),
    date: "2026-05-02",
    home: roots.north.id,
    away: roots.south.id,
    slots: [{ discipline: "singles", play: "handicap", format: 13 }],
  });
  captains.north.joins("ada", "visitor");
  captains.south.joins("cat", "visitor");
  captains.south.reports(
    played("2026-05-02", "ada 7", "cat 9", "7-4", { occasion: "league", slot: { fixture: fixture("f"), number: 1 } }),
  );
  const groups = (pen: Pen) => groupMatters(deskOf(north, north.handicapper, [seen(rivers, pen)]), TODAY);
  expect(groups(captains.north)).toMatchObject([
    {
      name: "waiting",
      matters: [{ ours: false, clubs: ["north", "south"], date: "2026-05-02", fixture: fixture("f") }],
    },
  ]);
  expect(groups(captains.south)).toMatchObject([{ name: "waiting", matters: [{ ours: true }] }]);
  expect(countPressing(groups(captains.north))).toBe(0);
});

test("groups come most pressing first", () => {
  const { north } = clubs("north");
  north.member("ada", 7, { index: 1390 });
  north.member("ben", 9);
  north.handicapper.joins("moss");
  north.root.adopts("nobody-2031", "2031-01-01");
  north.recorder.reports(played("2026-05-02", "ada 7", "ben 9", "7-4"));
  north.recorder.reports(played("2026-05-03", "ada 6", "ben 9", "7-4"));
  north.handicapper.reports(played("2026-05-03", "ada 6", "ben 9", "4-7"));
  const groups = groupMatters(deskOf(north, north.handicapper), TODAY);
  expect(groups.map(({ name }) => name)).toEqual(["record", "matches", "changes", "starts"]);
  expect(countPressing(groups)).toBe(4);
});

test("two accounts in words: what differs comes first and is marked", () => {
  const { north } = clubs("north");
  north.member("ada", 7);
  north.member("ben", 9);
  north.recorder.reports(played("2026-05-02", "ada 7", "ben 9", "7-4"));
  north.handicapper.reports(played("2026-05-02", "ada 6", "ben 9", "7-4", { excluded: true }));
  const [match] = [...north.state().matches.values()];
  const names = (id: string) => (id === player("ada") ? "Ada" : "Ben");
  const rows = factRows(match!.reports[0]!.facts, match!.differs, names);
  expect(rows.map(({ fact, differs }) => [fact, differs])).toEqual([
    ["sides", true],
    ["excluded", true],
    ["games", false],
  ]);
  expect(rows[0]?.value).toContain(" v ");
  expect(sideWords([{ player: player("ada"), off: -2 }], names)).toBe("Ada (−2)");
  expect(gamesWords([{ score: [7, 4] }, { score: [5, 6], ended: "time" }])).toBe("7–4, 5–6 (on time)");
});

test("matches of one fixture that wait are one matter; those the other side told are another", () => {
  const { north, south } = clubs("north", "south");
  const { league: rivers, captains, roots } = league("rivers", { north, south });
  const slot = { discipline: "singles", play: "handicap", format: 13 } as const;
  rivers.root.writes("fixture-set", {
    fixture: fixture("f"),
    date: "2026-05-02",
    home: roots.north.id,
    away: roots.south.id,
    slots: [slot, slot, slot],
  });
  captains.north.joins("ada", "visitor");
  captains.south.joins("cat", "visitor");
  const tell = (pen: Pen, number: number) =>
    pen.reports(
      played("2026-05-02", "ada 7", "cat 9", "7-4", { occasion: "league", slot: { fixture: fixture("f"), number } }),
    );
  tell(captains.north, 1);
  tell(captains.north, 2);
  tell(captains.south, 3);
  const waiting = mattersOf(deskOf(north, north.handicapper, [seen(rivers, captains.north)]), TODAY);
  const said = waiting.map((each) => each.about === "one-report" && [each.ours, each.matches.length]);
  expect(said.sort()).toEqual([
    [false, 1],
    [true, 2],
  ]);
});

test("what a signature would cover is found with a few looks at a card, however long: the list is made anew after each entry", () => {
  const { north } = clubs("north");
  north.member("ada", 7, { index: 1390 });
  for (let n = 1; n <= 40; n++) north.recorder.reports(played("2026-05-02", "ada 7", "vic 9", "7-4", { n }));
  const card = north.state().cards.get(player("ada"))!;
  const looks = new Set<string>();
  const lines = new Proxy(card.lines, {
    get(all, place) {
      if (typeof place === "string" && /^\d+$/.test(place)) looks.add(place);
      return Reflect.get(all, place);
    },
  });
  expect(planQuestions({ ...card, lines }, [40], TODAY)).toMatchObject({ upto: "2026-05-02", fresh: 41 });
  expect(looks.size).toBeLessThan(10);
});
