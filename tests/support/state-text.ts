/**
 * A book's state as one text, for comparing two devices byte for byte: canonical JSON of everything in it, what is worked out only
 * when asked for included, maps as lists sorted by key.
 */
import type { BookState } from "@sward/core";
import { byCodeUnits, canonicalText } from "@sward/core";
import type { Book } from "./cast.ts";

/** Every member of a state. The type fails to compile when one is missing. */
const members: Readonly<Record<keyof BookState, true>> = {
  book: true,
  as: true,
  name: true,
  entries: true,
  unconfirmed: true,
  rules: true,
  clubs: true,
  devices: true,
  players: true,
  events: true,
  cards: true,
  matches: true,
  fixtures: true,
  stated: true,
  records: true,
  questions: true,
  uncounted: true,
};

export function stateText(state: BookState): string {
  const plain = Object.fromEntries(
    (Object.keys(members) as (keyof BookState)[]).map((name) => [name, withoutMaps(state[name])]),
  );
  return canonicalText(plain);
}

function withoutMaps(value: unknown): unknown {
  if (!(value instanceof Map)) return value;
  return [...(value as Map<string, unknown>)].sort(([a], [b]) => byCodeUnits(a, b));
}

/** The state of a book of the cast; throws when it is not the same handed in one by one, in the order written and in reverse. */
export function stateOf(book: Book): BookState {
  const whole = stateText(book.state());
  for (const order of [book.written, [...book.written].reverse()]) {
    const ledger = book.empty();
    for (const one of order) ledger.add([one]);
    if (stateText(ledger.state()) !== whole) throw new Error("the state depends on the order of the entries");
  }
  return book.state();
}
