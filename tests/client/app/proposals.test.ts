/** Proposals of a change of handicap: how they are made and answered, over real books in memory. */
import type { BookId } from "@sward/core";
import { expect, test } from "vitest";
import { furtherGroups } from "../../../packages/client/src/app/attention/further-found.ts";
import {
  answerDraft,
  answerFaults,
  isInForce,
  settingFor,
  suggestedReason,
} from "../../../packages/client/src/app/proposals/answer-form.ts";
import { groundsText, LONGEST, lineOf, readGrounds } from "../../../packages/client/src/app/proposals/evidence.ts";
import {
  proposalsAbout,
  proposalsHere,
  whereToPropose,
} from "../../../packages/client/src/app/proposals/proposals-here.ts";
import { gamesToOffer, proposeDraft, proposeFaults } from "../../../packages/client/src/app/proposals/propose-form.ts";
import type { Pen } from "../../support/cast.ts";
import { clubs, league, played, player } from "../../support/cast.ts";
import { deskOf, seen } from "./visitors/cast-desk.ts";

function scene() {
  const { north, south } = clubs("north", "south");
  const { league: book, captains } = league("border", { north, south });
  captains.south.joins("pip", "visitor", { book: south.id });
  south.member("pip", 6);
  north.member("ada", 7);
  north.recorder.joins("v1", "visitor", { club: "south" });
  north.recorder.reports(played("2026-05-01", "ada 7", "v1 6", "4-7"));
  north.recorder.reports(played("2026-05-02", "v1 6", "ada 7", "7-2 6-7 7-5"));
  const atNorth = (pen: Pen = north.handicapper) => deskOf(seen(north, pen), seen(book, captains.north));
  const atSouth = () => deskOf(seen(south, south.handicapper), seen(book, captains.south));
  const person = (desk: ReturnType<typeof atNorth>, name: string) => desk.club.state().players.get(player(name))!;
  return { north, south, book, captains, atNorth, atSouth, person };
}
const proposes = (by: Pen, name: string, reason = "too strong for 6") =>
  by.writes("change-proposed", { player: player(name), handicap: 4, on: "2026-05-10", reason });

test("a reason and the games it rests on go through one text, and any other text is a reason", () => {
  const games = [
    { day: "2026-05-01", score: "7-4" },
    { day: "2026-05-02", score: "7-2 6-7 7-5" },
  ];
  const text = groundsText({ reason: " won easily ", games });
  expect(text).toBe("won easily [2026-05-01 7-4; 2026-05-02 7-2 6-7 7-5]");
  expect(readGrounds(text)).toEqual({ reason: "won easily", games });
  expect(groundsText({ reason: "won", games: [] })).toBe("won");
  for (const plain of ["won easily", "won [easily]", "[2026-05-01 7-4]", "saw him [on 2026-05-01 7-4]", ""])
    expect(readGrounds(plain)).toEqual({ reason: plain, games: [] });
});

test("a game is found on the home club's card by its day and all its scores", () => {
  const { north } = scene();
  const { lines } = north.card(player("ada"));
  expect(lineOf(lines, { day: "2026-05-01", score: "4-7" })).toMatchObject({ index: 1340, game: 1 });
  expect(lineOf(lines, { day: "2026-05-02", score: "2-7 7-6 5-7" })).toMatchObject({ game: 3 });
  expect(lineOf(lines, { day: "2026-05-02", score: "2-7" })).toBeNull();
  expect(lineOf(lines, { day: "2026-05-03", score: "4-7" })).toBeNull();
});

test("where one may be proposed: in a league that knows the player, in the club's own book by who sets no handicaps", () => {
  const { north, book, captains, atNorth, person } = scene();
  const where = (name: string, pen?: Pen) => {
    const desk = atNorth(pen);
    return whereToPropose(desk, person(desk, name)).map((one) => [one.book, one.player, one.may]);
  };
  // A visitor by name alone is in no league.
  expect(where("v1")).toEqual([]);
  north.handicapper.links("v1", "pip");
  const desk = atNorth();
  expect(whereToPropose(desk, person(desk, "pip"))).toEqual([
    { book: book.id, name: "border", player: player("pip"), may: true },
  ]);
  expect(where("ada", north.recorder)).toEqual([[north.id, player("ada"), true]]);
  expect(where("ada", north.handicapper)).toEqual([]);
  expect(where("ada", north.reader)).toEqual([[north.id, player("ada"), false]]);
  expect(captains.north.id).not.toBe(captains.south.id);
});

test("the games offered as evidence are the person's, own score first, under every id and from every book, each once", () => {
  const { north, captains, atNorth } = scene();
  north.handicapper.links("v1", "pip");
  captains.south.reports(played("2026-05-03", "ada 7", "pip 6", "1-7"));
  captains.south.reports(played("2026-05-01", "ada 7", "pip 6", "4-7"));
  expect(gamesToOffer(atNorth(), player("v1"), 8).map(({ day, off, score }) => [day, off, score])).toEqual([
    ["2026-05-03", 6, "7-1"],
    ["2026-05-02", 6, "7-2 6-7 7-5"],
    ["2026-05-01", 6, "7-4"],
  ]);
  expect(gamesToOffer(atNorth(), player("v1"), 2)).toHaveLength(2);
  expect(gamesToOffer(atNorth(), player("ada"), 8).map(({ off, score }) => [off, score])).toEqual([
    [7, "1-7"],
    [7, "2-7 7-6 5-7"],
    [7, "4-7"],
  ]);
});

test("a proposal without a reason, without a day or too long is refused at its field", () => {
  const form = { handicap: 4, on: "2026-05-10", reason: "too strong", games: [] };
  expect(proposeFaults(form)).toBeNull();
  expect(proposeFaults({ ...form, reason: " " })?.reason).not.toBeNull();
  expect(proposeFaults({ ...form, on: "2026-02-30x" })?.on).not.toBeNull();
  const games = Array.from({ length: 3 }, (_, day) => ({ day: `2026-05-0${day + 1}`, score: "7-4" }));
  const room = LONGEST - groundsText({ reason: "", games }).length;
  expect(proposeFaults({ ...form, games, reason: "x".repeat(room) })).toBeNull();
  expect(proposeFaults({ ...form, games, reason: "x".repeat(room + 1) })?.reason).toContain(" 1 ");
  expect(proposeDraft(player("pip"), { ...form, games: games.slice(0, 1) }).body).toEqual({
    player: player("pip"),
    handicap: 4,
    on: "2026-05-10",
    reason: "too strong [2026-05-01 7-4]",
  });
});

test("both clubs see it; the home club finds it among the things to do until it is answered, and nobody else", () => {
  const { captains, atNorth, atSouth, person } = scene();
  const written = proposes(captains.north, "pip");
  const matters = (desk: ReturnType<typeof atNorth>) =>
    furtherGroups(desk, () => undefined, new Set()).flatMap(({ name, matters: all }) => all.map(() => name));
  const [atHome] = proposalsHere(atSouth());
  expect(atHome).toMatchObject({
    league: "border",
    member: player("pip"),
    ours: true,
    mayAnswer: true,
    home: "south",
    proposal: { entry: written.id, club: expect.any(String), answer: null },
  });
  expect(proposalsHere(atNorth())).toMatchObject([{ member: null, ours: false, mayAnswer: false, home: "south" }]);
  expect(matters(atSouth())).toEqual(["proposals"]);
  expect(matters(atNorth())).toEqual([]);
  expect(proposalsAbout(atSouth(), person(atSouth(), "pip"))).toHaveLength(1);
  expect(proposalsAbout(atNorth(), person(atNorth(), "ada"))).toEqual([]);

  captains.south.writes("change-answered", { proposal: written.id, accepts: false, reason: "two games only" });
  for (const desk of [atNorth(), atSouth()])
    expect(proposalsHere(desk)[0]?.proposal.answer).toMatchObject({ accepts: false, reason: "two games only" });
  expect(matters(atSouth())).toEqual([]);
});

test("a visitor linked to the league's player has that player's proposals on the page", () => {
  const { north, captains, atNorth, person } = scene();
  proposes(captains.south, "pip");
  expect(proposalsAbout(atNorth(), person(atNorth(), "v1"))).toEqual([]);
  north.handicapper.links("v1", "pip");
  expect(proposalsAbout(atNorth(), person(atNorth(), "pip"))).toMatchObject([{ member: null }]);
});

test("a recorder's proposal in the club's own book: the handicapper answers it, the recorder sees that it waits", () => {
  const { north, atNorth } = scene();
  proposes(north.recorder, "ada");
  expect(proposalsHere(atNorth(north.handicapper))).toMatchObject([
    { league: null, book: north.id as BookId, member: player("ada"), ours: true, mayAnswer: true, home: "north" },
  ]);
  expect(proposalsHere(atNorth(north.recorder))).toMatchObject([{ ours: true, mayAnswer: false }]);
});

test("accepting sets the handicap as the card's own dialog does, and answers; where the card says so already it only answers", () => {
  const { south, captains, atSouth } = scene();
  const written = proposes(captains.north, "pip", "too strong for 6 [2026-05-01 7-4]");
  const [one] = proposalsHere(atSouth());
  const card = south.card(player("pip"));
  expect(isInForce(card, one!, "2026-05-12")).toBe(false);
  const form = { from: "2026-05-12", reason: suggestedReason(one!) };
  expect(form.reason).toBe("proposed by another club: too strong for 6");
  expect(answerFaults(form)).toBeNull();
  expect(answerFaults({ from: "", reason: "" })).toEqual({ from: expect.any(String), reason: expect.any(String) });
  const setting = settingFor(card, one!, form);
  expect(setting).toEqual({
    kind: "handicap-set",
    body: { player: player("pip"), handicap: 4, from: "2026-05-12", basis: "discretionary", reason: form.reason },
  });
  south.handicapper.sets("pip", 4, "2026-05-12", { reason: form.reason });
  expect(isInForce(south.card(player("pip")), one!, "2026-05-12")).toBe(true);
  expect(answerDraft(one!, true, " seen ")).toEqual({
    kind: "change-answered",
    body: { proposal: written.id, accepts: true, reason: "seen" },
  });
});
