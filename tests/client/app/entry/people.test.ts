import { expect, test } from "vitest";
import { exactPerson, findPeople, knownPeople } from "../../../../packages/client/src/app/entry/people.ts";
import { clubInMemory } from "./club-in-memory.ts";

const club = await clubInMemory([
  { name: "Bea Fairlamb", handicap: 7 },
  { name: "Carl Underhill", handicap: 4 },
  { name: "Béatrice O'Hara-Lund", handicap: 9 },
  { name: "Ben Fairlamb", handicap: 12 },
  { name: "Cora Ashdown", handicap: 3, visitor: "Winterbeck" },
]);
const people = knownPeople(club.desk);
const names = (typed: string, taken: string[] = []) =>
  findPeople(people, typed, new Set(taken.map((first) => club.id(first))), 5).map(({ name }) => name);

test("a few letters find whoever has a name that begins so, accents or not, members before visitors", () => {
  expect(names("bea")).toEqual(["Bea Fairlamb", "Béatrice O'Hara-Lund"]);
  expect(names("fair")).toEqual(["Bea Fairlamb", "Ben Fairlamb"]);
  expect(names("ohara")).toEqual(["Béatrice O'Hara-Lund"]);
  expect(names("lund be")).toEqual(["Béatrice O'Hara-Lund"]);
  expect(names("c")).toEqual(["Carl Underhill", "Cora Ashdown"]);
  expect(names("air")).toEqual([]);
});

test("the short name on the noticeboard comes first, and nobody is offered twice in one match", () => {
  expect(names("Ben F")[0]).toBe("Ben Fairlamb");
  expect(names("", ["Bea", "Carl"])).toEqual(["Béatrice O'Hara-Lund", "Ben Fairlamb", "Cora Ashdown"]);
});

test("a visitor comes with the home club; one typed in just now is offered too", () => {
  expect(people.find(({ name }) => name === "Cora Ashdown")).toMatchObject({ standing: "visitor", club: "Winterbeck" });
  const fresh = {
    player: club.id("Cora").replace(/^./, (first) => (first === "-" ? "_" : "-")) as never,
    name: "Zed Marlow",
    club: "Ferncombe",
  };
  const found = findPeople(knownPeople(club.desk, [fresh]), "zed", new Set(), 5);
  expect(found).toMatchObject([{ name: "Zed Marlow", standing: "new", club: "Ferncombe" }]);
});

test("a whole name typed out means that person, and half a name means nobody yet", () => {
  expect(exactPerson(people, "bea fairlamb")?.player).toBe(club.id("Bea"));
  expect(exactPerson(people, "carl u")?.player).toBe(club.id("Carl"));
  expect(exactPerson(people, "fairlamb")).toBeUndefined();
});
