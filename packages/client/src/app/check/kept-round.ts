/**
 * Where a round stands, kept on this device only: nobody else's list is moved by it, and a note about a person does not go into a
 * record that is never erased. It is gone when the round is put away. The file edge: what another version wrote is checked again.
 */
import { signal } from "@preact/signals";
import type { BookId, KeyId, PlayerId } from "@sward/core";
import * as z from "zod/mini";
import type { Round } from "./round.ts";

export const longestNote = 500;

const KeptRound = z.object({
  begun: z.string(),
  cards: z.array(z.string()),
  at: z.int().check(z.minimum(0)),
  notes: z.record(z.string(), z.string().check(z.maxLength(longestNote))),
  was: z.record(z.string(), z.int()),
});

export interface RoundStore {
  getItem(key: string): string | null;
  setItem(key: string, value: string): void;
  removeItem(key: string): void;
}

const keyOf = (device: KeyId, book: BookId): string => `sward/check/${device}/${book}`;

/** Goes up when a round is kept, so that screens that show it are drawn again. */
const kept = signal(0);

export function readRound(store: RoundStore, device: KeyId, book: BookId): Round | null {
  kept.value;
  const text = store.getItem(keyOf(device, book));
  if (text === null) return null;
  try {
    const read = KeptRound.safeParse(JSON.parse(text));
    if (!read.success || read.data.at > read.data.cards.length) return null;
    return { ...read.data, cards: read.data.cards as PlayerId[] };
  } catch {
    return null;
  }
}

export function keepRound(store: RoundStore, device: KeyId, book: BookId, round: Round | null): void {
  if (round === null) store.removeItem(keyOf(device, book));
  else store.setItem(keyOf(device, book), JSON.stringify(round));
  kept.value += 1;
}
