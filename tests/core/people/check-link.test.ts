import { checkLink } from "@sward/core";
import { expect, test } from "vitest";
import { clubs, keyOfMatch, played, player } from "../../support/cast.ts";

const link = (from: string, to: string) => ({ player: player(from), to: player(to) });

test("PE9 a visitor may be linked to a member, and to an id this book does not know", () => {
  const { north } = clubs("north");
  north.member("ada", 7);
  north.recorder.joins("vera", "visitor");
  expect(checkLink(link("vera", "ada"), north.state())).toBeNull();
  expect(checkLink(link("vera", "vera at home"), north.state())).toBeNull();
});

test("PE9 refused: to oneself, of somebody nobody knows", () => {
  const { north } = clubs("north");
  const ada = north.member("ada", 7);
  expect(checkLink(link("ada", "ada"), north.state())).toEqual({ type: "link-self", player: ada });
  expect(checkLink(link("nobody", "ada"), north.state())).toEqual({ type: "link-unknown", player: player("nobody") });
});

test("PE9 refused: a circle, however long", () => {
  const { north } = clubs("north");
  for (const name of ["ada", "ben", "cat"]) north.member(name, 7);
  north.handicapper.links("ada", "ben");
  const second = north.handicapper.links("ben", "cat");
  expect(checkLink(link("cat", "ada"), north.state())).toEqual({
    type: "link-circular",
    player: player("cat"),
    to: player("ada"),
  });
  expect(checkLink(link("ada", "ben"), north.state())).toMatchObject({ type: "link-circular" });
  north.handicapper.withdraws(second);
  expect(checkLink(link("cat", "ada"), north.state())).toBeNull();
});

test("PE9 refused: two home clubs, also under another id", () => {
  const { north, south } = clubs("north", "south");
  north.member("ada", 7);
  north.recorder.joins("vera", "visitor", { book: south.id });
  const expected = { type: "link-two-homes", homes: [south.id, north.id] };
  expect(checkLink(link("vera", "ada"), north.state())).toEqual(expected);
  north.recorder.joins("ada too", "visitor");
  north.handicapper.links("ada too", "ada");
  expect(checkLink(link("vera", "ada too"), north.state())).toEqual(expected);
});

test("PE9 refused: two who were in one match, on one side or against each other", () => {
  const { north } = clubs("north");
  for (const name of ["ada", "ben", "cat", "dan"]) north.member(name, 7);
  const match = played("2026-05-01", "ada 7 + ben 7", "cat 7 + dan 7", "7-4");
  const report = north.recorder.reports(match);
  for (const other of ["ben", "cat"]) {
    expect(checkLink(link("ada", other), north.state())).toEqual({ type: "link-same-match", match: keyOfMatch(match) });
  }
  north.recorder.withdraws(report);
  expect(checkLink(link("ada", "ben"), north.state())).toBeNull();
});
