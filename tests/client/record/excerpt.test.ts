import type { BookId, Role } from "@sward/core";
import { canonicalText, createLedger, findRuleSet } from "@sward/core";
import { expect, test } from "vitest";
import { excerptOf, personOf, withoutWaiting } from "../../../packages/client/src/record/excerpt.ts";
import type { Book, Club, Pen, Written } from "../../support/cast.ts";
import { clubs, event, fixture, keyOf, keyOfMatch, league, played, player, write } from "../../support/cast.ts";
import { stateText } from "../../support/state-text.ts";

const excerptLedger = (book: BookId) => createLedger(book, { findRules: findRuleSet, chains: "excerpt" });

const read = (book: Book, written: readonly Written[]) => {
  const ledger = excerptLedger(book.id);
  ledger.add(written);
  return ledger.state();
};

/** The record of a player, from what a device holds. */
function recordOf(book: Book, name: string, held: readonly Written[] = book.written): readonly Written[] {
  const state = book.ledger(held).state();
  const person = personOf(state, player(name));
  if (person === null) throw new Error(`nobody is called ${name}`);
  const ids = new Set(excerptOf(withoutWaiting(held, state), state, person).map(({ entry }) => entry.id));
  return held.filter(({ id }) => ids.has(id));
}

const cardText = (state: ReturnType<typeof read>, name: string) => canonicalText(state.cards.get(player(name)) ?? null);

/** Three members, and what every book begins with. */
function season(): { north: Club; common: readonly Written[] } {
  const { north } = clubs("north");
  const common = [...north.written];
  north.member("ada", 7, { index: 1390 });
  north.member("ben", 9);
  north.member("cat", 4);
  return { north, common };
}

/** In the record of ada, or not. */
const inRecord = (book: Book, written: readonly Written[], name = "ada") => {
  const record = recordOf(book, name);
  return written.map((one) => record.includes(one));
};

test("RE4 who may write and which rules hold are in every record, also what does not count of it", () => {
  const { north, common } = season();
  const spare = north.handicapper.admits("spare", "recorder");
  const later = [
    north.handicapper.bars(spare, null),
    north.root.writes("policy-set", { unconfirmed: "waits" }),
    north.handicapper.adopts("new-south-wales-2022", "2026-08-01"),
    north.recorder.writes("device-admitted", { device: keyOf("friend").publicKey, role: "recorder" as Role }),
  ];
  expect(inRecord(north, [...common, ...later])).toEqual([...common, ...later].map(() => true));
});

test("RE4 what names the player is in it, and nothing of anybody else", () => {
  const { north } = season();
  const own = [
    north.recorder.reports(played("2026-05-01", "ada 7", "ben 9", "7-4")),
    north.recorder.reports(played("2026-05-02", "ben 9 + cat 4", "dan 7 + ada 7", "7-4")),
    north.handicapper.sets("ada", 6, "2026-05-03"),
    north.handicapper.signs("ada", "2026-05-04"),
    north.handicapper.writes("player-left", { player: player("ada"), on: "2026-06-01" }),
  ];
  const others = [
    north.recorder.reports(played("2026-05-01", "cat 4", "ben 9", "7-4")),
    north.handicapper.sets("ben", 8, "2026-05-03"),
    north.handicapper.signs("ben", "2026-05-04"),
    north.handicapper.joins("dan"),
    north.handicapper.opens("cup", "2026-05-01", "2026-05-02"),
  ];
  expect(inRecord(north, own)).toEqual(own.map(() => true));
  expect(inRecord(north, others)).toEqual(others.map(() => false));
  expect(recordOf(north, "ada").filter(({ entry }) => entry.kind === "player-joined")).toHaveLength(1);
});

test("RE4 under any linked id, with the links of everybody played, and not of a link taken back", () => {
  const { north } = season();
  north.recorder.joins("guest", "visitor", { club: "elsewhere" });
  north.recorder.joins("wrong", "visitor", { club: "elsewhere" });
  const as = (who: string) => north.recorder.reports(played("2026-05-01", `${who} 7`, "benny 9", "7-4"));
  const [guest, wrong] = [as("guest"), as("wrong")];
  const link = north.handicapper.links("guest", "ada");
  const mistake = north.handicapper.links("wrong", "ada");
  const undone = north.handicapper.withdraws(mistake);
  const opponent = north.handicapper.links("benny", "ben");
  const further = north.handicapper.links("benjamin", "ben");
  const strangers = north.handicapper.links("cath", "cat");
  const all = [guest, wrong, link, mistake, undone, opponent, further, strangers];
  expect(inRecord(north, all)).toEqual([true, false, true, true, true, true, true, false]);
  expect(recordOf(north, "guest")).toEqual(recordOf(north, "ada"));
  expect(cardText(read(north, recordOf(north, "ada")), "ada")).toBe(cardText(north.state(), "ada"));
});

test("RE4 events and fixtures its matches name are in it: a change waits for the event's last day in the record as in the book", () => {
  const { north } = season();
  const cup = { event: event("cup") };
  const opened = north.handicapper.opens("cup", "2026-05-01", "2026-05-03");
  const longer = north.handicapper.writes("event-opened", {
    event: event("cup"),
    title: "cup",
    occasion: "club-competition",
    from: "2026-05-01",
    to: "2026-05-04",
    replaces: opened.id,
  });
  const other = north.handicapper.opens("plate", "2026-05-01", "2026-05-03");
  north.recorder.reports(played("2026-05-01", "ada 7", "ben 9", "7-4", cup));
  north.recorder.reports(played("2026-05-02", "ada 7", "ben 9", "4-7", cup));
  expect(inRecord(north, [opened, longer, other])).toEqual([true, true, false]);

  north.recorder.reports(played("2026-05-03", "ada 7", "ben 9", "7-4", cup));
  const [whole, own] = [north.state(), read(north, recordOf(north, "ada"))];
  expect(own.cards.get(player("ada"))?.lines.at(-1)).toMatchObject({ moved: { to: 6, after: "2026-05-04" } });
  expect(cardText(own, "ada")).toBe(cardText(whole, "ada"));

  const { north: club, south } = clubs("north", "south");
  const { league: ring, captains } = league("ring", { north: club, south });
  const fixtureOf = (name: string) =>
    ring.root.writes("fixture-set", {
      fixture: fixture(name),
      date: "2026-05-01",
      home: club.root.id,
      away: south.root.id,
      slots: [{ discipline: "singles", play: "handicap", format: 13 }],
    });
  const [first, second] = [fixtureOf("first"), fixtureOf("second")];
  captains.north.joins("ada", "visitor", { book: club.id });
  const stated = captains.north.writes("handicap-stated", {
    player: player("ada"),
    handicap: 7,
    index: 1390,
    on: "2026-05-01",
  });
  captains.north.reports(
    played("2026-05-01", "ada 7", "una 9", "7-4", { slot: { fixture: fixture("first"), number: 1 } }),
  );
  expect(inRecord(ring, [first, second, stated])).toEqual([true, false, true]);
});

test("RE5 what corrects an entry of the record, takes it back or rules on it is in it, and what that corrects", () => {
  const { north } = season();
  const { recorder, handicapper } = north;
  const slip = recorder.reports(played("2026-05-01", "ada 7", "ben 9", "7-4"));
  // It was cat who played.
  const mended = recorder.reports(played("2026-05-01", "cat 4", "ben 9", "7-4"), slip);
  const undone = recorder.withdraws(mended);
  const foreign = recorder.reports(played("2026-05-02", "cat 4", "ben 9", "7-4"));
  const taken = recorder.reports(played("2026-05-02", "ada 7", "ben 9", "7-4"), foreign);
  const ruled = handicapper.rules(keyOfMatch(played("2026-05-02", "ada 7", "ben 9", "7-4")), taken);
  const void_ = handicapper.rules(keyOfMatch(played("2026-05-03", "ben 9", "ada 7", "7-4")), null);
  const elsewhere = [
    recorder.withdraws(recorder.reports(played("2026-05-04", "cat 4", "ben 9", "7-4"))),
    handicapper.rules(keyOfMatch(played("2026-05-04", "cat 4", "ben 9", "7-4")), null),
  ];
  expect(inRecord(north, [slip, mended, undone, foreign, taken, ruled, void_])).toEqual(Array(7).fill(true));
  expect(inRecord(north, elsewhere)).toEqual([false, false]);
});

test("RE5 of a slot every report is in it, also one that names somebody else", () => {
  const { north } = season();
  const slot = { slot: { fixture: fixture("cup"), number: 1 } };
  const [one, two] = [
    north.recorder.reports(played("2026-05-01", "ada 7", "ben 9", "7-4", slot)),
    north.handicapper.reports(played("2026-05-01", "cat 4", "ben 9", "7-4", slot)),
  ];
  const ruled = north.root.rules(`slot:${fixture("cup")}:1`, two);
  const other = north.recorder.reports(
    played("2026-05-01", "cat 4", "ben 9", "7-4", { slot: { ...slot.slot, number: 2 } }),
  );
  expect(inRecord(north, [one, two, ruled, other])).toEqual([true, true, true, false]);
});

test("RE5 a carried entry is about what it carries: report, withdrawal and copies taken back", () => {
  const { north, south } = clubs("north", "south");
  for (const name of ["ada", "ben"]) north.member(name, 7);
  const { league: ring, captains } = league("ring", { north, south });
  const report = captains.north.reports(played("2026-05-01", "ada 7", "una 9", "7-4"));
  const second = captains.south.reports(played("2026-05-02", "ada 7", "una 9", "7-4"));
  const others = captains.north.reports(played("2026-05-01", "ben 7", "una 9", "7-4"));
  const copies = [report, second, others].map((one) => north.recorder.carries(one));
  const withdrawal = north.handicapper.carries(captains.north.withdraws(report));
  const back = north.handicapper.withdraws(copies[1]!);
  expect(inRecord(north, [...copies, withdrawal, back])).toEqual([true, true, false, true, true]);
  expect(ring.written.length).toBeGreaterThan(0);
  expect(north.card(player("ada")).lines).toHaveLength(1);
  expect(cardText(read(north, recordOf(north, "ada")), "ada")).toBe(cardText(north.state(), "ada"));
});

test("RE4 what this version does not understand is in it when it names the player", () => {
  const { north } = season();
  const of = (name: string) => north.recorder.writesRaw({ v: 9, kind: "prize-given", body: { to: [player(name)] } });
  const unknown = north.recorder.writesRaw({ v: 9, kind: "device-admitted", body: { device: "another way" } });
  expect(inRecord(north, [of("ada"), of("ben"), unknown])).toEqual([true, false, true]);
});

test("RE6 an entry that waits for an earlier one is not in a record, where nobody could tell that it waits", () => {
  const { north } = season();
  const [missing, waits] = [1, 2].map((n) => north.recorder.reports(played(`2026-05-0${n}`, "ada 7", "ben 9", "7-4")));
  const held = north.written.filter((one) => one !== missing);
  const record = recordOf(north, "ada", held);
  expect(record).not.toContain(waits);
  expect(read(north, record).matches.size).toBe(0);
  expect(recordOf(north, "ada")).toEqual(expect.arrayContaining([missing, waits]));
});

test("RE6 both sides of a signer's fork are in it, so that what follows does not count there either", () => {
  const { north } = season();
  const twin = north.recorder.twin();
  const [one, two] = [
    north.recorder.reports(played("2026-05-01", "cat 4", "ben 9", "7-4")),
    twin.reports(played("2026-05-02", "cat 4", "ben 9", "7-4")),
  ];
  const after = north.recorder.reports(played("2026-05-03", "ada 7", "ben 9", "7-4"));
  expect(inRecord(north, [one, two, after])).toEqual([true, true, true]);
  const state = read(north, recordOf(north, "ada"));
  expect(state.uncounted.get(after.id)).toBe("forked");
  expect(state.devices.get(north.recorder.id)).toMatchObject({ forkedAt: 0 });
});

/** Every other match of a recorder, in an excerpt; the whole of it bar nothing else. */
function gaps() {
  const { north, common } = season();
  const reports = [1, 2, 3, 4, 5, 6].map((n) =>
    north.recorder.reports(played(`2026-05-0${n}`, "ada 7", "ben 9", "7-4")),
  );
  const start = north.written.filter((one) => !reports.includes(one));
  return { north, common, reports, start };
}

const daysIn = (state: ReturnType<typeof read>): string[] =>
  [...state.matches.values()].map(({ facts }) => facts?.date.slice(-1) ?? "").sort();

test("RE9 a chain of an excerpt counts over gaps", () => {
  const { north, reports, start } = gaps();
  const part = [...start, ...[1, 3, 4].map((n) => reports[n]!)];
  expect(daysIn(read(north, part))).toEqual(["2", "4", "5"]);
  expect(read(north, part).uncounted.size).toBe(0);
  // As a whole book's it does not.
  expect(daysIn(north.ledger(part).state())).toEqual([]);
});

test("RE9 it counts up to its first fork, and a bar cuts it by place in the chain, not by how many are here", () => {
  const { north, reports, start } = gaps();
  const bar = north.handicapper.bars(north.recorder, reports[3]!);
  const part = [...start, ...[1, 3, 4, 5].map((n) => reports[n]!), bar];
  const state = read(north, part);
  expect(daysIn(state)).toEqual(["2", "4"]);
  expect(state.uncounted.get(reports[4]!.id)).toBe("after-bar");
  // The entry the bar names need not be here.
  expect(
    daysIn(
      read(
        north,
        part.filter((one) => one !== reports[3]),
      ),
    ),
  ).toEqual(["2"]);

  const other = write(north.recorder.key, {
    v: 1,
    book: north.id,
    seq: reports[3]!.entry.seq,
    prev: null,
    at: "2026-05-01T10:00:00Z",
    kind: "match-reported",
    body: { ...played("2026-05-09", "ada 7", "ben 9", "7-4") },
  });
  const forked = read(north, [...start, ...[1, 3, 4].map((n) => reports[n]!), other]);
  expect(daysIn(forked)).toEqual(["2"]);
  expect(forked.devices.get(north.recorder.id)).toMatchObject({ counted: 1, forkedAt: reports[3]!.entry.seq });
  // Another entry in the place a bar names does not count.
  expect(daysIn(read(north, [...start, reports[1]!, other, bar]))).toEqual(["2"]);
});

test("RE9 a barred handicapper's admissions count by their place in his chain", () => {
  const { north } = season();
  const second = north.root.admits("second", "handicapper");
  const early = second.admits("early", "recorder");
  const last = second.joins("dan");
  const late = second.admits("late", "recorder");
  north.root.bars(second, last);
  const matches = [early, late].map((pen: Pen, n) => pen.reports(played(`2026-05-0${n + 1}`, "ada 7", "ben 9", "7-4")));
  const record = recordOf(north, "ada");
  expect(record).not.toContain(last);
  const state = read(north, record);
  expect(matches.map(({ id }) => state.uncounted.get(id) ?? "counts")).toEqual(["counts", "not-admitted"]);
  expect(cardText(state, "ada")).toBe(cardText(north.state(), "ada"));
});

test("RE9 a book's opening is the first entry of its root, in an excerpt too", () => {
  const root = keyOf("root of late");
  const book = root.id as string as BookId;
  const openedAt = (seq: number) => {
    const body = { root: root.publicKey, as: "club", name: "late" };
    const ledger = excerptLedger(book);
    ledger.add([write(root, { v: 1, book, seq, prev: null, at: "2026-05-01T10:00:00Z", kind: "book-opened", body })]);
    return ledger.state().as;
  };
  expect([0, 1].map(openedAt)).toEqual(["club", null]);
});

test("RE9 an excerpt comes to the same in any order, at once or one by one", () => {
  const { north, reports, start } = gaps();
  const twin = north.recorder.twin();
  north.recorder.reports(played("2026-05-07", "ada 7", "ben 9", "7-4"));
  twin.reports(played("2026-05-08", "ada 7", "ben 9", "7-4"));
  north.handicapper.bars(north.recorder, reports[4]!);
  const part = [...start, ...north.written.slice(start.length).filter((_, n) => n !== 1)];
  const wanted = stateText(read(north, part));
  for (let turn = 0; turn < 40; turn++) {
    const order = [...part].sort(
      (a, b) => ((a.id.charCodeAt(turn) * 7 + turn) % 64) - ((b.id.charCodeAt(turn) * 7 + turn) % 64),
    );
    const ledger = excerptLedger(north.id);
    for (const one of order) {
      ledger.add([one]);
      // Reading in between makes the next entry build on what there was.
      ledger.state();
    }
    expect(stateText(ledger.state())).toBe(wanted);
  }
});
