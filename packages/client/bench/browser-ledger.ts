/** A ledger of many games without a signature or a text, so that a page can hold a million: one card for each fifty games. */
import type { Arrival, BookId, Draft, EntryId, KnownEntry, Ledger } from "@sward/core";
import { createLedger, digestOf } from "@sward/core";
import { createSigner } from "../src/keys/signer.ts";
import { manyGames } from "./games.ts";

export async function ledgerOfGames(size: number): Promise<Ledger> {
  const root = await createSigner(new Uint8Array(32).fill(1));
  const book = root.id as string as BookId;
  const { players, handicaps, reports } = manyGames(size);
  const arrivals: Arrival[] = [];
  let prev: EntryId | null = null;
  const write = ({ kind, body }: Draft): void => {
    const seq = arrivals.length;
    const id = digestOf(`entry ${seq}`) as EntryId;
    const entry = { id, author: root.id, book, seq, prev, at: "2026-05-01T10:00:00Z", understood: true, kind, body };
    arrivals.push({ entry: entry as KnownEntry });
    prev = id;
  };
  write({ kind: "book-opened", body: { root: root.key, as: "club", name: "Bench" } });
  write({ kind: "rules-adopted", body: { rules: "england-2016", from: "2020-01-01" } });
  for (const [place, player] of players.entries()) {
    const handicap = handicaps[place] as number;
    write({ kind: "player-joined", body: { player, standing: "member" } });
    write({
      kind: "handicap-set",
      body: { player, handicap, from: "2020-01-01", basis: "initial", reason: "start" },
    });
  }
  for (const { kind, body } of reports) write({ kind, body });
  const ledger = createLedger(book);
  ledger.add(arrivals);
  if (ledger.state().matches.size !== size) throw new Error(`${ledger.state().matches.size} of ${size} matches`);
  return ledger;
}
