/**
 * Runs before `npm start` and `npm test`. `npm ci` refuses a wrong Node already (`engine-strict`), but Node is often changed
 * after an installation, and the first sign is then a syntax error deep inside a dependency. Plain JavaScript, no dependency:
 * it must run on the very Node it complains about.
 */
import { readFileSync, realpathSync } from "node:fs";
import { fileURLToPath } from "node:url";

/** `20.19` -> [20, 19, 0] */
const numbers = (text) => [0, 1, 2].map((place) => Number(text.replace(/^v/, "").split(".")[place] ?? 0));

const compare = (left, right) => left[0] - right[0] || left[1] - right[1] || left[2] - right[2];

const TESTS = {
  ">=": (order) => order >= 0,
  ">": (order) => order > 0,
  "<=": (order) => order <= 0,
  "<": (order) => order < 0,
};

/**
 * @param {string} version such as `v20.20.2`
 * @param {string} range comparisons that must all hold, such as `>=20.19 <27`
 * @returns {string | null} what is wrong, why it matters and what to do; null when the version will do
 */
export const nodeFault = (version, range) => {
  const fits = range
    .trim()
    .split(/\s+/)
    .every((part) => {
      const [, sign, bound] = /^(>=|<=|>|<)v?(\d+(?:\.\d+){0,2})$/.exec(part) ?? [];
      if (sign === undefined) throw new Error(`package.json engines.node: cannot read "${part}" in "${range}".`);
      return TESTS[sign](compare(numbers(version), numbers(bound)));
    });
  if (fits) return null;
  return [
    `This is Node ${version}; Sward needs ${range}.`,
    "Older ones lack parts of the language that it and its libraries use; newer ones have not been tried.",
    "Install a long-term-support release from https://nodejs.org (or `nvm install 22`), then run `npm ci` again.",
  ].join("\n");
};

if (process.argv[1] !== undefined && realpathSync(process.argv[1]) === fileURLToPath(import.meta.url)) {
  const { engines } = JSON.parse(readFileSync(new URL("../../package.json", import.meta.url), "utf8"));
  const fault = nodeFault(process.version, engines.node);
  if (fault !== null) {
    console.error(fault);
    process.exit(1);
  }
}
