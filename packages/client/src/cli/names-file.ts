/**
 * A file of names for player ids, as a club may keep one beside a record: CSV with the columns id and name. A record speaks of
 * ids only, so that it can be handed on without anybody's name in it.
 *
 * The file edge.
 */
import type { PlayerId, Result } from "@sward/core";
import { fail, ok, PlayerId as PlayerIdShape } from "@sward/core";
import Papa from "papaparse";
import type { NamesFault } from "./faults.ts";

export type Names = ReadonlyMap<string, string>;

export function readNames(text: string): Result<Names, NamesFault> {
  const parsed = Papa.parse<string[]>(text.replace(/^\uFEFF/, ""), { delimitersToGuess: [",", ";", "\t"] });
  const [head = [], ...rows] = parsed.data;
  const heading = head.map((column) => column.trim().toLowerCase());
  const [idAt, nameAt] = [heading.indexOf("id"), heading.indexOf("name")];
  if (idAt === -1 || nameAt === -1) return fail({ type: "names-heading", found: head });
  const names = new Map<PlayerId, string>();
  for (const [place, row] of rows.entries()) {
    if (row.every((value) => value.trim() === "")) continue;
    const line = place + 2;
    const id = PlayerIdShape().safeParse(row[idAt]?.trim());
    if (!id.success) return fail({ type: "names-value", line, column: "id", given: row[idAt] ?? "" });
    const name = row[nameAt]?.trim() ?? "";
    if (name === "") return fail({ type: "names-value", line, column: "name", given: "" });
    names.set(id.data, name);
  }
  return ok(names);
}
