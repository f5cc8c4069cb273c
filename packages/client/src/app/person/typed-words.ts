/**
 * Words that people typed into the record and that name somebody: reasons and the like are signed and cannot be erased, so whoever
 * erases a name is shown them. Part of a name counts where it has three letters or more; better one line too many than one too few.
 */
import type { Book } from "../../book/book.ts";

const LEAST = 3;

/** The typed texts, each once, that hold a part of one of the names. */
export function wordsNaming(counted: ReturnType<Book["counted"]>, names: readonly string[]): readonly string[] {
  const parts = names
    .flatMap((name) => name.toLocaleLowerCase().split(/[\s.,'’-]+/u))
    .filter((part) => part.length >= LEAST);
  if (parts.length === 0) return [];
  const found = new Set<string>();
  for (const { entry } of counted) {
    for (const text of textsIn(entry.body)) {
      const words = new Set(text.toLocaleLowerCase().split(/[^\p{L}\p{N}]+/u));
      if (parts.some((part) => words.has(part))) found.add(text);
    }
  }
  return [...found];
}

/** What a person may have typed: a reason, a title, the name of a club. Ids and days have no spaces and no such members. */
function textsIn(body: unknown): readonly string[] {
  if (typeof body !== "object" || body === null) return [];
  return Object.entries(body).flatMap(([name, value]) => {
    if (typeof value === "string") return ["reason", "title", "name", "club"].includes(name) ? [value] : [];
    return name === "home" ? textsIn(value) : [];
  });
}
