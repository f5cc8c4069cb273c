/** Lines as a club would have them, and what is wrong with bad ones: always named by line and field, never thrown. */
import fc from "fast-check";
import { expect, test } from "vitest";
import { fieldNames, headings } from "../../../../packages/client/src/app/files/fields.ts";
import type { Importing } from "../../../../packages/client/src/app/files/importing.ts";
import { isReady } from "../../../../packages/client/src/app/files/importing.ts";
import type { MemoryClub } from "../entry/club-in-memory.ts";
import { clubInMemory, report, TODAY } from "../entry/club-in-memory.ts";
import { importAt, memoryStore, outcomeOf, told } from "./import-at-hand.ts";

const SEED = 5_000_310;

const members = [
  { name: "Ada Wren", handicap: 7 },
  { name: "Bo Linnet", handicap: 9 },
  { name: "Cass Thorley", handicap: 4 },
  { name: "Dov Marram", handicap: 11 },
];
const newClub = (): Promise<MemoryClub> =>
  clubInMemory([...members, { name: "Vic Tarrant", handicap: 5, visitor: "Elm" }]);

async function read(club: MemoryClub, ...lines: string[]): Promise<Importing> {
  const importing = importAt(club);
  await importing.take("", lines.join("\n"));
  await importing.change({ defaults: { ...importing.choices.value.defaults, occasion: "ad-hoc" } });
  return importing;
}

test("an afternoon pasted from a spreadsheet: singles, doubles, a walkover, and handicaps that the record knows", async () => {
  const club = await newClub();
  const importing = await read(
    club,
    "player\tpartner\topponent\topponent's partner\tscore\tended\tH/L",
    "Ada Wren\t\tBo Linnet\t\t7-4\t\tH",
    "Ada W\t\tBo L\t\t6-7\t\tH",
    "Ada Wren\tBo Linnet (10)\tCass Thorley\tDov Marram\t7-5\t\tL",
    "Cass Thorley & Dov Marram\t\tAda Wren & Bo Linnet\t\t5-3\ttime\tL",
    "Dov Marram\t\tCass Thorley\t\t7-0\twalkover\tH",
  );
  expect(told(importing)).toEqual(["2 new", "3 new", "4 new", "5 new", "6 new"]);
  const seat = (first: string, off: number) => ({ player: club.id(first), off });
  expect(outcomeOf(importing).matches).toEqual([
    { ...report([[club.id("Ada"), 7]], [[club.id("Bo"), 9]], [7, 4]).body, occasion: "ad-hoc" },
    { ...report([[club.id("Ada"), 7]], [[club.id("Bo"), 9]], [6, 7]).body, occasion: "ad-hoc", n: 2 },
    {
      date: TODAY,
      occasion: "ad-hoc",
      n: 1,
      play: "level",
      format: 13,
      sides: [
        [seat("Ada", 7), seat("Bo", 10)],
        [seat("Cass", 4), seat("Dov", 11)],
      ],
      games: [{ score: [7, 5] }],
    },
    {
      date: TODAY,
      occasion: "ad-hoc",
      n: 2,
      play: "level",
      format: 13,
      sides: [
        [seat("Cass", 4), seat("Dov", 11)],
        [seat("Ada", 7), seat("Bo", 9)],
      ],
      games: [{ score: [5, 3], ended: "time" }],
    },
    {
      ...report([[club.id("Dov"), 11]], [[club.id("Cass"), 4]], [7, 0]).body,
      occasion: "ad-hoc",
      games: [{ score: [7, 0], ended: "walkover" }],
    },
  ]);
  expect(isReady(outcomeOf(importing))).toBe(true);
  await club.save(...outcomeOf(importing).matches.map((body) => ({ kind: "match-reported", body }) as const));
  expect([...club.book.state().matches.values()].map(({ status }) => status)).toEqual(Array(5).fill("one-report"));
});

const HEADING =
  "date,player,handicap,partner,opponent,opponent handicap,score,ended,play,points in a game,occasion,counts,start,match,game";
const GOOD = "2031-06-01,Ada Wren,7,,Bo Linnet,9,7-4,,H,13,ad-hoc,yes,09:30,,";
const bad: readonly (readonly [line: string, fault: string])[] = [
  [GOOD.replace("2031-06-01", ""), "date: no-date"],
  [GOOD.replace("2031-06-01", "31 June 2031"), "date: not-a-date"],
  [GOOD.replace("2031-06-01", "48002"), "date: date-is-a-number"],
  [GOOD.replace("2031-06-01", "2031-06-15"), "date: future-date"],
  [GOOD.replace("2031-06-01", "3/4/2031"), "date: date-order-open"],
  [GOOD.replace("Ada Wren", ""), "player: no-name"],
  [GOOD.replace("Ada Wren", "Ada Wern"), "player: name-unknown"],
  [GOOD.replace("Bo Linnet", "B".repeat(81)), "opponent: name-too-long"],
  [GOOD.replace("Ada Wren", "Bo Linnet"), "opponent: player-twice"],
  [GOOD.replace(",,Bo", ",Cass Thorley (4),Bo"), "opponentPartner: uneven-sides"],
  [GOOD.replace(",,Bo", ",Cass Thorley & Dov Marram,Bo"), "partner: three-in-a-cell"],
  [GOOD.replace(",7,,", ",seven,,"), "handicap: not-a-handicap"],
  [GOOD.replace(",7,,", ",40,,"), "handicap: handicap-not-in-table"],
  [GOOD.replace("Bo Linnet,9", "Vic Tarrant,"), "opponentHandicap: no-handicap"],
  [GOOD.replace("7-4", ""), "score: no-score"],
  [GOOD.replace("7-4", "seven-four"), "score: not-a-score"],
  [GOOD.replace("7-4", "07-Apr"), "score: score-is-a-date"],
  [GOOD.replace("7-4", "7-7"), "score: score-cannot-be"],
  [GOOD.replace(",,H", ",rain,H"), "ended: not-an-ending"],
  [GOOD.replace(",H,", ",X,"), "play: not-a-play"],
  [GOOD.replace(",13,", ",15,"), "format: not-a-format"],
  [GOOD.replace("ad-hoc", "party"), "occasion: not-an-occasion"],
  [GOOD.replace("yes", "maybe"), "counts: not-yes-or-no"],
  [GOOD.replace("09:30", "noon"), "start: not-a-time"],
  [`${GOOD.slice(0, -1)}0,1`, "match: not-a-number"],
  [`${GOOD.slice(0, -1)}1,2`, "game: games-missing"],
];

test("each kind of bad line is named with its line, its column and what is wrong, and the good ones stay good", async () => {
  const club = await newClub();
  for (const [line, fault] of bad) {
    const importing = await read(club, HEADING, GOOD, line, GOOD.replace("06-01", "06-02"));
    expect([line, told(importing)]).toEqual([line, ["2 new", `3 faulty, ${fault}`, "4 new"]]);
    expect(isReady(outcomeOf(importing))).toBe(false);
    await importing.change({ leftOut: new Set([3]) });
    expect(told(importing)).toEqual(["2 new", "3 left-out", "4 new"]);
    expect(isReady(outcomeOf(importing))).toBe(true);
  }
});

test("a bad cell typed anew makes the line good; a name chosen once holds for all its lines", async () => {
  const club = await newClub();
  const importing = await read(
    club,
    HEADING,
    GOOD.replace("7-4", "7-9"),
    GOOD.replace("Bo Linnet", "Bo Linett"),
    GOOD.replace("Bo Linnet", "bo  linett"),
  );
  expect(told(importing)).toEqual([
    "2 faulty, score: score-cannot-be",
    "3 faulty, opponent: name-unknown",
    "4 faulty, opponent: name-unknown",
  ]);
  await importing.change({ edits: new Map([[2, new Map([["score", "7-5"]])]]) });
  const [question] = outcomeOf(importing).names;
  expect(question).toMatchObject({ text: "Bo Linett", first: 3, lines: 2, match: { offers: [club.id("Bo")] } });
  await importing.change({ names: new Map([[question!.key, { type: "person", player: club.id("Bo") }]]) });
  expect(told(importing)).toEqual(["2 new", "3 new", "4 new"]);
  expect(outcomeOf(importing).matches.map(({ n }) => n)).toEqual([1, 2, 3]);
});

test("in the record already, different from it, and one more game are told apart", async () => {
  const club = await newClub();
  await club.save(
    report([[club.id("Ada"), 7]], [[club.id("Bo"), 9]], [7, 4], { date: "2031-06-01", occasion: "ad-hoc" }),
  );
  const turned = "2031-06-01,Bo Linnet,9,,Ada Wren,7,4-7,,H,13,ad-hoc,yes,,,";
  const importing = await read(club, HEADING, GOOD.replace("7-4", "7-2"), turned);
  // The second line is the record's own game, so the first is one more.
  expect(told(importing)).toEqual(["2 new", "3 recorded"]);
  expect(outcomeOf(importing).matches[0]?.n).toBe(2);

  const other = await read(club, HEADING, GOOD.replace("7-4", "7-2"), GOOD.replace("06-01", "06-02"));
  expect(told(other)).toEqual(["2 differs", "3 new"]);
  expect(outcomeOf(other).lines[0]?.recorded?.differs).toEqual(["games"]);
  expect(isReady(outcomeOf(other))).toBe(false);
  await other.change({ further: new Set([2]) });
  expect(outcomeOf(other).matches.map(({ n, games }) => [n, games[0]?.score])).toEqual([
    [2, [7, 2]],
    [1, [7, 4]],
  ]);
});

test("a handicap the file does not have comes from the record, but not after a new game of that player", async () => {
  const club = await newClub();
  const without = (day: string) => `2031-06-0${day},Ada Wren,Bo Linnet,7-4`;
  const importing = await read(club, "date,player,opponent,score", without("1"), without("1"), without("2"));
  expect(told(importing)).toEqual(["2 new", "3 new", "4 faulty, handicap: handicap-moves"]);
  expect(outcomeOf(importing).lines[0]?.filled.size).toBe(2);
});

test("dates of one column are read one way; when nothing tells which, a person is asked once", async () => {
  const club = await newClub();
  const day = (text: string) => GOOD.replace("2031-06-01", text);
  const clear = await read(club, HEADING, day("3/4/2031"), day("25/4/2031"));
  expect(outcomeOf(clear).matches.map(({ date }) => date)).toEqual(["2031-04-03", "2031-04-25"]);
  const open = await read(club, HEADING, day("3/4/2031"), day("5/4/2031"));
  expect(outcomeOf(open).counts.faulty).toBe(2);
  await open.change({ order: "month-first" });
  expect(outcomeOf(open).matches.map(({ date }) => date)).toEqual(["2031-03-04", "2031-05-04"]);
});

test("what was chosen for a file is there for the next of its kind", async () => {
  const club = await newClub();
  const store = memoryStore();
  const { rememberChoices } = await import("../../../../packages/client/src/app/files/remembered.ts");
  const columns = ["opponent", "player", "score"] as const;
  rememberChoices(store, club.book.device, "a|b|c", {
    columns,
    order: "month-first",
    defaults: { play: "level", format: 7, occasion: "league" },
  });
  const importing = importAt(club, store);
  await importing.take("", "A,b,C\nAda Wren,Bo Linnet,4-1", "yes");
  expect(importing.choices.value).toMatchObject({
    columns,
    order: "month-first",
    defaults: { format: 7, date: TODAY },
  });
  store.setItem(`sward/files/${club.book.device}`, '[["a|b|c",{"columns":["nonsense"]}]]');
  await importing.take("", "A,b,C\nAda Wren,Bo Linnet,4-1", "yes");
  expect(importing.choices.value.columns).toEqual(["player", "opponent", "score"]);
});

test(`whatever stands in a cell, every line is told of and every fault has its field (seed ${SEED})`, async () => {
  const club = await newClub();
  const columns = fieldNames.map((field) => headings[field]).join(",");
  const good = [
    "2031-06-01",
    "",
    "Ada Wren",
    "7",
    "",
    "",
    "Bo Linnet",
    "9",
    "",
    "",
    "",
    "7",
    "4",
    "",
    "H",
    "13",
    "ad-hoc",
    "",
    "",
    "",
    "",
  ];
  const cell = fc.oneof(
    fc.string({ unit: "grapheme", maxLength: 12 }),
    fc.constantFrom(
      "=1+1",
      "-0",
      "99",
      "1e9",
      "NaN",
      "7-",
      "--",
      "(7)",
      "& &",
      "Ada Wren (",
      "0000-00-00",
      "٣",
      "31/31/31",
      "__proto__",
    ),
  );
  const spoilt = fc.record({ at: fc.nat(good.length - 1), cell });
  const quoted = (text: string): string => `"${text.replaceAll('"', '""').replaceAll(/[\r\n]/g, " ")}"`;
  const check = fc.asyncProperty(
    fc.array(fc.array(spoilt, { maxLength: 4 }), { minLength: 1, maxLength: 12 }),
    async (rows) => {
      const lines = rows.map((spoils) => {
        const cells = [...good];
        for (const { at, cell: text } of spoils) cells[at] = text;
        return cells.map(quoted).join(",");
      });
      const importing = importAt(club);
      await importing.take("", [columns, ...lines].join("\n"));
      const { lines: judged, matches } = outcomeOf(importing);
      expect(judged.map(({ line }) => line)).toEqual(rows.map((_, at) => at + 2));
      for (const { standing, faults } of judged) {
        expect(faults.length > 0).toBe(standing === "faulty");
        for (const { field } of faults) expect(fieldNames).toContain(field);
      }
      // What is called good the book takes.
      const drafts = matches.map((body) => ({ kind: "match-reported", body }) as const);
      const again = await newClub();
      const ids = new Map(members.map(({ name }) => [club.id(name.split(" ")[0]!), again.id(name.split(" ")[0]!)]));
      const moved = JSON.parse(JSON.stringify(drafts), (_, value) => ids.get(value) ?? value);
      expect(await again.book.append(moved)).toMatchObject({ ok: true });
    },
  );
  await fc.assert(check, { seed: SEED, numRuns: 60 });
});
