/** `../BENCHMARKS.md`: each program that measures writes its own section and leaves the others as they are. */
import { readFile, writeFile } from "node:fs/promises";
import { cpus } from "node:os";
import { fileURLToPath } from "node:url";

const file = fileURLToPath(new URL("../BENCHMARKS.md", import.meta.url));
const head = [
  "# The relay, measured",
  "",
  "Made by programs: `bench/README.md` says what is done. A machine's speed drifts, so what counts are ratios within one run.",
].join("\n");

/** Puts the text under this heading, in the place of what was there. */
export async function writeSection(heading: string, text: string): Promise<void> {
  const before = await readFile(file, "utf8").catch(() => head);
  const machine = `Node ${process.version}, ${cpus().length} cores (${cpus()[0]?.model ?? "unknown"}).`;
  await writeFile(file, withSection(before, heading, `${text}\n\n${machine}`));
}

/** The page with this section new and all others as they were. */
export function withSection(page: string, heading: string, text: string): string {
  const [top = "", ...sections] = page.split(/^(?=## )/m).map((part) => part.trim());
  const section = `## ${heading}\n\n${text}`;
  const at = sections.findIndex((one) => one.startsWith(`## ${heading}\n`));
  const all = at === -1 ? [...sections, section] : sections.with(at, section);
  return `${[top, ...all].join("\n\n")}\n`;
}
