/** The guide fits together: its pictures are those the walks make, what it quotes is in them, and its pages lead to each other. */
import { existsSync, readdirSync, readFileSync, statSync } from "node:fs";
import { join } from "node:path";
import { expect, test } from "vitest";

const folder = join(import.meta.dirname, "../packages/client/guide");
const pictures = readdirSync(join(folder, "pictures"));
const pages = readdirSync(folder).filter((name) => name.endsWith(".md"));
const read = (name: string): string => readFileSync(join(folder, name), "utf8");
const ending = (end: string): string[] =>
  pictures.filter((name) => name.endsWith(end)).map((name) => name.slice(0, -end.length));

test("every picture is in a page, has its words beside it, and is made by a walk", () => {
  const shown = new Set(
    pages.flatMap((page) => [...read(page).matchAll(/\]\(pictures\/([^)]+)\.png\)/g)].map(([, name]) => name)),
  );
  const tests = join(import.meta.dirname, "browser");
  const walks = readdirSync(tests).filter((name) => /^guide-.*\.test\.ts$/.test(name));
  const made = new Set(
    walks.flatMap((walk) =>
      [...readFileSync(join(tests, walk), "utf8").matchAll(/picture\(\w+, "([^"]+)"/g)].map(([, name]) => name),
    ),
  );
  expect(made.size).toBeGreaterThan(20);
  expect([...shown].sort()).toEqual(ending(".png").sort());
  expect(ending(".txt").sort()).toEqual(ending(".png").sort());
  expect([...made].sort()).toEqual(ending(".png").sort());
  const bytes = pictures.reduce((sum, name) => sum + statSync(join(folder, "pictures", name)).size, 0);
  expect(bytes).toBeLessThan(3_000_000);
});

test("what a page quotes in bold stands on a screen of the walks, word for word", () => {
  const words = ending(".txt").map((name) => readFileSync(join(folder, "pictures", `${name}.txt`), "utf8"));
  const seen = words.join("\n").replaceAll(/\s+/g, " ");
  const missing = pages.flatMap((page) =>
    [...read(page).matchAll(/\*\*([^*]+)\*\*/g)]
      .map(([, quote = ""]) => quote.replaceAll(/\s+/g, " "))
      .filter((quote) => quote !== "like this" && !seen.includes(quote))
      .map((quote) => `${page}: ${quote}`),
  );
  expect(missing).toEqual([]);
});

test("the first page names all others, and no link leads nowhere", () => {
  const contents = read("README.md");
  for (const page of pages) if (page !== "README.md") expect(contents).toContain(`](${page})`);
  for (const page of pages)
    for (const [, path = ""] of read(page).matchAll(/\]\(([^)#]+)\)/g))
      expect(existsSync(join(folder, path)), `${page}: ${path}`).toBe(true);
  expect(readFileSync(join(folder, "../../../README.md"), "utf8")).toContain("](packages/client/guide/README.md)");
});
