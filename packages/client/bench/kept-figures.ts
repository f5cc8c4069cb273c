/**
 * The figures a page was made from, beside it: so one half of the benches can be run anew without the other, and each says when it was
 * measured. Only `--write` keeps any.
 */
import { readFile, writeFile } from "node:fs/promises";
import type { InBrowser } from "./browser-figures.ts";
import type { UnderNode } from "./under-node.ts";

export interface Kept {
  readonly underNode: UnderNode | null;
  readonly inBrowser: InBrowser | null;
}

const nothing: Kept = { underNode: null, inBrowser: null };

export async function readKept(file: URL): Promise<Kept> {
  try {
    return { ...nothing, ...JSON.parse(await readFile(file, "utf8")) };
  } catch (cause) {
    if ((cause as NodeJS.ErrnoException).code === "ENOENT") return nothing;
    throw cause;
  }
}

/** A figure a line, so that what changes can be seen. */
export async function writeKept(file: URL, kept: Kept): Promise<void> {
  const short = (key: string, value: unknown): unknown =>
    typeof value === "number" && key !== "size" ? Number(value.toPrecision(5)) : value;
  const text = JSON.stringify(kept, short).replaceAll('},{"what"', '},\n{"what"');
  await writeFile(file, `${text}\n`);
}
