/**
 * What is being typed, kept for as long as the page is open, so that a look at a card in between loses nothing; and what is
 * remembered from one afternoon to the next. The second is a convenience and not part of the record, so it is in localStorage: a
 * browser that clears it costs two taps.
 *
 * The file edge: another version may have written what is read back.
 */
import type { Signal } from "@preact/signals";
import { signal } from "@preact/signals";
import type { Day, EntryId, KeyId } from "@sward/core";
import { Format, Occasion, Play } from "@sward/core";
import * as z from "zod/mini";
import type { EntryForm } from "./form.ts";
import { newForm } from "./form.ts";

const Remembered = z.object({ occasion: Occasion(), play: Play(), format: Format(), doubles: z.boolean() });
type Remembered = z.infer<typeof Remembered>;

export interface Typing {
  readonly form: Signal<EntryForm>;
  /** Entries saved since the page was opened, oldest first. */
  readonly session: Signal<readonly EntryId[]>;
}

const typing = new Map<KeyId, Typing>();

/** What is being typed at a device; a new form on its first use. */
export function typingAt(device: KeyId, today: Day): Typing {
  const held = typing.get(device);
  if (held !== undefined) return held;
  const last = recall(device);
  const kept = {
    date: today,
    event: null,
    ...(last ?? { occasion: null, play: "handicap", format: 13, doubles: false }),
  };
  const made: Typing = { form: signal(newForm(kept)), session: signal<readonly EntryId[]>([]) };
  typing.set(device, made);
  return made;
}

const keyOf = (device: KeyId): string => `sward/entry/${device}`;

export function remember(device: KeyId, { occasion, play, format, doubles }: EntryForm): void {
  if (occasion === null) return;
  const kept: Remembered = { occasion, play, format, doubles };
  localStorage.setItem(keyOf(device), JSON.stringify(kept));
}

function recall(device: KeyId): Remembered | null {
  try {
    const read = Remembered.safeParse(JSON.parse(localStorage.getItem(keyOf(device)) ?? ""));
    return read.success ? read.data : null;
  } catch {
    return null;
  }
}
