/**
 * Every sentence people read is in `words.ts`, `words/` or `messages*.ts`, so that the app can be read as a whole and one day translated.
 * The app's sources are read as the build reads them: text between tags, attributes that are read aloud, and phrases in quotes.
 */
import { readdirSync, readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { parseAst } from "vite";
import { expect, test } from "vitest";

const app = fileURLToPath(new URL("../../../packages/client/src/app/", import.meta.url));

/** Attributes whose text people read or hear. */
const READ = new Set([
  "aria-label",
  "aria-description",
  "alt",
  "label",
  "placeholder",
  "title",
  "hint",
  "lead",
  "error",
]);
/** Two words with a space between, or a word that joins names. */
const PHRASE = /\p{L}{2,} \p{L}{2,}|^ \p{L}+ $/u;
/** What people's spreadsheets say, in every spelling, is read and never shown; exported files have columns and values of their own. */
const FORMATS = new Set([
  "files/cells.ts",
  "files/fields.ts",
  "files/export.ts",
  "person/about-page.ts",
  "person/about-person.ts",
]);
/** Classes of an element, one of which is always there: two words with a space, and no sentence. */
const CLASSES = /^(button|card-line) [a-z-]+$/;

/** Attributes that are for the browser. */
const SILENT = /^(class|d|viewBox|rel|sizes|points|transform|autocomplete)$/;

interface Node {
  readonly type: string;
  readonly [part: string]: unknown;
}

const isNode = (value: unknown): value is Node => typeof (value as Node | null)?.type === "string";
const nameOf = (value: unknown): string => {
  const { name, namespace } = value as { readonly name?: unknown; readonly namespace?: unknown };
  if (namespace !== undefined) return `${nameOf(namespace)}:${nameOf(name)}`;
  return typeof name === "string" ? name : "";
};

function sentencesIn(path: string, text: string): readonly string[] {
  const found: string[] = [];
  const say = (words: string): void => {
    if (!CLASSES.test(words)) found.push(`${path}: ${words.trim()}`);
  };
  /** @param read the text stands where people read or hear it, whatever it is */
  const visit = (node: Node, read = false): void => {
    const { type } = node;
    // Types, what is imported, and what a program throws.
    if (
      /^TS.*(Type|Alias|Interface)|^(Import|Export(All|Named))Declaration$/.test(type) &&
      !isNode(node["declaration"])
    )
      return;
    if (type === "NewExpression" && nameOf(node["callee"]) === "Error") return;
    if (type === "JSXText" && /\p{L}{2,}/u.test(String(node["value"]))) say(String(node["value"]));
    if (type === "Literal" && typeof node["value"] === "string" && (read ? /\p{L}{2,}/u : PHRASE).test(node["value"]))
      say(node["value"]);
    if (type === "TemplateElement") {
      const { cooked } = node["value"] as { readonly cooked: string };
      if (PHRASE.test(cooked)) say(cooked);
    }
    if (type === "JSXAttribute") {
      const attribute = nameOf(node["name"]);
      const value = node["value"];
      if (isNode(value) && !SILENT.test(attribute)) visit(value, READ.has(attribute) && value.type === "Literal");
      return;
    }
    for (const part of Object.values(node)) {
      for (const one of Array.isArray(part) ? part : [part]) if (isNode(one)) visit(one);
    }
  };
  visit(parseAst(text, { lang: path.endsWith(".tsx") ? "tsx" : "ts" }) as unknown as Node);
  return found;
}

test("no screen has a sentence of its own", () => {
  const files = readdirSync(app, { recursive: true, encoding: "utf8" })
    .map((path) => path.replaceAll("\\", "/"))
    .filter((path) => /\.tsx?$/.test(path) && !/^words(\/|\.ts$)/.test(path) && !FORMATS.has(path));
  expect(files.length).toBeGreaterThan(150);
  expect(files.flatMap((path) => sentencesIn(path, readFileSync(`${app}${path}`, "utf8")))).toEqual([]);
});

test("what is looked for is found: text, what is read aloud, joined names, phrases", () => {
  const seen = (text: string): number => sentencesIn("x.tsx", text).length;
  expect(seen("const x = <p>Hello</p>;")).toBe(1);
  expect(seen('const x = <input aria-label="Name" class="one two" />;')).toBe(1);
  expect(seen('const x = names.join(" and ");')).toBe(1);
  expect(seen('const x = cond ? "Nothing here yet" : "";')).toBe(1);
  expect(seen('throw new Error("a program said this");')).toBe(0);
  expect(seen("const x = <p>{words.hello} · 3</p>;")).toBe(0);
});
