/**
 * Documents are run: their `ts` blocks, their commands, and every path they name. What cannot be run is marked `text`.
 *
 * - A `ts` block is a whole program that fails by itself (`node:assert`), so that it checks what the prose around it says.
 * - In a `console` block, `$ npx sward …` is a command; the lines after it, if any, are all that it prints.
 */
import { execFile } from "node:child_process";
import { existsSync, readFileSync } from "node:fs";
import { mkdir, writeFile } from "node:fs/promises";
import { promisify } from "node:util";
import { expect, test } from "vitest";
import type { Source } from "./support/sources.ts";
import { readSources, repository } from "./support/sources.ts";

const run = promisify(execFile);
const top = ["README.md", "DEVELOPERS.md"].map((path) => ({
  path,
  text: readFileSync(`${repository}/${path}`, "utf8"),
}));
const documents = [...top, ...readSources(["packages", "demo-clubs"], [".md"])];

interface Block {
  from: string;
  language: string;
  body: string;
}

const blocks = ({ path, text }: Source): Block[] =>
  [...text.matchAll(/^```(\w*)\n([\s\S]*?)^```$/gm)].map((match) => ({
    from: `${path}:${text.slice(0, match.index).split("\n").length}`,
    language: match[1] ?? "",
    body: match[2] ?? "",
  }));

interface Command {
  words: string[];
  output: string;
}

/** `$ npx sward rules` and the lines below it. Quotes group words as a shell would; nothing else of a shell is read. */
const commands = (body: string): Command[] =>
  body
    .split(/^\$ /m)
    .slice(1)
    .map((part) => {
      const [line = "", ...output] = part.split("\n");
      const words = [...line.matchAll(/"([^"]*)"|'([^']*)'|(\S+)/g)].map((word) => word[1] ?? word[2] ?? word[3] ?? "");
      return { words, output: output.join("\n").trim() };
    });

/**
 * Paths from the root of the repository, in backticks or as the target of a link. `<name>` and `*` stand for any name, and are
 * not looked for.
 */
const namedPaths = (text: string): string[] =>
  [...text.matchAll(/(?:`|\]\()((?:packages|tests|demo-clubs|\.ci)\/[^`\s)]*)[`)]/g)]
    .map((match) => (match[1] ?? "").replace(/[#:].*$/, ""))
    .filter((path) => !/[<*{]/.test(path));

const allBlocks = documents.flatMap(blocks);
const programs = allBlocks.filter(({ language }) => language === "ts");
const spoken = allBlocks.filter(({ language }) => language === "console");
const scripts: Record<string, string> = JSON.parse(readFileSync(`${repository}/package.json`, "utf8")).scripts;

for (const [place, { from, body }] of programs.entries()) {
  test(`the program at ${from} runs`, async () => {
    expect(body, "a program that asserts nothing cannot fail").toContain("assert");
    const folder = `${repository}/node_modules/.cache/sward-documents`;
    await mkdir(folder, { recursive: true });
    await writeFile(`${folder}/${place}.ts`, body);
    await run(process.execPath, ["--import", "tsx", `${folder}/${place}.ts`], { cwd: repository });
  });
}

for (const { from, body } of spoken) {
  for (const { words, output } of commands(body).filter(
    ({ words: [npx, sward] }) => npx === "npx" && sward === "sward",
  )) {
    test(`the command at ${from} does what the document shows: ${words.join(" ")}`, async () => {
      const { stdout } = await run(process.execPath, ["packages/client/bin/sward.mjs", ...words.slice(2)], {
        cwd: repository,
      });
      if (output !== "") expect(stdout.trim()).toBe(output);
      else expect(stdout.trim()).not.toBe("");
    });
  }
}

test("the README shows commands of its own command line", () => {
  const words = spoken.filter(({ from }) => from.startsWith("README.md")).flatMap(({ body }) => commands(body));
  expect(words.filter(({ words: [npx, sward] }) => npx === "npx" && sward === "sward").length).toBeGreaterThan(0);
});

test("every npm command in a document is one of npm's own, or a script that exists", () => {
  const own = ["ci", "install", "start", "test"];
  const unknown = documents.flatMap(({ path, text }) =>
    [...text.matchAll(/\bnpm (?:(run) )?([\w:-]+)/g)]
      .filter(([, ran, name = ""]) => (ran === undefined ? !own.includes(name) : !(name in scripts)))
      .map(([command]) => `${path}: ${command}`),
  );
  expect(unknown).toEqual([]);
  expect(scripts).toMatchObject({ start: expect.any(String), test: expect.any(String) });
});

/** Made by building the app, so not there in a fresh copy: where it goes is vite's default, which no file of ours states. */
const built: readonly string[] = ["packages/client/dist"];

test("every path a document names exists", () => {
  const missing = documents.flatMap(({ path, text }) =>
    namedPaths(text)
      .filter((named) => !existsSync(`${repository}/${named}`) && !built.includes(named))
      .map((named) => `${path} names ${named}`),
  );
  expect(missing).toEqual([]);
});

test("blocks, commands and paths are read as documents write them", () => {
  const text = "a\n```ts\nassert(1);\n```\n```console\n$ npx sward rules --json\n[]\n$ npx sward card 'a b'\n```\n";
  const read = blocks({ path: "x.md", text });
  expect(read.map(({ from, language }) => [from, language])).toEqual([
    ["x.md:2", "ts"],
    ["x.md:5", "console"],
  ]);
  expect(commands(read[1]?.body ?? "")).toEqual([
    { words: ["npx", "sward", "rules", "--json"], output: "[]" },
    { words: ["npx", "sward", "card", "a b"], output: "" },
  ]);
  expect(
    namedPaths("`packages/core/SPEC.md#st`, `packages/<name>/src`, `tests/*.ts`, `node:fs`, [a](tests/a.md)"),
  ).toEqual(["packages/core/SPEC.md", "tests/a.md"]);
});
