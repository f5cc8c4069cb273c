/**
 * Behaviour is a numbered list, and a number without a test is a wish. An id counts as tested when a test's title names it; that
 * the test checks what the rule says is for its reader to judge.
 */
import { expect, test } from "vitest";
import { readSources, withoutComments } from "./support/sources.ts";

const ID = /\b[A-Z]{2}\d+\b/g;

/** Ids at the start of list items: `- **ST4** Only one partner may round up.` */
const definedIds = (text: string): string[] =>
  [...text.matchAll(/^\s*[-*] \*\*([A-Z]{2}\d+)\*\*/gm)].map((match) => match[1] ?? "");

/** Titles of tests, as written: those of `test("…")` and of `test.each(…)("…")` alike, in any quotes. */
const titles = (text: string): string[] =>
  [
    ...withoutComments(text).matchAll(
      /(?:\b(?:test|it|describe)(?:\.\w+)*\s*\(|\)\s*\()\s*("(?:\\.|[^"\\\n])*"|'(?:\\.|[^'\\\n])*'|`(?:\\.|[^`\\])*`)/g,
    ),
  ].map((match) => match[1] ?? "");

const named = (texts: readonly string[]): Set<string> => new Set(texts.flatMap((text) => text.match(ID) ?? []));

const specs = readSources(["packages"], ["SPEC.md", "PROTOCOL.md"]);
const defined = specs.flatMap(({ text }) => definedIds(text));
const tested = named(
  readSources(["tests"], [".test.ts", ".test.tsx", "-contract.ts"])
    .filter(({ path }) => path !== "tests/spec.test.ts")
    .flatMap(({ text }) => titles(text)),
);

test("the specification has rules, and gives each its own id", () => {
  expect(specs.map(({ path }) => path)).toContain("packages/core/SPEC.md");
  expect(defined.length).toBeGreaterThan(0);
  expect(defined.filter((id, place) => defined.indexOf(id) !== place)).toEqual([]);
});

test("every rule of the specification is named by a test", () => {
  expect(defined.filter((id) => !tested.has(id))).toEqual([]);
});

test("every rule a test names is in the specification", () => {
  expect([...tested].filter((id) => !defined.includes(id)).sort()).toEqual([]);
});

test("every rule that the sources and documents refer to is in the specification", () => {
  const prefixes = new Set(defined.map((id) => id.slice(0, 2)));
  const sources = readSources(["packages", "demo-clubs"], [".ts", ".tsx", ".md"]);
  const unknown = sources.flatMap(({ path, text }) =>
    [...named([text])]
      .filter((id) => prefixes.has(id.slice(0, 2)) && !defined.includes(id))
      .map((id) => `${path} refers to ${id}`),
  );
  expect(unknown).toEqual([]);
});

test("ids and titles are read in every form", () => {
  expect(definedIds("- **ST1** a\n  - **ST2** b\nsee **ST3**\n* **ST4** c")).toEqual(["ST1", "ST2", "ST4"]);
  const text = [
    'test("QQ1 QQ2 x", f)',
    "it(`QQ3 x`, f)",
    "test.each([1])('QQ4', f)",
    "describe.concurrent('QQ5', f)",
    '// test("QQ6")',
  ];
  expect([...named(titles(text.join(";\n")))]).toEqual(["QQ1", "QQ2", "QQ3", "QQ4", "QQ5"]);
});
