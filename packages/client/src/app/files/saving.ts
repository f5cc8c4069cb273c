/**
 * Saving an import, and taking it back: one append each, so that all of it is in the record or nothing. The lines are looked at once more
 * just before, because the record may have changed while somebody was reading. It is taken back from its own place and not from the bar
 * of the last saving: five thousand games are not for one slip of a thumb.
 */
import type { Draft } from "@sward/core";
import type { Book } from "../../book/book.ts";
import type { RosterRecord, RosterSubject } from "../../book/roster.ts";
import type { Message } from "../../messages.ts";
import { save, saved } from "../saved.ts";
import { filesWords } from "../words/files.ts";
import { importDrafts } from "./drafts.ts";
import type { Importing } from "./importing.ts";
import { isReady } from "./importing.ts";
import type { LastImport } from "./last-import.ts";
import { forgetImport, rememberImport, withdrawalsOf } from "./last-import.ts";
import { fileKind } from "./matching.ts";
import type { SmallStore } from "./remembered.ts";
import { rememberChoices } from "./remembered.ts";

export type SaveAnswer =
  | { readonly type: "saved" }
  | { readonly type: "changed" }
  | { readonly type: "refused"; readonly why: Message };

export interface SavingDeps {
  readonly club: Book;
  readonly store: SmallStore;
  readonly today: string;
  /** What a roster says already of somebody a league knows. */
  readonly recordOf: (player: RosterSubject) => RosterRecord | undefined;
}

export async function saveImport(
  importing: Importing,
  { club, store, today, recordOf }: SavingDeps,
): Promise<SaveAnswer> {
  const shown = importing.outcome.value?.matches.length;
  await importing.rework();
  const [now, taken] = [importing.outcome.value, importing.taken.value];
  if (now === null || taken === null || !isReady(now) || now.matches.length !== shown) return { type: "changed" };
  const { drafts, joining } = importDrafts(now.matches, now.people, now.titles);
  if (joining.length > 0) {
    // Names first: a name without a record is harmless, a record without a name is a puzzle.
    const names = joining.map(({ player, name, short }) => [player, recordOf(player) ?? { name, short }] as const);
    await club.roster.write(new Map(names));
  }
  const games = now.matches.reduce((sum, body) => sum + body.games.length, 0);
  const why = await save(club, drafts, filesWords.save.done(games));
  if (why !== null) return { type: "refused", why };
  const ids = saved.value?.undo?.entries ?? [];
  const [first, last] = [ids[0], ids.at(-1)];
  saved.value = { sentence: filesWords.save.done(games), undo: null };
  if (first !== undefined && last !== undefined) {
    rememberImport(store, club.device, { first, last, games, on: today, name: taken.name });
  }
  const { columns, order, defaults } = importing.choices.value;
  rememberChoices(store, club.device, fileKind(taken.table), { columns, order, defaults });
  importing.clear();
  return { type: "saved" };
}

/** Null when it is taken back; else why not. */
export async function takeBackImport(club: Book, store: SmallStore, last: LastImport): Promise<Message | null> {
  const drafts: readonly Draft[] = withdrawalsOf(club, last, filesWords.undo.reason);
  const why = drafts.length === 0 ? null : await save(club, drafts, filesWords.undo.done(drafts.length));
  if (why !== null) return why;
  const sentence = drafts.length === 0 ? filesWords.undo.nothing : filesWords.undo.done(drafts.length);
  saved.value = { sentence, undo: null };
  forgetImport(store, club.device);
  return null;
}
