/**
 * A league as its models read it, made anew when something in the desk has changed and not with every drawing; and saving into it with
 * the league's own checks asked first, so that a refusal comes before anything is signed.
 */
import type { Draft, LeagueReading } from "@sward/core";
import { readLeague } from "@sward/core";
import { useMemo } from "preact/hooks";
import type { Book } from "../../book/book.ts";
import { checkHere } from "../../league/save.ts";
import type { Message } from "../../messages.ts";
import { messageOf } from "../../messages.ts";
import { useDesk, version } from "../desk-store.ts";
import { save } from "../saved.ts";

const readingOf = (league: Book, today: string): LeagueReading =>
  readLeague({ state: league.state(), counted: league.counted() }, today);

export function useReading(league: Book): LeagueReading {
  const today = useDesk().today();
  return useMemo(() => readingOf(league, today), [league, today, version.value]);
}

/** Null when it is durable on this device; else why not, and nothing has changed. */
export async function saveChecked(
  league: Book,
  drafts: readonly Draft[],
  sentence: string,
  today: string,
): Promise<Message | null> {
  const reading = readingOf(league, today);
  for (const draft of drafts) {
    const checked = checkHere(league, reading, draft, today);
    if (!checked.ok) return messageOf(checked.fault);
  }
  return save(league, drafts, sentence);
}
