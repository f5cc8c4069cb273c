/** What the threat model says nobody can do is shown by a check that is there: each bullet with a "cannot" names file and title. */
import { existsSync, readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { repository } from "./support/sources.ts";

const read = (path: string): string => readFileSync(`${repository}/${path}`, "utf8");

interface Named {
  readonly path: string;
  readonly title: string;
}

/** Bullets with the lines that belong to them, as one line each. */
const bulletsOf = (text: string): string[] =>
  text
    .split(/\n(?=- |\n|#)/)
    .filter((part) => part.startsWith("- "))
    .map((part) => part.replaceAll(/\s+/g, " "));

const checksIn = (bullet: string): Named[] =>
  [...bullet.matchAll(/`(tests\/[\w./-]+\.test\.ts)` "([^"]+)"/g)].map(([, path = "", title = ""]) => ({
    path,
    title,
  }));

/** Whether a file has a test whose title begins so; titles may be put together from parts. */
function hasTest({ path, title }: Named): boolean {
  const file = `${repository}/${path}`;
  if (!existsSync(file)) return false;
  const source = readFileSync(file, "utf8");
  return ['"', "`"].some((quote) =>
    [...source.matchAll(/\btest(?:\.\w+)?\(\s*/g)].some(({ index, 0: call }) =>
      source.startsWith(`${quote}${title}`, (index ?? 0) + call.length),
    ),
  );
}

const bullets = bulletsOf(read("packages/client/THREATS.md"));
const claims = bullets.filter((bullet) => /\bcannot\b/.test(bullet));

test('every "cannot" names a check', () => {
  expect(claims.length).toBeGreaterThan(25);
  expect(claims.filter((bullet) => checksIn(bullet).length === 0)).toEqual([]);
});

test("every check that is named exists under that title", () => {
  const named = bullets.flatMap(checksIn);
  expect(named.length).toBeGreaterThan(40);
  expect(named.filter((check) => !hasTest(check))).toEqual([]);
});

test("every path in it is named with a title, and developers are led to it", () => {
  const text = read("packages/client/THREATS.md");
  const paths = [...text.matchAll(/`tests\/[\w./-]+`/g)].filter(([path]) => path !== "`tests/threats.test.ts`").length;
  expect(bullets.flatMap(checksIn).length).toBe(paths);
  expect(read("DEVELOPERS.md")).toContain("(packages/client/THREATS.md)");
});

test("titles are looked for where tests begin, and a claim without a check is found", () => {
  const text =
    '- He cannot fly. `tests/threats.test.ts` "every check that\n  is named"\n- It cannot swim.\n\n- He can walk.\n';
  const [flies, swims] = bulletsOf(text);
  expect(bulletsOf(text).length).toBe(3);
  expect(checksIn(flies!)).toEqual([{ path: "tests/threats.test.ts", title: "every check that is named" }]);
  expect(checksIn(swims!)).toEqual([]);
  expect(checksIn(flies!).map(hasTest)).toEqual([true]);
  expect(hasTest({ path: "tests/threats.test.ts", title: "He cannot fly" })).toBe(false);
  expect(hasTest({ path: "tests/nowhere.test.ts", title: "every" })).toBe(false);
});
