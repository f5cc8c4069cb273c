import type { PlayerId } from "@sward/core";
import { expect, test } from "vitest";
import { createNameBook, nameKey, peopleInCell } from "../../../../packages/client/src/app/files/people.ts";

const person = (id: string, name: string, short: string) => ({ player: id.padEnd(22, "0") as PlayerId, name, short });
const ada = person("ada1", "Ada Wren", "Ada W.");
const people = [
  ada,
  person("bo", "Bo Linnet", "Bo L."),
  person("vl1", "Vera Lisle", "Vera L."),
  person("vl2", "Vera Lorne", "Vera L."),
  person("oh", "José O’Hara-Lund", "José"),
  person("and", "Sand & Rock", "S&R"),
];
const book = () => createNameBook(people);
const offers = (text: string): readonly string[] => {
  const found = book().find(text);
  return found.type === "known" ? [] : found.offers.map((id) => people.find(({ player }) => player === id)!.name);
};

test("a whole name, a short name and a turned one are the person, whatever accents, capitals and spaces", () => {
  for (const text of ["Ada Wren", "ada  wren", "ADA W", "Wren, Ada", "Ada W. (ada1)", "Ada Wren (ada10)"]) {
    expect([text, book().find(text)]).toEqual([text, { type: "known", player: ada.player }]);
  }
  expect(book().find("Jose Ohara Lund").type).toBe("known");
});

test("two of one name are offered, and the beginning of an id tells them apart", () => {
  expect(book().find("Vera L.")).toMatchObject({ type: "several" });
  expect(offers("Vera L")).toEqual(["Vera Lisle", "Vera Lorne"]);
  expect(book().find("Vera L. (vl20)")).toMatchObject({ type: "known", player: people[3]!.player });
  expect(book().find("Vera L. (zzzz)")).toMatchObject({ type: "unknown" });
});

test("a slip, an initial or a surname is offered and never taken; what is far from everybody is not offered", () => {
  for (const text of ["Ada Wern", "Ada Wrenn", "A. Wren", "Wren"]) {
    expect([text, book().find(text).type, offers(text)[0]]).toEqual([text, "unknown", "Ada Wren"]);
  }
  expect(offers("Zebedee Quill")).toEqual([]);
  expect(offers("B")).toEqual([]);
});

test("a pair in one cell is two, unless somebody is called so; a handicap may stand behind each", () => {
  const isKnown = (text: string): boolean => book().has(text);
  expect(peopleInCell("Ada Wren (7) & Bo Linnet (-2)", isKnown)).toEqual([
    { text: "Ada Wren", off: "7" },
    { text: "Bo Linnet", off: "-2" },
  ]);
  expect(peopleInCell("Ada W. / Bo L.", isKnown).map(({ text }) => text)).toEqual(["Ada W.", "Bo L."]);
  expect(peopleInCell("Ada and Bo", isKnown)).toHaveLength(2);
  expect(peopleInCell("Sand & Rock", isKnown)).toEqual([{ text: "Sand & Rock", off: "" }]);
  expect(peopleInCell("Sandy Andrews", isKnown)).toHaveLength(1);
});

test("each spelling is searched for once, however often it comes", () => {
  const names = book();
  for (let line = 0; line < 1000; line++) names.find(["Ada Wern", "Ada Wren", "Zebedee Quill"][line % 3]!);
  expect(names.searches()).toBe(2);
  expect(nameKey("???")).toBe("???");
});
