/**
 * What people get wrong with a league, one test for each: it is refused by its name with a sentence that says what, why and what to
 * do, and the league's book is the same, entry for entry, as before. With real keys and the very saving that screens use.
 */
import type { Draft, FixtureId } from "@sward/core";
import { fixtureSlots } from "@sward/core";
import { beforeAll, expect, test } from "vitest";
import { saveInLeague } from "../../../packages/client/src/league/save.ts";
import { messageOf } from "../../../packages/client/src/messages.ts";
import { fixture, keyOf, player } from "../../support/cast.ts";
import type { ClubName, SignedLeague } from "./signed-league.ts";
import { leagueRules, signedLeague } from "./signed-league.ts";

const TODAY = "2026-05-09";
let league: SignedLeague;
beforeAll(async () => {
  league = await signedLeague(140);
});

type Who = ClubName | "root";

const bookOf = (who: Who) => (who === "root" ? league.root : league.clubs[who].captain);

async function refused(by: Who, draft: Draft, type: string): Promise<void> {
  const book = bookOf(by);
  const before = [book.digest(), book.state().entries];
  const saved = await saveInLeague(book, [draft], TODAY);
  expect(saved).toMatchObject({ ok: false, fault: { type } });
  expect([book.digest(), book.state().entries]).toEqual(before);
  if (saved.ok) return;
  const { what, why, todo } = messageOf(saved.fault);
  for (const sentence of [what, why, todo]) expect(sentence).toMatch(/^[A-Z].+\.$/);
}

const team = (club: ClubName, at: FixtureId, seats: readonly (readonly [string, number])[]): Draft => ({
  kind: "lineup-named",
  body: {
    fixture: at,
    club: league.clubs[club].key,
    players: seats.map(([name, off]) => ({ player: player(name), off })),
  },
});
const meeting = (id: string, home: ClubName, away: ClubName, more: object = {}): Draft => ({
  kind: "fixture-set",
  body: {
    fixture: fixture(id),
    date: "2026-06-01",
    home: league.clubs[home].key,
    away: league.clubs[away].key,
    slots: fixtureSlots(leagueRules),
    ...more,
  },
});

test("a club that is not in the league: no fixture with it, and no team of it", async () => {
  const stranger = keyOf("a club elsewhere").id;
  await refused("root", meeting("new", "Birch", "Ash", { away: stranger }), "fixture-unknown-club");
  const draft = team("Ash", league.fixtures["Ash-Birch"]!, [["Ash-1", 4]]);
  await refused("root", { ...draft, body: { ...draft.body, club: stranger } } as Draft, "team-unknown-club");
});

test("a fixture there is already: the same meeting, in the same season", async () => {
  await refused("root", meeting("again", "Ash", "Birch"), "fixture-duplicate");
});

test("a player in two teams: of the other club in the fixture, and twice in one under two names", async () => {
  const at = league.fixtures["Ash-Birch"]!;
  const ash = [
    ["Ash-1", 4],
    ["Ash-2", 5],
    ["Ash-3", 6],
  ] as const;
  const saved = await saveInLeague(bookOf("Ash"), [team("Ash", at, ash)], TODAY);
  expect(saved.ok).toBe(true);
  await league.meet();
  await refused(
    "Birch",
    team("Birch", at, [
      ["Birch-1", 4],
      ["Ash-2", 5],
      ["Birch-3", 6],
    ]),
    "team-player-elsewhere",
  );
  await refused(
    "Birch",
    team("Birch", at, [
      ["Birch-1", 4],
      ["Birch-1", 4],
      ["Birch-3", 6],
    ]),
    "team-player-twice",
  );
});

test("a team in the wrong order by handicap, where the league's rules order by it", async () => {
  const rules = { ...leagueRules, team: { ...leagueRules.team, order: "by-handicap" } };
  const set = await saveInLeague(
    league.root,
    [{ kind: "league-rules-set", body: { rules, from: "2026-01-02" } }],
    TODAY,
  );
  expect(set.ok).toBe(true);
  await league.meet();
  const at = league.fixtures["Birch-Cedar"]!;
  await refused(
    "Birch",
    team("Birch", at, [
      ["Birch-1", 6],
      ["Birch-2", 4],
      ["Birch-3", 8],
    ]),
    "team-order",
  );
});

test("a link that would run in a circle, to oneself, of nobody, and between two clubs' players", async () => {
  const link = (one: string, two: string): Draft => ({
    kind: "player-linked",
    body: { player: player(one), to: player(two) },
  });
  const saved = await saveInLeague(bookOf("Ash"), [link("Ash-1", "Ash-1-elsewhere")], TODAY);
  expect(saved.ok).toBe(true);
  await refused("Ash", link("Ash-1-elsewhere", "Ash-1"), "link-circular");
  await refused("Ash", link("Ash-2", "Ash-2"), "link-self");
  await refused("Ash", link("nobody", "Ash-2"), "link-unknown");
  await refused("Ash", link("Ash-2", "Birch-2"), "link-two-homes");
});
