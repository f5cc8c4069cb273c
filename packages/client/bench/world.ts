/**
 * A believable book of any size for the benchmarks: five devices, sixty members, games over ten years played off the handicaps
 * of the record, one report each. Made by its own generator from a seed, with stand-in signatures unless a signer is given.
 */
import type { Arrival, BookId, Draft, EntryId, KeyId, Payload, PlayerId, PublicKey } from "@sward/core";
import { compileRules, decodeEntry, digestOf, findRuleSet, settledHandicap, signingInput } from "@sward/core";
import type { Signer } from "../src/keys/signer.ts";

export interface WrittenEntry {
  readonly id: EntryId;
  readonly jws: string;
}

export interface BenchBook {
  readonly book: BookId;
  readonly entries: readonly WrittenEntry[];
  readonly arrivals: readonly Arrival[];
  /** A further report by a device of the book, to be added to it. */
  next(): Promise<{ readonly draft: Draft; readonly written: WrittenEntry; readonly arrival: Arrival }>;
}

/** Numbers from 0 up to 1, the same for the same seed (a linear congruential generator, good enough to shuffle games). */
export function seeded(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
    return state / 2 ** 32;
  };
}

const FIRST_YEAR = 2017;

export interface BenchOptions {
  /** Sixty unless said, as a club has. */
  readonly members?: number;
  /** Takes each entry in turn; the book then keeps none of them, since a million would not leave room for what is measured. */
  readonly take?: (written: WrittenEntry, arrival: Arrival) => Promise<void>;
}

/** `signers[0]` is the root. */
export async function benchBook(
  size: number,
  signers: readonly Signer[],
  sign: boolean,
  { members: count = 60, take }: BenchOptions = {},
): Promise<BenchBook> {
  const [root, ...devices] = signers;
  if (root === undefined) throw new Error("a book needs a root");
  const book = root.id as string as BookId;
  const rules = compileRules(rulesNamed("england-2016"));
  const random = seeded(20_261_125);
  const pick = (count: number): number => Math.floor(random() * count);
  const chains = new Map<KeyId, { seq: number; prev: EntryId | null }>();
  const entries: WrittenEntry[] = [];
  const arrivals: Arrival[] = [];
  let made = 0;

  async function write(signer: Signer, { kind, body }: Draft): Promise<{ written: WrittenEntry; arrival: Arrival }> {
    const chain = chains.get(signer.id) ?? { seq: 0, prev: null };
    const payload: Payload = { v: 1, book, ...chain, at: "2026-05-01T10:00:00Z", kind, body: { ...body } };
    const jws = sign ? await signer.signEntry(payload) : `${signingInput(signer.id, payload)}.${"A".repeat(86)}`;
    const decoded = decodeEntry(jws);
    if (!decoded.ok) throw new Error(decoded.fault.type);
    chains.set(signer.id, { seq: chain.seq + 1, prev: decoded.value.id });
    return { written: { id: decoded.value.id, jws }, arrival: { entry: decoded.value } };
  }
  async function keep(signer: Signer, draft: Draft): Promise<void> {
    const { written, arrival } = await write(signer, draft);
    made += 1;
    if (take !== undefined) return take(written, arrival);
    entries.push(written);
    arrivals.push(arrival);
  }

  await keep(root, { kind: "book-opened", body: { root: root.key as PublicKey, as: "club", name: "Bench" } });
  await keep(root, { kind: "rules-adopted", body: { rules: "england-2016", from: "2017-01-01" } });
  for (const { key } of devices)
    await keep(root, { kind: "device-admitted", body: { device: key, role: "handicapper" } });
  const members = Array.from({ length: count }, (_, n) => ({
    player: digestOf(`member ${n}`).slice(0, 22) as PlayerId,
    handicap: rules.handicaps[4 + (n % 16)] as number,
    index: rules.triggers[4 + (n % 16)] as number,
  }));
  for (const { player, handicap } of members) {
    await keep(root, { kind: "player-joined", body: { player, standing: "member" } });
    const set = { player, handicap, from: "2017-01-01", basis: "initial", reason: "start" } as const;
    await keep(root, { kind: "handicap-set", body: set });
  }

  const games = Math.max(0, size - made);
  const lastDay = new Map<number, string>();
  function report(n: number, of: number): Draft {
    const one = pick(count);
    const two = (one + 1 + pick(count - 1)) % count;
    const [a, b] = [members[one], members[two]];
    if (a === undefined || b === undefined) throw new Error("two members");
    const date = dayOf(Math.floor((n * 10 * 180) / of));
    // The day's end: what was won since the last day may have changed the handicap.
    for (const place of [one, two]) {
      const member = members[place];
      if (member !== undefined && lastDay.get(place) !== date) {
        member.handicap = settledHandicap(rules, member.handicap, member.index);
        lastDay.set(place, date);
      }
    }
    const won = random() < 0.5;
    a.index += won ? 10 : -10;
    b.index += won ? -10 : 10;
    const losing = pick(7);
    return {
      kind: "match-reported",
      body: {
        date,
        occasion: "club-competition",
        n: 1 + (n % 50),
        play: "handicap",
        format: 13,
        sides: [[{ player: a.player, off: a.handicap }], [{ player: b.player, off: b.handicap }]],
        games: [{ score: won ? [7, losing] : [losing, 7] }],
      },
    };
  }
  for (let n = 0; n < games; n += 1) await keep(devices[n % devices.length] ?? root, report(n, games));

  let further = games;
  return {
    book,
    entries,
    arrivals,
    async next() {
      further += 1;
      const draft = report(games - 1, games);
      return { draft, ...(await write(devices[further % devices.length] ?? root, draft)) };
    },
  };
}

/** Ten seasons of 180 days from 1 April. */
function dayOf(day: number): string {
  const start = Date.UTC(FIRST_YEAR + Math.floor(day / 180), 3, 1);
  return new Date(start + (day % 180) * 86_400_000).toISOString().slice(0, 10);
}

function rulesNamed(id: string) {
  const set = findRuleSet(id);
  if (set === undefined) throw new Error(id);
  return set;
}
