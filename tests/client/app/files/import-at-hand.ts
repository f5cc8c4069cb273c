/** An import without a browser: a club in memory, a store that is a map, and no waiting between slices. */
import { randomId } from "@sward/client";
import type { Importing, Outcome } from "../../../../packages/client/src/app/files/importing.ts";
import { createImporting } from "../../../../packages/client/src/app/files/importing.ts";
import type { SmallStore } from "../../../../packages/client/src/app/files/remembered.ts";
import { words } from "../../../../packages/client/src/app/words.ts";
import type { MemoryClub } from "../entry/club-in-memory.ts";

export function memoryStore(): SmallStore {
  const kept = new Map<string, string>();
  return {
    getItem: (key) => kept.get(key) ?? null,
    setItem: (key, value) => {
      kept.set(key, value);
    },
    removeItem: (key) => {
      kept.delete(key);
    },
  };
}

export const importAt = (
  { desk, today }: Pick<MemoryClub, "desk" | "today">,
  store: SmallStore = memoryStore(),
  pause = () => Promise.resolve(),
): Importing =>
  createImporting({ desk: { ...desk, today: () => today }, store, randomId, pause, unnamed: words.nameUnknown });

/** @throws when there is none */
export function outcomeOf({ outcome }: Importing): Outcome {
  if (outcome.value === null) throw new Error("nothing was read");
  return outcome.value;
}

/** Every line with its standing, and each fault as "field: type". */
export const told = (importing: Importing): readonly string[] =>
  outcomeOf(importing).lines.map(({ line, standing, faults }) =>
    [`${line} ${standing}`, ...faults.map(({ field, type }) => `${field}: ${type}`)].join(", "),
  );
