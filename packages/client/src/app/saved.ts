/**
 * Saving from a screen: what was saved is said in a sentence, with the way to undo it beside it for as long as it is the last thing
 * that was saved. Undoing makes an entry that takes back the others; nothing is ever erased. Rejected: "are you sure?" before each
 * saving (people learn to press it unread).
 */
import { signal } from "@preact/signals";
import type { Draft, EntryId } from "@sward/core";
import type { Book } from "../book/book.ts";
import type { AppendFault } from "../book/faults.ts";
import type { Message } from "../messages.ts";
import { tellNow } from "./telling.ts";
import { words } from "./words.ts";

export interface Saved {
  /** What was done, as a sentence. */
  readonly sentence: string;
  /** Null when it is itself an undoing, or cannot be undone. */
  readonly undo: {
    readonly book: Book;
    readonly entries: readonly EntryId[];
    /** What was done without the word that it was saved, where the sentence begins with it. */
    readonly did?: string;
  } | null;
  /** Why undoing was refused. */
  readonly fault?: Message;
}

/** The last thing saved on this screen or the one before; null when it has been put away. */
export const saved = signal<Saved | null>(null);

/** The sentences are fetched when first something is refused, which is seldom: they are no small part of the script. */
async function sayWhy(fault: AppendFault): Promise<Message> {
  try {
    const { messageOf } = await import("../messages.ts");
    return messageOf(fault);
  } catch {
    return { ...words.refusedUnsaid, why: words.refusedUnsaid.why(fault.type) };
  }
}

/** Something has been on its way to the disk for more than half a second: an import, or a slow phone. */
export const saving = signal(false);

const PATIENCE = 500;

async function saidWhenSlow<T>(work: Promise<T>): Promise<T> {
  const timer = setTimeout(() => {
    saving.value = true;
  }, PATIENCE);
  try {
    return await work;
  } finally {
    clearTimeout(timer);
    saving.value = false;
  }
}

/** Saves all or none. Null when it is durable on this device; else why not, and nothing has changed. */
export async function save(book: Book, drafts: readonly Draft[], sentence: string): Promise<Message | null> {
  const answer = await saidWhenSlow(book.append(drafts));
  if (!answer.ok) return sayWhy(answer.fault);
  saved.value = { sentence, undo: { book, entries: answer.value } };
  tellNow();
  return null;
}

/** What is being undone: its button is there until it has been, for a finger that presses twice. */
let undoing: Saved | null = null;

/** Takes back what was saved last, in reverse order. */
export async function undoSaved(): Promise<void> {
  const last = saved.value;
  if (last === null || last.undo === null || last === undoing) return;
  undoing = last;
  const { book, entries, did = last.sentence } = last.undo;
  const drafts = [...entries]
    .reverse()
    .map((withdraws): Draft => ({ kind: "entry-withdrawn", body: { withdraws, reason: words.saved.undoReason } }));
  const answer = await saidWhenSlow(book.append(drafts)).finally(() => {
    undoing = null;
  });
  saved.value = answer.ok
    ? { sentence: words.saved.undone(did), undo: null }
    : { ...last, fault: await sayWhy(answer.fault) };
  tellNow();
}
