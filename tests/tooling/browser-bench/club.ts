/**
 * A club of many years behind a relay, for what is measured in the built app: five devices, sixty members with names, an entry to an
 * envelope as live use makes them, every card signed to near its end. Its root is open here, as another device of the club.
 *
 * The root's vault and document are filled beforehand and the relay takes it all from the document. Rejected: taking the entries in as
 * an arrival (each signature checked and each envelope sealed once more, four minutes for what takes ten seconds).
 */
import type { Book, DocStore, Pass, Signer } from "@sward/client";
import { createMemoryDocStore, createMemoryVault, deriveEpoch, openBook, systemRandom } from "@sward/client";
import type { Card, Draft, PlayerId, PublicKey } from "@sward/core";
import { cardToSign } from "@sward/core";
import { base64url } from "jose";
import * as Y from "yjs";
import { secret, signedBook } from "../../../packages/client/bench/signed.ts";
import type { BenchBook } from "../../../packages/client/bench/world.ts";
import { closingText } from "../../../packages/client/src/book/closing.ts";
import { pushEnvelopes } from "../../../packages/client/src/book/ledger-doc.ts";
import { seal } from "../../../packages/client/src/book/seal.ts";
import type { ClosedVolume, Place } from "../../../packages/client/src/book/vault.ts";
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
  const { bench, envelopes, signers } = await signedBook(size);
  const volumes = await volumesOf(bench, envelopes);
  const places = volumes.flatMap((volume) => volume.places);
  const vault = createMemoryVault();
  await vault.append({
    entries: bench.entries.map(({ id, jws }, n) => ({ id, jws, understood: true, place: places[n] ?? null })),
    closed: volumes.flatMap(({ closed }) => closed ?? []),
  });
  const storeOf = ({ update }: Volume): DocStore => ({
    ...createMemoryDocStore(),
    attach: (into) => {
      Y.applyUpdate(into, update);
      return Promise.resolve({ sound: true, rows: 0 });
    },
  });
  const [first, ...further] = volumes;
  const stores = new Map(further.map((volume) => [volume.room, storeOf(volume)]));
  const root = await openBook({
    book: bench.book,
    device: signers[0]!,
    epochs: [{ epoch: 0, secret }],
    vault,
    ledgerStore: storeOf(first!),
    volumeStore: (room) => stores.get(room) ?? createMemoryDocStore(),
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

interface Volume {
  readonly room: PublicKey;
  readonly update: Uint8Array;
  /** Of its entries, in their order. */
  readonly places: readonly Place[];
  /** Null: it is the last. */
  readonly closed: ClosedVolume | null;
}

/** A volume for each season in which something was played, as devices go on to a fresh one. */
async function volumesOf({ book, arrivals }: BenchBook, envelopes: readonly Uint8Array[]): Promise<readonly Volume[]> {
  const keys = await deriveEpoch(book, { epoch: 0, secret });
  const seasons: { year: number; envelopes: Uint8Array[] }[] = [];
  for (const [n, { entry }] of arrivals.entries()) {
    const year = entry.understood && entry.kind === "match-reported" ? Number(entry.body.date.slice(0, 4)) : null;
    // What a club begins with lies before its first game.
    if (seasons.length === 0 || (year !== null && year > seasons.at(-1)!.year)) {
      if (seasons.length === 1 && seasons[0]!.year === 0) seasons[0]!.year = year ?? 0;
      else seasons.push({ year: year ?? 0, envelopes: [] });
    }
    seasons.at(-1)!.envelopes.push(envelopes[n]!);
  }
  return Promise.all(
    seasons.map(async ({ envelopes: sealed }, volume): Promise<Volume> => {
      const { key: room } = volume === 0 ? keys.ledgerRoom : await keys.ledgerVolume(volume);
      const next = seasons[volume + 1]?.year;
      const doc = new Y.Doc();
      const here = (place: Place): Place => (volume === 0 ? place : { ...place, volume });
      const places = pushEnvelopes(doc, sealed).map(here);
      if (next === undefined) return { room, update: Y.encodeStateAsUpdate(doc), places, closed: null };
      const [place] = pushEnvelopes(doc, [await seal(book, keys, [closingText(next)], systemRandom)]).map(here);
      const closed = { volume, next, place: place!, whole: true, stores: [] };
      return { room, update: Y.encodeStateAsUpdate(doc), places, closed };
    }),
  );
}

async function eventually(what: string, holds: () => boolean): Promise<void> {
  for (const from = Date.now(); !holds(); ) {
    if (Date.now() - from > 600_000) throw new Error(`waited ten minutes until ${what}`);
    await new Promise((done) => setTimeout(done, LOOK_MS));
  }
}
