/**
 * Matters that are seldom there and take longer to find than the first view may take: proposals, visitors who may be somebody,
 * and what a date brings up. Their script is fetched after it and tells here what it has found, with its own words.
 */
import { signal } from "@preact/signals";
import type { FurtherFound } from "./further-found.ts";
import type { Reminder } from "./reminders.ts";

export interface FurtherMatter {
  readonly about: "further";
  readonly key: string;
  readonly found: FurtherFound;
}

export interface FurtherGroup {
  readonly name: "proposals" | "people";
  readonly said: { readonly title: string; readonly lead: string };
  readonly matters: readonly FurtherMatter[];
}

/** Null while the record is looked through for the first time. */
export const further = signal<readonly FurtherGroup[] | null>([]);

/** Found with them; each belongs to a group of the first view. */
export const reminders = signal<readonly Reminder[]>([]);
