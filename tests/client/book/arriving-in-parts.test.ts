/**
 * A long arrival goes into the state a few hundred entries at a time, so that the page can answer a tap in between. Counted: entries
 * between two turns of the page, and what a page would find in its turn. Real signatures, envelopes and folds.
 */
import { createMemoryVault, createVerifier, deriveEpoch, seal, systemRandom } from "@sward/client";
import type { Draft, EntryId, Ledger } from "@sward/core";
import { cardToSign, createLedger, decodeEntry, nothingDone } from "@sward/core";
import { beforeAll, expect, test } from "vitest";
import type { SignedBook } from "../../../packages/client/bench/signed.ts";
import { secret, signedBook } from "../../../packages/client/bench/signed.ts";
import { createArrivals } from "../../../packages/client/src/book/arrivals.ts";
import { openHoldings } from "../../../packages/client/src/book/holdings.ts";
import type { PlacedEnvelope } from "../../../packages/client/src/book/ledger-doc.ts";

const GAMES = 1_500;
let signed: SignedBook;
beforeAll(async () => {
  signed = await signedBook(GAMES);
});

const entriesIn = (ledger: Ledger): number => signed.bench.entries.filter(({ id }) => ledger.has(id)).length;

/** A device of the book that has nothing of it, and a document into which the test puts what arrives. */
async function newcomer() {
  const { book } = signed.bench;
  const epochs = new Map([[0, await deriveEpoch(book, { epoch: 0, secret })]]);
  const ledger = createLedger(book);
  const vault = createMemoryVault();
  const holdings = await openHoldings(vault, () => undefined);
  let unseen: PlacedEnvelope[] = [];
  let clock = 0;
  /** Entries the ledger took in each turn of the page, cards it made, and what stood where in the next. */
  const turns: { took: number; made: number; inState: number; durable: number }[] = [];
  let [took, made] = [0, 0];
  const counted: Ledger = {
    ...ledger,
    gather(arrivals) {
      took += arrivals.length;
      return ledger.gather(arrivals);
    },
    *making() {
      const steps = ledger.making();
      for (let step = steps.next(); !step.done; step = steps.next()) {
        made += 1;
        yield;
      }
      return nothingDone();
    },
  };
  const told: number[] = [];
  const arrivals = createArrivals({
    options: {
      book,
      async breathe() {
        const durable = (await vault.load()).reduce((sum, { entries }) => sum + entries.length, 0);
        turns.push({ took, made, inState: entriesIn(ledger), durable });
        [took, made] = [0, 0];
      },
    },
    epochs,
    holdings,
    ledger: counted,
    verifier: createVerifier(),
    document: {
      unseen: () => unseen,
      at: () => undefined,
      saw: () => undefined,
    },
    caughtUp: () => true,
    closing: () => undefined,
    came: () => undefined,
    tell: (touched) => told.push(touched === null ? 0 : 1),
  });
  return {
    ledger,
    holdings,
    turns,
    told,
    async arrive(envelopes: readonly Uint8Array[]) {
      unseen = envelopes.map((envelope) => ({ place: { client: 1, clock: clock++ }, envelope }));
      turns.length = 0;
      expect(await arrivals.arrive()).toBe(true);
      const last = took;
      [took, made] = [0, 0];
      return [...turns.map((turn) => turn.took), last].filter((many) => many > 0);
    },
  };
}

/** What the root writes next, each in an envelope. */
async function byRoot(ledger: Ledger, drafts: readonly Draft[]): Promise<Uint8Array[]> {
  const { book } = signed.bench;
  const [root] = signed.signers;
  const keys = await deriveEpoch(book, { epoch: 0, secret });
  let { seq, prev }: { seq: number; prev: EntryId | null } = ledger.next(root!.id);
  const envelopes: Uint8Array[] = [];
  for (const { kind, body } of drafts) {
    const jws = await root!.signEntry({ v: 1, book, seq, prev, at: "2026-05-01T10:00:00Z", kind, body: { ...body } });
    const decoded = decodeEntry(jws);
    [seq, prev] = [seq + 1, decoded.ok ? decoded.value.id : null];
    envelopes.push(await seal(book, keys, [jws], systemRandom));
  }
  return envelopes;
}

test("the page has its turn after every few hundred entries, finds a whole state of durable ones, and is told of all at the end", async () => {
  const device = await newcomer();
  const parts = await device.arrive(signed.envelopes);
  expect(parts.reduce((sum, many) => sum + many, 0)).toBe(GAMES);
  expect(Math.max(...parts)).toBe(256);
  expect(parts.length).toBe(Math.ceil(GAMES / 256));
  const between = device.turns.filter(({ inState }) => inState > 0 && inState < GAMES);
  expect(between.length).toBeGreaterThan(3);
  for (const { inState, durable } of between) expect(durable).toBeGreaterThanOrEqual(inState);
  expect(device.told.filter((touched) => touched === 1)).toHaveLength(1);
  const whole = createLedger(signed.bench.book);
  whole.add([...device.holdings.entries.keys()].map((id) => ({ entry: device.ledger.entry(id)! })));
  expect(device.ledger.state().cards).toEqual(whole.state().cards);
});

test("where something has the whole book made again, the rest of the portion goes in at once: it is made again once more at most", async () => {
  const device = await newcomer();
  await device.arrive(signed.envelopes);
  const policies = Array.from({ length: 1_000 }, (_, n): Draft => {
    return { kind: "policy-set", body: { unconfirmed: n % 2 === 0 ? "waits" : "counts" } };
  });
  expect(await device.arrive(await byRoot(device.ledger, policies))).toEqual([256, 744]);
});

test("cards are made when all is filed, each once and in a turn of its own: a signed one has all its lines hashed", async () => {
  const device = await newcomer();
  await device.arrive(signed.envelopes);
  const { cards } = device.ledger.state();
  const made = device.turns.map((turn) => turn.made);
  expect(Math.max(...made)).toBe(1);
  expect(made.reduce((sum, many) => sum + many, 0)).toBe(device.ledger.state().players.size);
  const drafts = [...cards].flatMap(([player, card]): Draft[] => {
    const body = cardToSign(card, card.lines.at(-1)?.date ?? "2026-01-01");
    return body === null ? [] : [{ kind: "card-signed", body: { player, ...body } }];
  });
  expect(drafts.length).toBeGreaterThan(40);
  await device.arrive(await byRoot(device.ledger, drafts));
  expect(Math.max(...device.turns.map((turn) => turn.made))).toBe(1);
  expect(device.turns.filter((turn) => turn.made > 0)).toHaveLength(drafts.length);
});
