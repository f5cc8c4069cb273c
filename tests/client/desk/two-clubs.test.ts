/** The main job without a screen: two clubs, one match, no signal; real keys, sockets and relay. */

import type { Desk } from "@sward/client";
import type { EntryId, MatchKey, PlayerId } from "@sward/core";
import { createMemoryStorage } from "@sward/relay";
import { afterEach, beforeEach, expect, test } from "vitest";
import type { TestRelay } from "../../support/meeting.ts";
import { relayWith } from "../../support/meeting.ts";
import { stateText } from "../../support/state-text.ts";
import type { World } from "../../support/two-clubs.ts";
import { clubMatch, deskOf, forgetful, foundWorld, leagueMatch, saved, until } from "../../support/two-clubs.ts";

let relay: TestRelay;
let world: World;
let north: Desk;
let south: Desk;

beforeEach(async () => {
  relay = await relayWith();
  world = await foundWorld(relay.origin);
  north = await deskOf(world, world.north, relay.origin);
  south = await deskOf(world, world.south, relay.origin);
  await until("both desks know both books", () =>
    [north, south].every(
      (desk) =>
        desk.club.state().cards.size === 2 &&
        desk.leagues[0]?.state().players.size === 4 &&
        desk.leagues[0].state().stated.size === 4,
    ),
  );
});

afterEach(async () => {
  await north.close();
  await south.close();
  await relay.close();
});

const league = (desk: Desk) => desk.leagues[0] as Desk["club"];
const slot = (): MatchKey => `slot:${world.fixture}:1` as MatchKey;
const index = (desk: Desk, player: PlayerId) => desk.club.state().cards.get(player)?.index;

/** Both at the same entries, in both kinds of book, and nothing left to carry. */
async function inStep(): Promise<void> {
  await until("all stored", () =>
    [north, south].every((desk) => [...desk.books.values()].every((book) => book.waiting() === 0)),
  );
  await until("league books equal", () => league(north).digest() === league(south).digest());
  await north.settled();
  await south.settled();
}

test("MA1 both clubs enter the same match offline: it counts once, both cards agree, nothing is asked", async () => {
  const [[ours, other], [theirs]] = [world.north.players, world.south.players];
  north.goOffline();
  south.goOffline();
  await saved(league(north), leagueMatch(world, [7, 4]));
  await saved(league(south), leagueMatch(world, [7, 4]));
  await saved(north.club, clubMatch(world.north, "2026-08-16", [7, 2]));
  await saved(south.club, clubMatch(world.south, "2026-08-17", [3, 7]));
  // The card is right at once, with no signal.
  await north.settled();
  expect(index(north, ours)).toBe(1320);
  expect(north.club.waiting()).toBeGreaterThan(0);
  north.goOnline();
  south.goOnline();
  await until("confirmed at both", () =>
    [north, south].every((desk) => league(desk).state().matches.get(slot())?.status === "confirmed"),
  );
  await inStep();
  expect([index(north, ours), index(north, other), index(south, theirs)]).toEqual([1320, 1490, 1280]);
  for (const desk of [north, south]) {
    expect(desk.club.state().matches.get(slot())).toMatchObject({ status: "confirmed", differs: [] });
    expect([...desk.club.state().questions, ...league(desk).state().questions]).toEqual([]);
  }
  expect(stateText(league(north).state())).toBe(stateText(league(south).state()));
});

test("MA2 with different scores it is held at both, no index moved; one club corrects and it counts", async () => {
  const [ours, theirs] = [world.north.players[0], world.south.players[0]];
  north.goOffline();
  south.goOffline();
  const [report] = await saved(league(north), leagueMatch(world, [7, 4]));
  await saved(league(south), leagueMatch(world, [5, 7]));
  north.goOnline();
  south.goOnline();
  await until("held at both", () =>
    [north, south].every((desk) => desk.club.state().matches.get(slot())?.status === "held"),
  );
  await inStep();
  expect([index(north, ours), index(south, theirs)]).toEqual([1300, 1300]);
  for (const desk of [north, south]) {
    const held = desk.club.state().matches.get(slot());
    // Which side stands first depends on the players' ids, which report comes first on the entries'.
    const losing = held?.reports.map(({ facts }) => Math.min(...(facts.games[0]?.score ?? []))).toSorted();
    expect(losing).toEqual([4, 5]);
    expect(held?.differs).toEqual(["games"]);
    expect(desk.club.state().questions).toContainEqual({ about: "disputed-match", match: slot() });
  }
  await saved(league(north), leagueMatch(world, [5, 7], report === undefined ? {} : { replaces: report }));
  await until("counts at both", () =>
    [north, south].every((desk) => desk.club.state().matches.get(slot())?.status === "confirmed"),
  );
  await inStep();
  expect([index(north, ours), index(south, theirs)]).toEqual([1290, 1310]);
  for (const desk of [north, south]) expect(desk.club.state().questions).toEqual([]);
});

test("RP1 a game dated last week arrives late: every card after it is right", async () => {
  const [ours, other] = world.north.players;
  for (const [day, score] of [
    ["2026-08-14", [7, 1]],
    ["2026-08-16", [7, 2]],
    ["2026-08-18", [7, 3]],
  ] as const) {
    await saved(north.club, clubMatch(world.north, day, [...score]));
  }
  expect(index(north, ours)).toBe(1330);
  await saved(north.club, clubMatch(world.north, "2026-08-10", [0, 7]));
  const card = north.club.state().cards.get(ours);
  expect(card?.lines.map(({ date, index: at }) => [date, at])).toEqual([
    ["2026-04-01", 1300],
    ["2026-08-10", 1290],
    ["2026-08-14", 1300],
    ["2026-08-16", 1310],
    ["2026-08-18", 1320],
  ]);
  expect(index(north, other)).toBe(1480);
});

test("a relay killed and wiped in between: nothing is lost, and another one is filled from the vaults", async () => {
  await saved(north.club, clubMatch(world.north, "2026-08-14", [7, 1]));
  await until("stored", () => north.club.waiting() === 0);
  const port = relay.port;
  await relay.close();
  const [late] = await saved(north.club, clubMatch(world.north, "2026-08-15", [7, 2]));
  expect(north.club.custody(late as never)).toBe("here");
  relay = await relayWith({ port }, createMemoryStorage("another store"));
  await until("stored at the new relay", () => north.club.waiting() === 0, 60_000);
  expect(north.club.custody(late as never)).toBe("relay");
  // A device that has nothing joins and has it all.
  const third = await deskOf(world, world.north, relay.origin, { club: forgetful(), league: forgetful() });
  await until("joined", () => third.club.digest() === north.club.digest());
  expect(stateText(third.club.state())).toBe(stateText(north.club.state()));
  await third.close();
});

test("a copy that does not count is carried once, not for ever", async () => {
  await saved(league(south), leagueMatch(world, [7, 4]));
  await until("carried", () => north.club.state().matches.has(slot()));
  const [copy] = [...north.club.entries()].slice(-1);
  // The club takes its copy back: the league's entry still concerns its player, and stays out.
  await saved(north.club, { kind: "entry-withdrawn", body: { withdraws: copy?.id as EntryId, reason: "test" } });
  await north.settled();
  const entries = north.club.state().entries;
  for (let change = 0; change < 3; change += 1) {
    await saved(north.club, clubMatch(world.north, "2026-08-16", [7, change], change + 1));
    await north.settled();
  }
  expect(north.club.state().entries).toBe(entries + 3);
  expect(north.club.state().matches.has(slot())).toBe(false);
});
