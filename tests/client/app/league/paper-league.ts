/** A league's book with two clubs writing in it by turns, in memory: real keys and entries, no storage and no network. */
import type { RosterRecord, Signer } from "@sward/client";
import { createSigner, randomId, systemRandom } from "@sward/client";
import type { BookId, Draft, EntryId, Fixture, FixtureId, KeyId, MatchReported, PlayerId } from "@sward/core";
import { createLedger, decodeEntry } from "@sward/core";
import type { ReadableBook } from "../../../../packages/client/src/app/entry/reading.ts";

export const DAY = "2031-06-07";

export type Writer = "league" | "north" | "south" | "northTablet";

export interface PaperLeague {
  readonly fixture: () => Fixture;
  /** Ann and Abe play for north, Bob and Bet for south. */
  readonly players: Readonly<Record<"ann" | "abe" | "bob" | "bet", PlayerId>>;
  readonly clubs: Readonly<Record<"north" | "south", KeyId>>;
  /** The book as a device of this writer reads it. */
  as(writer: Writer): ReadableBook;
  write(writer: Writer, draft: Draft): Promise<EntryId>;
}

export async function paperLeague(): Promise<PaperLeague> {
  const make = (): Promise<Signer> => createSigner(systemRandom(32));
  const signers: Readonly<Record<Writer, Signer>> = {
    league: await make(),
    north: await make(),
    south: await make(),
    northTablet: await make(),
  };
  const book = signers.league.id as string as BookId;
  const ledger = createLedger(book);
  const roster = new Map<string, RosterRecord>();
  const write = async (writer: Writer, { kind, body }: Draft): Promise<EntryId> => {
    const signer = signers[writer];
    const { seq, prev } = ledger.next(signer.id);
    const payload = { v: 1, book, seq, prev, at: `${DAY}T18:00:00Z`, kind, body: body as Record<string, unknown> };
    const decoded = decodeEntry(await signer.signEntry(payload));
    if (!decoded.ok) throw new Error(decoded.fault.type);
    ledger.add([{ entry: decoded.value }]);
    const reason = ledger.state().uncounted.get(decoded.value.id);
    if (reason !== undefined) throw new Error(`does not count: ${reason}`);
    return decoded.value.id;
  };
  await write("league", { kind: "book-opened", body: { root: signers.league.key, as: "league", name: "Valley" } });
  await write("league", { kind: "rules-adopted", body: { rules: "england-2016", from: "2020-01-01" } });
  await write("league", { kind: "club-admitted", body: { club: signers.north.key, name: "Northmoor" } });
  await write("league", { kind: "club-admitted", body: { club: signers.south.key, name: "Southwell Green" } });
  await write("north", { kind: "device-admitted", body: { device: signers.northTablet.key, role: "recorder" } });
  const players = {} as Record<"ann" | "abe" | "bob" | "bet", PlayerId>;
  for (const name of ["ann", "abe", "bob", "bet"] as const) {
    const writer = name.startsWith("a") ? "north" : "south";
    players[name] = randomId() as PlayerId;
    const home = { book: signers[writer].id as string as BookId };
    await write(writer, { kind: "player-joined", body: { player: players[name], standing: "visitor", home } });
    roster.set(players[name], { name, short: name });
  }
  const fixture = randomId() as FixtureId;
  const slot = { discipline: "singles", play: "handicap", format: 13 } as const;
  const { id: home } = signers.north;
  const { id: away } = signers.south;
  await write("league", {
    kind: "fixture-set",
    body: { fixture, date: DAY, home, away, slots: [slot, { ...slot, play: "level" }] },
  });
  return {
    fixture: () => ledger.state().fixtures.get(fixture)!,
    players,
    clubs: { north: home, south: away },
    as: (writer) => ({
      id: book,
      device: signers[writer].id,
      state: () => ledger.state(),
      counted: () => ledger.counted(),
      roster: { get: (about) => roster.get(about) },
    }),
    write,
  };
}

/** Ann (8) against Bob (5) in a slot, Ann's hoops first. */
export function slotReport(
  league: PaperLeague,
  number: number,
  score: [number, number],
  change: Partial<MatchReported> = {},
): Draft {
  const { fixture } = league.fixture();
  const slot = league.fixture().slots[number - 1]!;
  return {
    kind: "match-reported",
    body: {
      date: DAY,
      occasion: "league",
      slot: { fixture, number },
      n: 1,
      play: slot.play,
      format: slot.format,
      sides: [[{ player: league.players.ann, off: 8 }], [{ player: league.players.bob, off: 5 }]],
      games: [{ score }],
      ...change,
    },
  };
}
