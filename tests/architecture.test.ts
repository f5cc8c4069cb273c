import { readdirSync } from "node:fs";
import { expect, test } from "vitest";
import {
  ALLOWED,
  defaultExports,
  emptyNames,
  foreignImports,
  impureCore,
  LONG_FILES,
  leftOutTests,
  longFiles,
  nodeInPages,
  unrankedFolders,
  upwardImports,
} from "./support/laws.ts";
import { readSources, repository, resolveRelative, specifiers, withoutComments } from "./support/sources.ts";
import { nodeFault } from "./tooling/check-node.mjs";

const CODE = [".ts", ".tsx", ".mjs"];
const packages = readSources(["packages"], CODE);
const everything = readSources(["packages", "tests", "demo-clubs"], CODE);
// This file holds the planted breaks, as text.
const notThis = everything.filter(({ path }) => path !== "tests/architecture.test.ts");
const planted = (path: string, text: string) => [{ path, text }];

const laws = [
  {
    law: "a package imports only what its list allows",
    breaks: foreignImports,
    on: packages,
    plants: [
      planted("packages/core/src/replay/a.ts", 'import { Doc } from "yjs";'),
      planted("packages/core/src/replay/a.ts", 'import * as z from "zod";'),
      planted("packages/core/src/replay/a.ts", 'import type { X } from "../../../client/src/index.ts";'),
      planted("packages/client/src/app/a.ts", 'export { x } from "@sward/relay";'),
      planted("packages/relay/src/a.ts", 'const x = await import("@sward/client");'),
      planted("packages/relay/src/a.ts", 'import "@sward/client/demo";'),
    ],
  },
  {
    law: "a folder of core imports no folder above it",
    breaks: upwardImports,
    on: packages,
    plants: [
      planted("packages/core/src/rules/a.ts", 'import { x } from "../replay/card.ts";'),
      planted("packages/core/src/people/a.ts", 'import type { x } from "../matches/identity.ts";'),
      planted("packages/core/src/league/a.ts", 'import { x } from "../index.ts";'),
      planted("packages/core/src/state.ts", 'import { x } from "./ledger/encode.ts";'),
    ],
  },
  {
    law: "every folder of core has its place in the order",
    breaks: unrankedFolders,
    on: packages,
    plants: [
      planted("packages/core/src/cellar/a.ts", "export {};"),
      planted("packages/core/src/loose.ts", "export {};"),
    ],
  },
  {
    law: "what a page loads needs no Node",
    breaks: nodeInPages,
    on: packages,
    plants: [
      planted("packages/client/src/index.ts", 'import { ClassicLevel } from "classic-level";'),
      [
        { path: "packages/client/src/app/main.tsx", text: 'import { x } from "../book/open.ts";' },
        { path: "packages/client/src/book/open.ts", text: 'import { readFile } from "node:fs/promises";' },
      ],
    ],
  },
  {
    law: "core uses no clock, chance, language, machine or fraction",
    breaks: impureCore,
    on: packages,
    plants: [
      "Date.now()",
      "new Date(0)",
      "Math.random()",
      "Math.pow(10, 2)",
      "a.localeCompare(b)",
      "0.5 * x",
      "console.log(1)",
    ].map((text) => planted("packages/core/src/order.ts", `const y = ${text};`)),
  },
  {
    law: "a file is one concept: 300 lines of source, 400 of test",
    breaks: longFiles,
    on: everything,
    plants: [
      planted("packages/core/src/order.ts", "x;\n".repeat(301)),
      planted("tests/core/a.test.ts", "x;\n".repeat(401)),
      planted("demo-clubs/start.ts", "x;\n".repeat(301)),
    ],
  },
  {
    law: "one name for one thing: no default exports",
    breaks: defaultExports,
    on: notThis,
    plants: [
      planted("packages/client/src/app/a.tsx", "export default function App() {}"),
      planted("packages/client/src/app/a.tsx", "const App = 1; export { App as default };"),
    ],
  },
  {
    law: "no test is left out",
    breaks: leftOutTests,
    on: notThis,
    plants: ["test.skip", "describe.only", "it.todo", "test.concurrent.skip", "xit"].map((call) =>
      planted("tests/core/a.test.ts", `${call}('a')`),
    ),
  },
  {
    law: "file names say what is inside",
    breaks: emptyNames,
    on: everything,
    plants: [planted("packages/core/src/utils.ts", ""), planted("packages/client/src/helpers/a.ts", "")],
  },
];

for (const { law, breaks, on, plants } of laws) {
  test(`the sources keep the law: ${law}`, () => {
    expect(breaks(on)).toEqual([]);
  });

  test(`a planted break is seen: ${law}`, () => {
    for (const plant of plants) expect(breaks(plant), plant[0]?.text.slice(0, 60)).toHaveLength(1);
  });
}

test("what the laws allow is not taken for a break", () => {
  const ledger = planted(
    "packages/core/src/rules/a.ts",
    '// new Date() in prose\nimport { x } from "../ledger/kinds.ts";',
  );
  for (const { breaks } of laws) expect(breaks(ledger)).toEqual([]);
});

test("the laws see all three packages, and their lists are of folders that exist", () => {
  for (const folder of Object.keys(ALLOWED)) {
    expect(packages.some(({ path }) => path.startsWith(folder))).toBe(true);
  }
  const paths = everything.map(({ path }) => path);
  expect(Object.keys(LONG_FILES).filter((path) => !paths.includes(path))).toEqual([]);
});

test("imports are read in every form, and not in comments", () => {
  const text = `/* from "no" */ import a from 'a'; import type { B } from "b";
    // from "no"
    import "c"; export * from "d"; const e = await import("e"); export {\n f\n} from "./f.ts"; // see https://x`;
  expect(specifiers(text)).toEqual(["a", "b", "c", "d", "e", "./f.ts"]);
  expect(resolveRelative("packages/core/src/ledger/a.ts", "../ids.ts")).toBe("packages/core/src/ids.ts");
  expect(withoutComments('const url = "https://example.org"; // gone')).toBe('const url = "https://example.org"; ');
});

test("nothing lies about at the top", () => {
  const allowed = ["README.md", "DEVELOPERS.md", "LICENSE", "package.json", "package-lock.json", "tsconfig.json"];
  const folders = ["packages", "tests", "demo-clubs", "node_modules"];
  const found = readdirSync(repository).filter((name) => !name.startsWith("."));
  expect(found.filter((name) => !allowed.includes(name) && !folders.includes(name))).toEqual([]);
});

test("a Node outside the range is told what is wrong and what to do, one inside it nothing", () => {
  const range = ">=20.19 <27";
  for (const version of ["v20.19.0", "v20.20.2", "v22.0.0", "v26.9.9"]) expect(nodeFault(version, range)).toBe(null);
  for (const version of ["v18.20.4", "v20.18.9", "v27.0.0", "v9.99.99"]) {
    expect(nodeFault(version, range)).toContain(`This is Node ${version}; Sward needs ${range}.`);
  }
  expect(() => nodeFault("v20.20.2", "^20 || ^22")).toThrow('cannot read "^20"');
});
