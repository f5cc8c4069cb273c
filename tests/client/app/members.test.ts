/** The list of members, somebody new, and names. */
import type { PlayerId } from "@sward/core";
import { atOnce, bodies, findRuleSet } from "@sward/core";
import { expect, test } from "vitest";
import type { JoinForm } from "../../../packages/client/src/app/members/joining.ts";
import { joinDrafts, joinFaults, startingIndex } from "../../../packages/client/src/app/members/joining.ts";
import type { RollRow } from "../../../packages/client/src/app/members/roll.ts";
import { recordRows, rollOf, sortRoll } from "../../../packages/client/src/app/members/roll.ts";
import { nameFaults, recordOf, shortened } from "../../../packages/client/src/app/name-form.ts";
import { deviceIn, nameIn, rosterRecordOf, shortNameIn } from "../../../packages/client/src/app/names.ts";
import { mayCorrectHere, mayHere, officeIn } from "../../../packages/client/src/app/permission.ts";
import { number, signed, spoken } from "../../../packages/client/src/app/words.ts";
import { clubs, league, played, player } from "../../support/cast.ts";

const england = findRuleSet("england-2016")!;

function club() {
  const { north } = clubs("north");
  north.member("Bea", 7, { index: 1390, from: "2025-04-01" });
  north.member("ada", 9, { from: "2025-04-01" });
  north.member("Čil", -2, { from: "2025-04-01" });
  north.handicapper.joins("moss");
  north.handicapper.joins("vic", "visitor", { club: "Harrow Green" });
  north.recorder.reports(played("2025-08-01", "Bea 7", "ada 9", "3-7"));
  north.recorder.reports(played("2026-05-02", "Bea 7", "vic 5", "7-4 7-5", { occasion: "inter-club" }));
  north.recorder.reports(played("2026-05-09", "ada 8", "vic 6", "7-4", { occasion: "inter-club" }));
  const names = new Map(["Bea", "ada", "Čil", "moss", "vic"].map((name) => [player(name), name]));
  const named = (id: PlayerId) => ({ name: names.get(id) ?? "?", short: names.get(id) ?? "?", junior: false });
  return { north, roll: (today: string) => rollOf(north.state(), named, today) };
}

test("a row: handicap in force, index, games of the last twelve months, last game", () => {
  const { roll } = club();
  const row = (name: string, today = "2026-06-30") => roll(today).find((each) => each.name === name);
  expect(row("Bea")).toMatchObject({ handicap: 6, index: 1400, games: 3, last: "2026-05-02", standing: "member" });
  expect(row("ada")).toMatchObject({ handicap: 9, index: 1270, games: 2, last: "2026-05-09" });
  expect(row("Čil")).toMatchObject({ handicap: -2, index: 2200, games: 0, last: null });
  expect(row("moss")).toMatchObject({ handicap: null, index: null, games: 0, last: null });
  expect(row("Bea", "2025-12-01")?.games).toBe(1);
  // Over the turn of the year, as a summer in the south has it, and to the day.
  expect(row("Bea", "2026-07-31")?.games).toBe(3);
  expect(row("Bea", "2026-08-01")?.games).toBe(2);
});

test("the list reads days off the cards and has none of them write out its lines", () => {
  const { north } = club();
  const state = north.state();
  let read = 0;
  for (const card of state.cards.values()) {
    const { lines } = card;
    Object.defineProperty(card, "lines", {
      get() {
        read += 1;
        return lines;
      },
    });
  }
  const rows = rollOf(state, (name) => ({ name, short: name, junior: false }), "2026-06-30");
  expect(rows.find((row) => row.player === player("Bea"))).toMatchObject({ games: 3, last: "2026-05-02" });
  expect([state.cards.size, read]).toEqual([3, 0]);
});

test("a game makes rows anew for those who played it, and leaves all others the very same", () => {
  const { north } = club();
  const state = north.state();
  const named = (id: PlayerId) => ({ name: id, short: id, junior: false });
  const before = rollOf(state, named, "2026-06-30");
  const bea = state.cards.get(player("Bea"))!;
  const played = { ...state, cards: new Map(state.cards).set(bea.player, { ...bea, index: bea.index + 10 }) };
  const after = rollOf(played, named, "2026-06-30");
  const withCards = (row: RollRow): boolean => state.cards.has(row.player);
  const others = after.filter((row, at) => withCards(row) && row !== before[at]).map(({ player }) => player);
  expect(others).toEqual([bea.player]);
  expect(after.find((row) => row.player === bea.player)?.index).toBe(bea.index + 10);
  // What is noted for the next start is asked without names, and takes none of the rows away that are drawn.
  const noted = atOnce(recordRows(played, "2026-06-30"));
  expect(noted).toEqual(after.map(({ name: _n, short: _s, junior: _j, ...row }) => row));
  expect(rollOf(played, named, "2026-06-30").filter((row, at) => withCards(row) && row !== after[at])).toEqual([]);
  // Another day, or another name, is another row.
  expect(rollOf(state, named, "2026-07-01").some((row) => before.includes(row))).toBe(false);
  const renamed = rollOf(state, (id) => ({ ...named(id), name: `${id} Wren` }), "2026-07-01");
  expect(renamed.every(({ name }) => name.endsWith(" Wren"))).toBe(true);
});

test("a change that waits for the end of the day is shown as waiting, not as in force", () => {
  const { roll } = club();
  expect(roll("2026-05-02").find(({ name }) => name === "Bea")).toMatchObject({
    handicap: 7,
    waiting: { to: 6, after: "2026-05-02" },
  });
});

test("a visitor's handicap is what was played off last, and games are counted from matches", () => {
  const { roll } = club();
  expect(roll("2026-06-30").find(({ name }) => name === "vic")).toMatchObject({
    handicap: 6,
    index: null,
    games: 3,
    last: "2026-05-09",
    standing: "visitor",
    home: { club: "Harrow Green" },
  });
});

test("sorted by name without regard to case or accents, by handicap, by index, by last game; those without come last", () => {
  const rows = club().roll("2026-06-30");
  const names = (by: Parameters<typeof sortRoll>[1]) => sortRoll(rows, by).map(({ name }) => name);
  expect(names("name")).toEqual(["ada", "Bea", "Čil", "moss", "vic"]);
  expect(names("handicap")).toEqual(["Čil", "Bea", "vic", "ada", "moss"]);
  expect(names("index")).toEqual(["Čil", "Bea", "ada", "moss", "vic"]);
  expect(names("last")).toEqual(["ada", "vic", "Bea", "Čil", "moss"]);
});

const form: JoinForm = {
  name: "  Ivy   Marsh ",
  short: "",
  junior: false,
  standing: "member",
  home: "",
  counts: ["22", "21", "21"],
  handicap: 11,
  index: "",
  from: "2026-05-01",
  reason: "three-rounds test, 64",
};

test("somebody new: what is missing is said at its field, and only what will be written is asked for", () => {
  expect(joinFaults(form)).toBeNull();
  expect(joinFaults({ ...form, name: " " })?.name).toContain("Write the name");
  expect(joinFaults({ ...form, reason: "" })?.reason).toContain("how the handicap was found");
  expect(joinFaults({ ...form, from: "soon" })?.from).toContain("Choose the day");
  expect(joinFaults({ ...form, index: "lots" })?.index).toContain("whole number");
  expect(joinFaults({ ...form, handicap: null, reason: "", from: "", index: "lots" })).toBeNull();
  expect(joinFaults({ ...form, standing: "visitor", reason: "", from: "" })).toBeNull();
});

test("somebody new writes entries that every device understands", () => {
  const drafts = joinDrafts(player("ivy"), { ...form, index: "−20" });
  expect(drafts.map(({ kind }) => kind)).toEqual(["player-joined", "handicap-set"]);
  for (const { kind, body } of drafts) expect(bodies[kind].safeParse(body).success).toBe(true);
  expect(drafts[1]?.body).toMatchObject({ basis: "initial", handicap: 11, index: -20, from: "2026-05-01" });
  expect(joinDrafts(player("ivy"), form)[1]?.body).not.toHaveProperty("index");
  expect(joinDrafts(player("ivy"), { ...form, handicap: null })).toHaveLength(1);
  const [visitor, ...more] = joinDrafts(player("ivy"), { ...form, standing: "visitor", home: " Millbrook " });
  expect(visitor?.body).toEqual({ player: player("ivy"), standing: "visitor", home: { club: "Millbrook" } });
  expect(more).toEqual([]);
});

test("the index starts at the trigger point of the handicap", () => {
  expect(startingIndex(england, 11)).toBe(1150);
  expect(startingIndex(england, null)).toBeNull();
});

test("a short name is made from the full one unless it is given", () => {
  expect(shortened("Ada Wren")).toBe("Ada W.");
  expect(shortened(" Ada  Maria  van Dyke ")).toBe("Ada D.");
  expect(shortened("Ada")).toBe("Ada");
  expect(recordOf({ name: " Ada  Wren", short: " ", junior: true })).toEqual({
    name: "Ada Wren",
    short: "Ada W.",
    junior: true,
  });
  expect(recordOf({ name: "Ada Wren", short: "Wren", junior: false })).toEqual({ name: "Ada Wren", short: "Wren" });
  expect(nameFaults({ name: "x", short: "", junior: false })).toBeNull();
});

test("a name is found in the club's roster, then in a league's, under any linked id; else words for nobody", () => {
  const { north } = clubs("north");
  north.member("ada", 7);
  north.handicapper.joins("adah", "visitor");
  north.handicapper.links("adah", "ada");
  const roster = (records: Record<string, string>) => ({
    get: (about: string) => {
      const name = records[about];
      return name === undefined ? undefined : { name, short: name.slice(0, 3) };
    },
  });
  const clubBook = { state: () => north.state(), roster: roster({ [player("adah")]: "Ada Wren" }) };
  const leagueBook = {
    state: () => ({ players: new Map() }),
    roster: roster({ [player("adah")]: "A. Wren", [player("una")]: "Una Farrow", [north.recorder.id]: "Tablet" }),
  };
  const desk = { club: clubBook, leagues: [leagueBook] };
  expect(nameIn(desk, player("ada"))).toBe("Ada Wren");
  expect(nameIn(desk, player("una"))).toBe("Una Farrow");
  expect(shortNameIn(desk, player("una"))).toBe("Una");
  expect(nameIn(desk, player("nobody"))).toContain("not named");
  expect(rosterRecordOf(desk, player("nobody"))).toBeUndefined();
  expect(deviceIn(desk, north.recorder.id)).toBe("Tablet");
  expect(deviceIn(desk, north.reader.id)).toContain("not named");
});

test("what a device may do is what the book would allow it", () => {
  const { north, south } = clubs("north", "south");
  const at = (pen: { id: typeof north.recorder.id }) => ({ device: pen.id, state: () => north.state() });
  expect(officeIn(at(north.recorder))).toBe("recorder");
  expect(mayHere(at(north.handicapper), "card-signed")).toBe(true);
  expect(mayHere(at(north.recorder), "card-signed")).toBe(false);
  expect(mayHere(at(north.recorder), "player-joined", { standing: "visitor" })).toBe(true);
  expect(mayHere(at(north.recorder), "player-joined", { standing: "member" })).toBe(false);
  expect(mayHere(at(north.reader), "match-reported")).toBe(false);
  expect(mayHere(at(south.recorder), "match-reported")).toBe(false);
  expect(officeIn(at(south.recorder))).toBe("none");
  expect(mayCorrectHere(at(north.recorder), north.recorder.id)).toBe(true);
  expect(mayCorrectHere(at(north.recorder), north.handicapper.id)).toBe(false);
  expect(mayCorrectHere(at(north.handicapper), north.recorder.id)).toBe(true);
  expect(mayCorrectHere(at(north.reader), north.reader.id)).toBe(false);
  north.handicapper.bars(north.recorder, null);
  expect(officeIn(at(north.recorder))).toBe("barred");
  expect(mayHere(at(north.recorder), "match-reported")).toBe(false);
});

test("in a league a club's device corrects its own club's entries, and decides nothing", () => {
  const { north, south } = clubs("north", "south");
  const { league: rivers, captains, roots } = league("rivers", { north, south });
  const at = (pen: { id: typeof north.recorder.id }) => ({ device: pen.id, state: () => rivers.state() });
  expect(mayHere(at(captains.north), "ruling-made")).toBe(false);
  expect(mayHere(at(roots.north), "ruling-made")).toBe(false);
  expect(mayHere(at(rivers.root), "ruling-made")).toBe(true);
  expect(mayCorrectHere(at(captains.north), roots.north.id)).toBe(true);
  expect(mayCorrectHere(at(captains.north), captains.south.id)).toBe(false);
  expect(mayCorrectHere(at(rivers.root), captains.south.id)).toBe(true);
});

test("numbers are written with a minus sign and spoken with the word", () => {
  expect([number(-2), number(0), signed(10), signed(-10), signed(0), spoken(-2), spoken(7)]).toEqual([
    "−2",
    "0",
    "+10",
    "−10",
    "0",
    "minus 2",
    "7",
  ]);
});
