/**
 * Saving an import, and taking it back. What a club plays in a year or two is one append: all of it is in the record or nothing. What is
 * larger goes in parts, each of which is, oldest games first, because a hundred thousand entries signed before the first is safe would be
 * lost together by a tablet that is shut. Between two parts it can be stopped: what is saved is remembered as the last import, stays or
 * is taken back as one, and the same file again brings only the rest.
 *
 * The lines are looked at once more just before, because the record may have changed while somebody was reading. It is taken back from
 * its own place and not from the bar of the last saving: five thousand games are not for one slip of a thumb.
 */
import type { Draft, EntryId } from "@sward/core";
import { byCodeUnits } from "@sward/core";
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
  /** Somebody stopped it: so many games of all are in the record. */
  | { readonly type: "stopped"; readonly games: number; readonly of: number }
  | { readonly type: "refused"; readonly why: Message; readonly games: number };

export interface Parts {
  /** As many entries as are saved all together or not at all. */
  readonly together: number;
  /** Entries of one part, where they are more. */
  readonly part: number;
}

export const PARTS: Parts = { together: 6_000, part: 1_000 };

export interface SavingSteps {
  /** Games in the record by now, of all. */
  readonly told: (games: number, of: number) => void;
  /** Asked between two parts. */
  readonly stopped: () => boolean;
  readonly parts?: Parts;
}

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
  steps: SavingSteps = { told: () => undefined, stopped: () => false },
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
  const of = gamesIn(drafts);
  let games = 0;
  let first: EntryId | undefined;
  for (const part of partsOf(drafts, steps.parts ?? PARTS)) {
    if (steps.stopped()) return left({ type: "stopped", games, of });
    const why = await save(club, part, filesWords.save.done(games + gamesIn(part)));
    if (why !== null) return left({ type: "refused", why, games });
    games += gamesIn(part);
    const ids = saved.value?.undo?.entries ?? [];
    saved.value = { sentence: filesWords.save.done(games), undo: null };
    first ??= ids[0];
    const last = ids.at(-1);
    // After each part: what is in the record can be taken back, whatever becomes of the rest.
    if (first !== undefined && last !== undefined)
      rememberImport(store, club.device, { first, last, games, on: today, name: taken.name });
    steps.told(games, of);
  }
  const { columns, order, defaults } = importing.choices.value;
  rememberChoices(store, club.device, fileKind(taken.table), { columns, order, defaults });
  importing.clear();
  return { type: "saved" };

  /** The lines that are in the record by now are shown as such. */
  async function left(answer: SaveAnswer): Promise<SaveAnswer> {
    if (games > 0) await importing.rework();
    return answer;
  }
}

const gamesIn = (drafts: readonly Draft[]): number =>
  drafts.reduce((sum, { kind, body }) => sum + (kind === "match-reported" ? body.games.length : 0), 0);

/** Whether it is saved in parts, which a person is told before it begins. */
export const isInParts = (drafts: readonly Draft[]): boolean => drafts.length > PARTS.together;

/**
 * One part where they fit in one, else parts with the oldest games first: a card is then carried on by each part, and not folded anew
 * from an older day. Whoever joins and what is opened come before all games.
 */
function partsOf(drafts: readonly Draft[], { together, part }: Parts): readonly (readonly Draft[])[] {
  if (drafts.length <= together) return [drafts];
  const day = (draft: Draft): string => (draft.kind === "match-reported" ? draft.body.date : "");
  const ordered = [...drafts].sort((a, b) => byCodeUnits(day(a), day(b)));
  const parts: (readonly Draft[])[] = [];
  for (let from = 0; from < ordered.length; from += part) parts.push(ordered.slice(from, from + part));
  return parts;
}

/** Null when it is taken back; else why not. */
export async function takeBackImport(club: Book, store: SmallStore, last: LastImport): Promise<Message | null> {
  const drafts: readonly Draft[] = withdrawalsOf(club, last, filesWords.undo.reason);
  // Latest first, in parts where they are many: what a part does not reach stands, and is taken back by asking again.
  for (let from = 0; from < drafts.length; from += PARTS.together) {
    const why = await save(club, drafts.slice(from, from + PARTS.together), filesWords.undo.done(drafts.length));
    if (why !== null) return why;
  }
  const sentence = drafts.length === 0 ? filesWords.undo.nothing : filesWords.undo.done(drafts.length);
  saved.value = { sentence, undo: null };
  forgetImport(store, club.device);
  return null;
}
