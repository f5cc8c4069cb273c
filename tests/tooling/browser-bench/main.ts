/**
 * The browser's half of `npm run bench`, in a process of its own, since what starts a browser and a relay is not the client's. Tells its
 * figures as they come, and writes them to a file as an `InBrowser` when it is asked to.
 *
 *     node --import tsx tests/tooling/browser-bench/main.ts [--quick] [--full] [--only stages|seen] [--entries 30000] [--runs 3] [--out file]
 */
import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { measureInBrowser } from "./measure.ts";

const given = (name: string): string | undefined => {
  const at = process.argv.indexOf(`--${name}`);
  return at === -1 ? undefined : process.argv[at + 1];
};
const [quick, full] = [process.argv.includes("--quick"), process.argv.includes("--full")];
const only = given("only");
const sizes = quick ? [1_000, 10_000] : full ? [1_000, 10_000, 30_000, 100_000] : [1_000, 10_000, 30_000];
const folder = await mkdtemp(join(tmpdir(), "sward-bench-"));
try {
  const measured = await measureInBrowser({
    folder,
    tell: (line) => console.log(line),
    entries: only === "seen" ? [] : sizes,
    games: only === "seen" ? [] : full ? [...sizes, 1_000_000] : sizes,
    big: full && only !== "seen" ? 1_000_000 : null,
    seen: only === "stages" ? null : Number(given("entries") ?? (quick ? 3_000 : 30_000)),
    runs: Number(given("runs") ?? (quick ? 1 : 3)),
  });
  const out = given("out");
  if (out !== undefined) await writeFile(out, JSON.stringify(measured));
} finally {
  await rm(folder, { recursive: true, force: true });
}
