/**
 * A club of many years behind a relay, for what is measured in the built app: five devices, sixty members with names, an entry to an
 * envelope as live use makes them, every card signed to near its end. Its root is open here, as another device of the club.
 *
 * The root's vault and document are filled beforehand and the relay takes it all from the document. Rejected: taking the entries in as
 * an arrival (each signature checked and each envelope sealed once more, four minutes for what takes ten seconds).
 */
import type { Book, Pass, Signer } from "@sward/client";
import { createMemoryDocStore, createMemoryVault, openBook, systemRandom } from "@sward/client";
import type { Card, Draft, PlayerId } from "@sward/core";
import { cardToSign } from "@sward/core";
import { base64url } from "jose";
import * as Y from "yjs";
import { secret, signedBook } from "../../../packages/client/bench/signed.ts";
import { unseenEnvelopes } from "../../../packages/client/src/book/ledger-doc.ts";
import { systemClock } from "../../../packages/client/src/desk/platform.ts";
import { openWire } from "../../../packages/client/src/wire/wire.ts";
import { wireDeps } from "../../support/meeting.ts";

export interface BenchClub {
  readonly root: Book;
  /** A device that no browser has been yet: a handicapper's. */
  readonly pass: Pass;
  /** Texts of the signed entries the club began with, for the bare floor. */
  readonly signed: readonly string[];
  readonly signers: readonly Signer[];
  /** Two who meet in what is measured: the first two in the list of members, whose rows can be seen when it is opened. */
  readonly pair: readonly [Member, Member];
  readonly today: string;
  append(...drafts: Draft[]): Promise<void>;
  card(player: PlayerId): Card;
  /** Resolves when the relay has everything. */
  stored(): Promise<void>;
  close(): Promise<void>;
}

export interface Member {
  readonly player: PlayerId;
  readonly name: string;
}

/** For so long nobody has signed a card: the end of a season. */
const UNSIGNED_DAYS = 120;
const LOOK_MS = 250;

export async function benchClub(size: number, relay: string): Promise<BenchClub> {
  const { bench, update, signers } = await signedBook(size);
  const doc = new Y.Doc();
  Y.applyUpdate(doc, update);
  const places = unseenEnvelopes(doc, new Map());
  const vault = createMemoryVault();
  await vault.append({
    entries: bench.entries.map(({ id, jws }, n) => ({ id, jws, understood: true, place: places[n]?.place ?? null })),
  });
  const root = await openBook({
    book: bench.book,
    device: signers[0]!,
    epochs: [{ epoch: 0, secret }],
    vault,
    ledgerStore: {
      ...createMemoryDocStore(),
      attach: (into) => {
        Y.applyUpdate(into, update);
        return Promise.resolve({ sound: true, rows: 0 });
      },
    },
    rosterStore: createMemoryDocStore(),
    relay: { url: relay, open: openWire, deps: wireDeps },
    clock: systemClock,
    randomBytes: systemRandom,
    entriesPerBlock: 1,
  });
  const card = (player: PlayerId): Card => root.state().cards.get(player)!;
  const append = async (...drafts: Draft[]): Promise<void> => {
    const saved = await root.append(drafts);
    if (!saved.ok) throw new Error(JSON.stringify(saved.fault));
  };
  const stored = (): Promise<void> => eventually("the relay has everything", () => root.waiting() === 0);
  await eventually("the relay is met", () => root.caughtUp());
  const members = [...root.state().cards.keys()].map((player, n) => ({ player, name: nameOf(n) }));
  await root.roster.write(new Map(members.map(({ player, name }) => [player, { name, short: shortOf(name) }])));
  const last = new Date(Date.now() - UNSIGNED_DAYS * 86_400_000).toISOString().slice(0, 10);
  await append(
    ...members.flatMap(({ player }): Draft[] => {
      const upto = card(player).lines.findLast(({ date }) => date <= last)?.date;
      const signed = upto === undefined ? null : cardToSign(card(player), upto);
      return signed === null ? [] : [{ kind: "card-signed", body: { player, ...signed } }];
    }),
  );
  await stored();
  return {
    root,
    pass: {
      v: 1,
      label: "Bench",
      // As `signedBook` makes them.
      seed: base64url.encode(new Uint8Array(32).fill(2)),
      club: { book: bench.book, epochs: [{ epoch: 0, secret: base64url.encode(secret) }] },
      leagues: [],
    },
    signed: bench.entries.map(({ jws }) => jws),
    signers,
    pair: [members[0]!, members[10]!],
    today: systemClock.today(),
    append,
    card,
    stored,
    close: () => root.close(),
  };
}

const nameOf = (n: number): string => `${FIRST[n % FIRST.length]} Bench${String.fromCharCode(97 + Math.floor(n / 10))}`;
const shortOf = (name: string): string => name.replace(" Bench", " ");
const FIRST = ["Ada", "Bo", "Cass", "Dov", "Edie", "Fay", "Gwen", "Hal", "Ivy", "Jude"];

async function eventually(what: string, holds: () => boolean): Promise<void> {
  for (const from = Date.now(); !holds(); ) {
    if (Date.now() - from > 600_000) throw new Error(`waited ten minutes until ${what}`);
    await new Promise((done) => setTimeout(done, LOOK_MS));
  }
}
