/** What is meant by a few letters, what of the record can be found, and what keys mean. */
import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import type { PlayerId } from "@sward/core";
import { expect, test } from "vitest";
import { createKeyReader } from "../../../../packages/client/src/app/keys.ts";
import type { Thing } from "../../../../packages/client/src/app/search/find.ts";
import { findThings } from "../../../../packages/client/src/app/search/find.ts";
import { goKeys } from "../../../../packages/client/src/app/search/go-keys.ts";
import { listedScreens, screenThings } from "../../../../packages/client/src/app/search/screens.ts";
import { thingsOf } from "../../../../packages/client/src/app/search/things.ts";
import { clubs, event, fixture, league, played, player } from "../../../support/cast.ts";

const thing = (kind: Thing["kind"], title: string, more: Partial<Thing> = {}): Thing => ({
  key: `${kind} ${title}`,
  kind,
  title,
  detail: "",
  also: "",
  goes: { to: "place", place: title },
  ...more,
});

const things = [
  thing("event", "Linden Cup", { also: "calendar event 2026" }),
  thing("member", "Bo Linnet", { also: "Bo L." }),
  thing("member", "Lina Ó Súil"),
  thing("visitor", "Ann Lindqvist", { detail: "Harrow Green" }),
  thing("left", "Lin Marsh"),
  thing("screen", "Members", { also: "handicaps list" }),
  thing("command", "Print this page"),
];
const titles = (typed: string, most = 12) => findThings(things, typed, most).map(({ title }) => title);

test("every word typed begins a word of the thing; what begins so comes first, then people before events", () => {
  expect(titles("lin")).toEqual(["Lina Ó Súil", "Linden Cup", "Lin Marsh", "Bo Linnet", "Ann Lindqvist"]);
  expect(titles("linnet bo")).toEqual(["Bo Linnet"]);
  expect(titles("innet")).toEqual([]);
  expect(titles("O SUIL")).toEqual(["Lina Ó Súil"]);
  expect(titles("harrow")).toEqual(["Ann Lindqvist"]);
  expect(titles("hand")).toEqual(["Members"]);
  expect(titles("lin", 2)).toEqual(["Lina Ó Súil", "Linden Cup"]);
});

test("with nothing typed, where one can go and what can be done", () => {
  expect(titles("  ")).toEqual(["Members", "Print this page"]);
  // All of it, however little there is room for.
  expect(titles("", 1)).toEqual(["Members", "Print this page"]);
});

test("people, events and fixtures of the record, each with its address and what tells it from others", () => {
  const { north, south } = clubs("north", "south");
  north.member("ada", 7);
  north.handicapper.joins("moss");
  north.handicapper.joins("vic", "visitor", { club: "Harrow Green" });
  north.member("old", 9);
  north.handicapper.writes("player-left", { player: player("old"), on: "2026-05-01" });
  north.handicapper.opens("Harvest Cup", "2026-05-02", "2026-05-03");
  north.recorder.reports(played("2026-05-02", "ada 7", "vic 5", "7-4", { event: event("Harvest Cup") }));
  const { league: rivers, roots } = league("rivers", { north, south });
  rivers.root.writes("fixture-set", {
    fixture: fixture("first"),
    date: "2026-06-06",
    home: roots.north.id,
    away: roots.south.id,
    slots: [{ discipline: "singles", play: "handicap", format: 13 }],
  });
  const names = new Map(["ada", "moss", "vic", "old"].map((name) => [player(name), name]));
  const named = (id: PlayerId) => ({ name: names.get(id) ?? "?", short: "" });
  const found = thingsOf({ club: north, leagues: [rivers] }, named, "2026-06-30");
  const said = (title: string) => {
    const { kind, detail, goes } = found.find((each) => each.title === title)!;
    return [kind, detail, goes.to === "place" ? goes.place : ""];
  };
  expect(said("ada")).toEqual(["member", "handicap 7", `members/${player("ada")}`]);
  expect(said("moss")).toEqual(["member", "no handicap yet", `members/${player("moss")}`]);
  expect(said("vic")).toEqual(["visitor", "Harrow Green", `members/${player("vic")}`]);
  expect(said("old")[0]).toBe("left");
  expect(said("Harvest Cup")).toEqual(["event", expect.stringContaining("–"), `events/${event("Harvest Cup")}`]);
  const match = found.find(({ kind }) => kind === "fixture")!;
  expect(match.goes).toEqual({ to: "place", place: `league/${rivers.id}/${fixture("first")}` });
  expect(findThings(found, "league", 5)).toEqual([match]);
});

test("every letter after g goes to a screen that is listed, and the map of keys lists them all", () => {
  const listed = listedScreens.flatMap(({ letter, place }) => (letter === undefined ? [] : [[letter, place]]));
  expect(Object.fromEntries(listed)).toEqual(goKeys);
  const places = screenThings().map(({ key }) => key);
  expect(new Set(places).size).toBe(places.length);
});

test("every screen whose address needs nothing more can be found", () => {
  const routes = readFileSync(
    fileURLToPath(new URL("../../../../packages/client/src/app/routes.ts", import.meta.url)),
    "utf8",
  );
  const addresses = [...routes.matchAll(/\["\/([^":]*)",/g)].map(([, address]) => address);
  expect(addresses.length).toBeGreaterThan(8);
  // The summary is reached from its round, and is nothing without one.
  const listed = new Set<string | undefined>(["check/summary", ...listedScreens.map(({ place }) => place)]);
  expect(addresses.filter((address) => !listed.has(address))).toEqual([]);
});

test("a key, and two after each other within a second and a half; the map that came last is asked first", () => {
  const did: string[] = [];
  const act = (what: string) => () => void did.push(what);
  const everywhere = { "/": act("find"), "g m": act("members"), n: act("never") };
  const screen = { n: act("next"), m: act("mark") };
  const { press } = createKeyReader();
  const type = (key: string, now: number): unknown => {
    const answer = press(key, now, [everywhere, screen]);
    return typeof answer === "function" ? answer() : answer;
  };
  type("/", 0);
  type("n", 1);
  expect(type("g", 2)).toBe("begun");
  type("m", 1000);
  expect(type("g", 2000)).toBe("begun");
  // Not in the map after g, so nothing at all: a slip must not sign a card.
  expect(type("n", 2100)).toBeNull();
  expect(type("g", 3000)).toBe("begun");
  type("m", 4501);
  // Twice by a slip: the second one begins.
  type("g", 5000);
  expect(type("g", 5100)).toBe("begun");
  type("m", 5200);
  expect(type("q", 6000)).toBeNull();
  expect(did).toEqual(["find", "next", "members", "mark", "members"]);
});
