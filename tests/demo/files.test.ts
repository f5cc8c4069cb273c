/** The demo clubs' files: that they are read whole, that what the README tells is in them, and what is said of a slip in one. */
import type { DemoBook, DemoFault, Known } from "@sward/client/demo";
import { demoPlayer, demoSeed, readDemo } from "@sward/client/demo";
import type { BookId, Draft, EntryId, MatchReported, PublicKey } from "@sward/core";
import { bodies, digestOf, matchKey } from "@sward/core";
import { expect, test } from "vitest";
import { changed, demoFiles, records } from "./demo-files.ts";

const anyId = (of: string): string => digestOf(of);
const known: Known = {
  entry: (ref) => anyId(ref) as EntryId,
  key: (device) => anyId(device) as string as PublicKey,
  book: (slug) => anyId(slug) as string as BookId,
};

function world() {
  const read = readDemo(demoFiles());
  if (!read.ok) throw new Error(JSON.stringify(read.fault, null, 1));
  return read.value;
}

const draftsOf = (book: DemoBook): Draft[] =>
  book.writings.flatMap(({ says }) => (says.how === "draft" ? [says.draft(known)] : []));

const matchesOf = (book: DemoBook): MatchReported[] =>
  draftsOf(book).flatMap((draft) => (draft.kind === "match-reported" ? [draft.body] : []));

const faultsOf = (files: Map<string, string>): readonly DemoFault[] => {
  const read = readDemo(files);
  return read.ok ? [] : read.fault;
};

test("three clubs, one league, about sixty members and a season of more than 800 games", () => {
  const { clubs, leagues } = world();
  expect(clubs.map(({ slug }) => slug)).toEqual(["ferncombe", "magpie-reach", "winterbeck"]);
  expect(leagues.map(({ slug }) => slug)).toEqual(["beck-and-combe"]);
  const members = clubs.flatMap(({ people }) => people.filter(({ standing }) => standing === "member"));
  expect(members.length).toBeGreaterThanOrEqual(55);
  expect(members.length).toBeLessThanOrEqual(65);
  expect(new Set(members.map(({ key }) => key)).size).toBe(members.length);

  // One match counts once, however many reports and clubs have it.
  const games = new Map(
    [...clubs, ...leagues].flatMap(matchesOf).map((body) => [matchKey(body, (id) => id), body.games]),
  );
  const total = [...games.values()].reduce((sum, { length }) => sum + length, 0);
  expect(total).toBeGreaterThanOrEqual(800);
  expect(total).toBeLessThanOrEqual(1000);
});

test("every draft has the form its kind asks for", () => {
  const { clubs, leagues } = world();
  const wrong = [...clubs, ...leagues]
    .flatMap(draftsOf)
    .filter(({ kind, body }) => !bodies[kind].safeParse(body).success)
    .map(({ kind, body }) => `${kind} ${JSON.stringify(body)}`);
  expect(wrong).toEqual([]);
});

test("times rise through each book, and nothing is written or played after 25 November 2026", () => {
  for (const book of [...world().clubs, ...world().leagues]) {
    const times = book.writings.map(({ at }) => at);
    expect(times).toEqual([...new Set(times)].sort());
    expect(times.every((at) => /^2026-\d\d-\d\dT\d\d:\d\d:\d\dZ$/.test(at) && at < "2026-11-25")).toBe(true);
    expect(matchesOf(book).filter(({ date }) => date > "2026-11-25")).toEqual([]);
    const refs = book.writings.map(({ ref }) => ref);
    expect(new Set(refs).size).toBe(refs.length);
  }
});

test("everybody is written down in a book before a line of it names them", () => {
  for (const book of [...world().clubs, ...world().leagues]) {
    const joined = new Set<string>();
    const early = draftsOf(book).flatMap((draft) => {
      if (draft.kind === "player-joined") joined.add(draft.body.player);
      if (draft.kind !== "match-reported") return [];
      return draft.body.sides.flat().filter(({ player }) => !joined.has(player));
    });
    expect(early, book.slug).toEqual([]);
    expect(joined).toEqual(new Set(book.people.map(({ player }) => player)));
  }
});

test("every kind of game is there", () => {
  const all = [...world().clubs, ...world().leagues].flatMap(matchesOf);
  for (const play of ["handicap", "level"]) {
    for (const players of [1, 2]) {
      expect(all.some((body) => body.play === play && body.sides[0].length === players)).toBe(true);
    }
  }
  expect(new Set(all.map(({ format }) => format))).toEqual(new Set([7, 13, 19]));
  expect(new Set(all.map(({ occasion }) => occasion))).toEqual(
    new Set(["calendar-event", "league", "inter-club-friendly", "club-competition", "club-friendly", "ad-hoc"]),
  );
  expect(new Set(all.flatMap(({ games }) => games.map(({ ended }) => ended)))).toEqual(
    new Set([undefined, "time", "abandoned", "walkover"]),
  );
  expect(all.some(({ games }) => games.length === 3)).toBe(true);
  expect(all.some(({ games }) => games.some(({ score: [a, b], ended }) => ended === "time" && a === b))).toBe(true);
  expect(all.some(({ excluded }) => excluded === true)).toBe(true);
});

test("players of all strengths, juniors among them, and visitors", () => {
  const files = demoFiles();
  const people = ["ferncombe", "winterbeck", "magpie-reach"].flatMap((slug) =>
    records(files, `clubs/${slug}/members.csv`),
  );
  const starts = people.filter(({ standing }) => standing === "member").map(({ handicap }) => Number(handicap));
  expect(Math.min(...starts)).toBe(-3);
  expect(Math.max(...starts)).toBe(20);
  expect(starts.filter((handicap) => handicap === 16).length).toBeGreaterThanOrEqual(4);
  expect(people.filter(({ junior, standing }) => junior === "yes" && standing === "member").length).toBe(4);
  // From a club that is not here, with the handicap it says; and from one that is, which says so itself.
  expect(people).toContainEqual(
    expect.objectContaining({ key: "torquil-a", home_club: "Pennard Moor", handicap: "6" }),
  );
  expect(people).toContainEqual(expect.objectContaining({ key: "keiko-b", home_club: "magpie-reach", handicap: "" }));
});

test("late entries, a correction, and a match written down twice are where the README says", () => {
  const files = demoFiles();
  const line = (club: string, id: string) => records(files, `clubs/${club}/games.csv`).find((row) => row["id"] === id);
  expect(line("winterbeck", "w056")).toMatchObject({ date: "2026-06-04", entered_on: "2026-07-09" });
  expect(line("magpie-reach", "m071")).toMatchObject({ date: "2026-07-11", entered_on: "2026-08-15" });
  expect(line("ferncombe", "f298")).toMatchObject({ date: "2026-10-10", entered_on: "2026-11-23" });
  const keiko = records(files, "clubs/magpie-reach/games.csv").filter(({ event }) => event === "august-open");
  expect(keiko.map(({ entered_on }) => entered_on)).toEqual(Array(7).fill("2026-09-02"));

  const fix = line("winterbeck", "w099")!;
  const wrong = line("winterbeck", fix["replaces"] ?? "")!;
  expect(fix).toMatchObject({ replaces: "w098", scores: "6-7" });
  expect(wrong).toMatchObject({ scores: "7-6", side_a: fix["side_a"], side_b: fix["side_b"] });

  const [one, two] = [line("ferncombe", "f024")!, line("ferncombe", "f025")!];
  expect([one["side_a"], one["side_b"], one["device"]]).toEqual([two["side_b"], two["side_a"], "pavilion-tablet"]);
});

test("one person has one id in every book, and every device a key of its own", () => {
  const { clubs, leagues } = world();
  const ids = new Map<string, string>();
  for (const { key, player } of [...clubs, ...leagues].flatMap(({ people }) => people)) {
    expect(ids.get(key) ?? player).toBe(player);
    ids.set(key, player);
  }
  expect(new Set(ids.values()).size).toBe(ids.size);
  const devices = [...clubs, ...leagues].flatMap((book) => book.devices.map(({ ref }) => ref));
  expect(new Set(devices.map((ref) => demoSeed(ref).join())).size).toBe(new Set(devices).size);
  expect(demoSeed("ferncombe/root")).toHaveLength(32);
  // sha256sum of "sward demo player ada-w", first 16 bytes, base64url without padding.
  expect(demoPlayer("ada-w")).toBe("IQTorGHBXgz_QnD2qo-LGg");
});

const FIRST_GAME = "f001,2026-04-11,,spring-blocks,club-competition,handicap,13,1,";
const games = "clubs/ferncombe/games.csv";

test.each([
  [
    "a day that is none",
    games,
    FIRST_GAME,
    FIRST_GAME.replace("04-11", "04-31"),
    { type: "demo-value", line: 2, column: "date", wanted: "day" },
  ],
  [
    "a length of game that is none",
    games,
    FIRST_GAME,
    FIRST_GAME.replace(",13,", ",14,"),
    { type: "demo-value", line: 2, column: "format", value: "14" },
  ],
  [
    "an event nobody opened",
    games,
    FIRST_GAME,
    FIRST_GAME.replace("spring", "sprung"),
    { type: "demo-unknown", line: 2, column: "event", what: "event", key: "sprung-blocks" },
  ],
  ["a cell too many", games, FIRST_GAME, `${FIRST_GAME},`, { type: "demo-broken-line", line: 2 }],
  [
    "a quote that does not close",
    games,
    FIRST_GAME,
    FIRST_GAME.replace(",spring", ',"spring'),
    { type: "demo-broken-line", line: 2 },
  ],
  ["an id used twice", games, "f002,", "f001,", { type: "demo-twice", line: 3, column: "id", key: "f001" }],
  [
    "a player on both sides",
    games,
    "edwin-f -1,imogen-t 8,7-5",
    "edwin-f -1,edwin-f -1,7-5",
    { type: "demo-match-cannot-be", column: "side_b", fault: { type: "player-twice" } },
  ],
  [
    "a score that cannot be",
    games,
    "edwin-f -1,imogen-t 8,7-5",
    "edwin-f -1,imogen-t 8,8-5",
    { type: "demo-match-cannot-be", column: "scores", fault: { type: "score-cannot-be", game: 1 } },
  ],
  [
    "entered before it was played",
    "clubs/winterbeck/games.csv",
    "handicappers-laptop,2026-07-09,,left",
    "handicappers-laptop,2026-06-03,,left",
    { type: "demo-too-early", line: 57, column: "entered_on", than: "2026-06-04" },
  ],
  [
    "a column that was renamed",
    games,
    "side_a",
    "side_one",
    { type: "demo-column-missing", line: 1, column: "side_a" },
  ],
  [
    "a signature by a recorder's device",
    "clubs/ferncombe/signatures.csv",
    "ada-w,2026-06-30,handicappers-laptop",
    "ada-w,2026-06-30,captains-phone",
    { type: "demo-may-not-write", line: 2, column: "device", device: "captains-phone" },
  ],
  [
    "a slot the fixture does not have",
    "leagues/beck-and-combe/reports.csv",
    "b001,fixture-1,1,",
    "b001,fixture-1,11,",
    { type: "demo-unknown", line: 2, column: "slot", what: "slot", key: "11" },
  ],
  [
    "a rule set nobody published",
    "clubs/winterbeck/club.json",
    "england-2016",
    "england-1899",
    { type: "demo-json", member: "rules.0.rules" },
  ],
  ["a heading cut short", "clubs/winterbeck/club.json", '"name"', "", { type: "demo-json", member: "" }],
] as const)("%s: the fault names the file, the line and the column", (_, file, from, to, fault) => {
  expect(faultsOf(changed(file, from, to))[0]).toMatchObject({ file, ...fault });
});

test("all faults come back at once, in the order of the files, and a missing file is named", () => {
  const files = changed(games, FIRST_GAME, FIRST_GAME.replace("04-11", "04-31").replace(",13,", ",14,"));
  files.delete("clubs/winterbeck/events.csv");
  const found = faultsOf(files);
  expect(found.slice(0, 2).map(({ type }) => type)).toEqual(["demo-value", "demo-value"]);
  expect(found).toContainEqual({ type: "demo-file-missing", file: "clubs/winterbeck/events.csv" });
  expect(faultsOf(new Map())).toEqual([{ type: "demo-no-clubs" }]);
});
