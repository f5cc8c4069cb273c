/** Matters found beside those of the first view: visitors who may be somebody, and people written down with two homes. */
import { expect, test } from "vitest";
import type { FurtherGroup } from "../../../../packages/client/src/app/attention/further.ts";
import { furtherGroups, pairOf } from "../../../../packages/client/src/app/attention/further-found.ts";
import { countPressing, groupMatters } from "../../../../packages/client/src/app/attention/groups.ts";
import { keepApart, readApart } from "../../../../packages/client/src/app/attention/kept-apart.ts";
import { clubs, played, player } from "../../../support/cast.ts";
import { deskOf, nameIn, seen } from "../visitors/cast-desk.ts";

function scene(names: Readonly<Record<string, string>>) {
  const { north } = clubs("north");
  const desk = deskOf(seen(north, north.handicapper, names));
  const find = (apart: ReadonlySet<string> = new Set()) => furtherGroups(desk, nameIn(desk), apart);
  const keys = (groups: readonly FurtherGroup[]) => groups.flatMap(({ matters }) => matters.map(({ key }) => key));
  return { north, desk, find, keys };
}
const pair = (one: string, other: string) => pairOf({ player: player(one), to: player(other) });

test("one matter for each visitor who may be somebody, one for two visitors who may be one, and none for a name that is only like", () => {
  const { north, find, keys } = scene({
    ada: "Ada Wren",
    a1: "Ada Wren",
    v1: "Pip Rowan",
    v2: "Pip Rowan",
    v3: "A Wren",
  });
  expect(find()).toEqual([]);
  north.member("ada", 7);
  north.recorder.joins("a1", "visitor");
  for (const name of ["v1", "v2"]) north.recorder.joins(name, "visitor", { club: "South" });
  north.recorder.joins("v3", "visitor");
  expect(new Set(keys(find()))).toEqual(new Set([`may-be ${pair("a1", "ada")}`, `may-be ${pair("v1", "v2")}`]));
  north.handicapper.links("a1", "ada");
  expect(keys(find())).toEqual([`may-be ${pair("v1", "v2")}`]);
  // Seen on one lawn together.
  north.recorder.reports(played("2026-05-01", "v1 6", "v2 9", "7-4"));
  expect(keys(find())).toEqual([]);
});

test("two homes are a matter until one is taken back", () => {
  const { north, find, keys } = scene({});
  north.recorder.joins("v1", "visitor", { club: "South" });
  const wrong = north.recorder.joins("v1", "visitor", { club: "Harrow Green" });
  expect(keys(find())).toEqual([`two-homes ${player("v1")}`]);
  north.handicapper.withdraws(wrong);
  expect(find()).toEqual([]);
});

test("who was said to be two people is not asked about again at this device, in this book; nothing readable is nothing said", () => {
  const { north, find } = scene({ ada: "Ada Wren", a1: "Ada Wren" });
  north.member("ada", 7);
  north.recorder.joins("a1", "visitor");
  const kept = new Map<string, string>();
  const storage = {
    getItem: (key: string) => kept.get(key) ?? null,
    setItem: (key: string, value: string) => void kept.set(key, value),
  };
  const here = { id: north.id, device: north.handicapper.id };
  expect(find(readApart(storage, here))).toHaveLength(1);
  keepApart(storage, here, pair("x", "y"));
  keepApart(storage, here, pair("ada", "a1"));
  expect(find(readApart(storage, here))).toEqual([]);
  expect(find(readApart(storage, { ...here, device: north.recorder.id }))).toHaveLength(1);
  for (const spoilt of ["{", "7", '[["a"]]']) {
    storage.setItem([...kept.keys()][0]!, spoilt);
    expect(readApart(storage, here).size).toBe(0);
  }
});

test("they stand among the groups by how pressing they are, and are counted", () => {
  const { north, desk, find } = scene({ ada: "Ada Wren", a1: "Ada Wren" });
  north.member("ada", 7, { index: 1390 });
  north.member("ben", 9);
  north.handicapper.joins("cat");
  north.recorder.joins("a1", "visitor");
  north.recorder.reports(played("2026-05-02", "ada 7", "ben 9", "7-4"));
  const groups = groupMatters(desk, "2026-06-30", [], find());
  expect(groups.map(({ name }) => name)).toEqual(["changes", "starts", "people"]);
  expect(countPressing(groups)).toBe(countPressing(groupMatters(desk, "2026-06-30")) + 1);
});
