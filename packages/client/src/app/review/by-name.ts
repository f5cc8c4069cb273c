/** The order of people in a list: by full name as people sort it, whatever order the record holds their cards in. */
import type { PlayerId } from "@sward/core";
import { nameOf } from "../desk-store.ts";

const collator = new Intl.Collator(undefined, { sensitivity: "base" });

export const byName = <T extends { readonly player: PlayerId }>(people: readonly T[]): readonly T[] =>
  people
    .map((one) => ({ one, name: nameOf(one.player) }))
    .sort((a, b) => collator.compare(a.name, b.name))
    .map(({ one }) => one);
