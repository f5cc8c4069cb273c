/** An entry that is next in a ledger by some device of it, with a stand-in for its signature, which core does not look at. */
import type { Arrival, Draft, Ledger, Payload } from "@sward/core";
import { decodeEntry, signingInput } from "@sward/core";

export function writtenBy(ledger: Ledger, author: Parameters<Ledger["next"]>[0], { kind, body }: Draft): Arrival {
  const payload: Payload = {
    v: 1,
    book: ledger.book,
    ...ledger.next(author),
    at: "2026-11-01T10:00:00Z",
    kind,
    body: { ...body },
  };
  const entry = decodeEntry(`${signingInput(author, payload)}.${"A".repeat(86)}`);
  if (!entry.ok) throw new Error(entry.fault.type);
  return { entry: entry.value };
}
