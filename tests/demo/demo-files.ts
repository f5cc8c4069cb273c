/** The demo clubs' files as they are on disk, and changed copies of them. */
import { readSources } from "../support/sources.ts";

/** Texts by path from the folder of the demo clubs. */
export const demoFiles = (): Map<string, string> =>
  new Map(
    readSources(["demo-clubs"], [".csv", ".json"]).map(({ path, text }) => [path.replace(/^demo-clubs\//, ""), text]),
  );

/** The files with one text in one of them replaced; it must stand there exactly once. */
export function changed(file: string, from: string, to: string): Map<string, string> {
  const files = demoFiles();
  const before = files.get(file) ?? "";
  const parts = before.split(from);
  if (parts.length !== 2) throw new Error(`"${from}" stands ${parts.length - 1} times in ${file}`);
  return files.set(file, parts.join(to));
}

/** Lines of a CSV file as records; only for files without quoted commas. */
export function records(files: ReadonlyMap<string, string>, file: string): Record<string, string>[] {
  const [head = "", ...lines] = (files.get(file) ?? "").trimEnd().split("\n");
  const columns = head.split(",");
  return lines.map((line) => {
    const cells = line.split(",");
    if (cells.length !== columns.length) throw new Error(`${file}: ${line}`);
    return Object.fromEntries(columns.map((column, place) => [column, cells[place] ?? ""]));
  });
}
