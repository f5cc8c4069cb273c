import { everyLinkCandidate, linkCandidates } from "@sward/core";
import { expect, test } from "vitest";
import { clubs, played, player } from "../../support/cast.ts";

/** South's visitor Vera is north's Ada, who was there on two days; Wilma was there on one of them. */
function scene() {
  const { north, south } = clubs("north", "south");
  north.member("ada", 7);
  south.member("ben", 9);
  for (const name of ["vera", "wilma", "xenia"]) south.recorder.joins(name, "visitor", { club: "north" });
  north.recorder.reports(played("2026-05-01", "ada 7", "b 9", "7-4"));
  north.recorder.reports(played("2026-05-02", "b 9", "ada 7", "2-7 7-6"));
  south.recorder.reports(played("2026-05-01", "vera 7", "ben 9", "7-4"));
  south.recorder.reports(played("2026-05-02", "vera 7", "ben 9", "7-2 6-7"));
  south.recorder.reports(played("2026-05-02", "wilma 7", "ben 9", "7-2 6-7", { n: 2 }));
  south.recorder.reports(played("2026-05-03", "xenia 7", "ben 9", "7-2 6-7"));
  return { north, south, offered: () => linkCandidates(south.state(), north.state(), player("ada")) };
}

test("PE11 visitors are offered whose games look like those of the record's player, most of them first", () => {
  const { offered } = scene();
  expect(offered()).toEqual([
    { player: player("vera"), to: player("ada"), named: false, matches: 2 },
    { player: player("wilma"), to: player("ada"), named: false, matches: 1 },
  ]);
});

test("PE11 a visitor whom the record names goes first, and one who is that player already is not offered", () => {
  const { north, south, offered } = scene();
  north.handicapper.joins("xenia");
  north.handicapper.links("xenia", "ada");
  expect(offered()[0]).toEqual({ player: player("xenia"), to: player("ada"), named: true, matches: 0 });
  south.handicapper.links("vera", "ada");
  expect(offered().map(({ player: one }) => one)).not.toContain(player("vera"));
});

test("PE11 a member is not offered, nor a visitor of another home club, nor one who played against him here", () => {
  const { north, south } = clubs("north", "south");
  const { west } = clubs("west");
  north.member("ada", 7);
  north.recorder.reports(played("2026-05-01", "ada 7", "b 9", "7-4"));
  south.member("mona", 7);
  south.recorder.joins("ada", "visitor", { book: north.id });
  south.recorder.joins("vera", "visitor", { book: west.id });
  south.recorder.joins("wilma", "visitor");
  for (const name of ["mona", "vera", "wilma"])
    south.recorder.reports(played("2026-05-01", `${name} 7`, "ben 9", "7-4"));
  const offered = () => linkCandidates(south.state(), north.state(), player("ada")).map((one) => one.player);
  expect(offered()).toEqual([player("wilma")]);
  south.recorder.reports(played("2026-05-09", "wilma 7", "ada 9", "7-4"));
  expect(offered()).toEqual([]);
});

test("PE11 of everybody in a record at once: what each would be offered for, and nobody for himself", () => {
  const { north, south, offered } = scene();
  north.member("olga", 5);
  north.recorder.reports(played("2026-05-03", "olga 5", "b 9", "7-2 6-7"));
  const all = everyLinkCandidate(south.state(), north.state());
  expect(all.filter(({ to }) => to === player("ada"))).toEqual(offered());
  expect(all.filter(({ to }) => to === player("olga"))).toEqual([
    { player: player("xenia"), to: player("olga"), named: false, matches: 1 },
  ]);
  const wanted = (player: string, to: string) => player !== vera && to === olga;
  const [vera, olga] = [player("vera"), player("olga")];
  expect(everyLinkCandidate(south.state(), north.state(), wanted)).toEqual(all.filter(({ to }) => to === olga));
  expect(everyLinkCandidate(south.state(), north.state(), (one) => one === vera)).toEqual(
    all.filter(({ player: one }) => one === vera),
  );
  expect(everyLinkCandidate(south.state(), south.state()).some(({ player: one, to }) => one === to)).toBe(false);
});
