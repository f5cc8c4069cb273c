/**
 * Puts the signed demo clubs into a relay's rooms, over the wire like any other device, and makes the passes of the demo devices.
 * A room that has something in it is left alone: the demo may have been played with.
 */
import type { BookId } from "@sward/core";
import { base64url } from "jose";
import * as Y from "yjs";
import { pushEnvelopes } from "../book/ledger-doc.ts";
import type { BookOptions } from "../book/options.ts";
import { openRoomWire } from "../book/room-wire.ts";
import type { RosterRecord, RosterSubject } from "../book/roster.ts";
import { rosterMap, signRecord } from "../book/roster.ts";
import { blocksOf, seal } from "../book/seal.ts";
import type { Pass } from "../desk/pass.ts";
import { ENTRIES_PER_BLOCK } from "../desk/platform.ts";
import type { EpochKeys } from "../keys/book-keys.ts";
import { deriveEpoch } from "../keys/book-keys.ts";
import type { Signer } from "../keys/signer.ts";
import type { Wire } from "../wire/connection.ts";
import { demoSecret, demoSeed } from "./demo-ids.ts";
import type { SignedBook, SignedDemo } from "./sign-demo.ts";
import type { DemoLeague, DeviceRef } from "./world.ts";

export interface PublishDeps {
  readonly relay: NonNullable<BookOptions["relay"]>;
  readonly randomBytes: (count: number) => Uint8Array;
  readonly timestamp: () => string;
}

const EPOCH = 0;

/** Resolves when the relay has stored everything; says which books it already had. */
export async function publishDemo(
  demo: SignedDemo,
  deps: PublishDeps,
): Promise<{ readonly written: readonly string[]; readonly found: readonly string[] }> {
  const written: string[] = [];
  const found: string[] = [];
  for (const book of [...demo.leagues, ...demo.clubs]) {
    const keys = await deriveEpoch(book.book, { epoch: EPOCH, secret: demoSecret(book.demo.slug) });
    const isNew = await inRoom(deps, "ledger", keys.ledgerRoom, async (doc) => {
      if (doc.store.clients.size > 0) return false;
      pushEnvelopes(doc, await ledgerEnvelopes(book, keys, deps));
      return true;
    });
    await inRoom(deps, "roster", keys.rosterRoom, async (doc) => {
      const map = rosterMap(doc);
      if (map.size > 0) return false;
      const envelopes = await rosterEnvelopes(book, demo, keys, deps);
      doc.transact(() => {
        for (const [about, envelope] of envelopes) map.set(about, envelope);
      });
      return true;
    });
    (isNew ? written : found).push(book.demo.slug);
  }
  return { written, found };
}

/** The pass of a demo device: its club's book, and the leagues it writes in. */
export function demoPass(device: DeviceRef, label: string, club: SignedBook, demo: SignedDemo): Pass {
  const plays = ({ demo: league }: SignedBook): boolean =>
    (league as DemoLeague).clubs.some(({ slug, devices }) => slug === club.demo.slug && devices.includes(device));
  return {
    v: 1,
    label,
    seed: base64url.encode(demoSeed(device)),
    club: bookPass(club),
    leagues: demo.leagues.filter(plays).map(bookPass),
  };
}

const bookPass = ({ book, demo }: SignedBook): { book: BookId; epochs: { epoch: number; secret: string }[] } => ({
  book,
  epochs: [{ epoch: EPOCH, secret: base64url.encode(demoSecret(demo.slug)) }],
});

async function ledgerEnvelopes(
  { book, entries }: SignedBook,
  keys: EpochKeys,
  deps: PublishDeps,
): Promise<Uint8Array[]> {
  const envelopes: Uint8Array[] = [];
  for (const block of blocksOf(entries, ({ jws }) => jws.length, ENTRIES_PER_BLOCK)) {
    const texts = block.map(({ jws }) => jws);
    envelopes.push(await seal(book, keys, texts, deps.randomBytes));
  }
  return envelopes;
}

async function rosterEnvelopes(
  { book, demo }: SignedBook,
  { signers }: SignedDemo,
  keys: EpochKeys,
  deps: PublishDeps,
): Promise<Map<RosterSubject, Uint8Array>> {
  const root = signers.get(`${demo.slug}/root`);
  if (root === undefined) throw new Error(`the demo has no ${demo.slug}/root`);
  const records = new Map<RosterSubject, RosterRecord>();
  for (const { player, name, short, junior } of demo.people) {
    // A league's record is read by other clubs: there a junior goes by the short name.
    const shown = junior && "clubs" in demo ? short : name;
    records.set(player, junior ? { name: shown, short, junior } : { name, short });
  }
  for (const { ref, label, holder } of demo.devices) {
    const id = signers.get(ref)?.id;
    const name = demo.people.find(({ key }) => key === holder)?.name ?? demo.name;
    if (id !== undefined) records.set(id, { name, short: label.slice(0, 40), device: label });
  }
  const envelopes = new Map<RosterSubject, Uint8Array>();
  for (const [about, record] of records) {
    const jws = await signRecord(root, book, about, record, deps.timestamp());
    envelopes.set(about, await seal(book, keys, [jws], deps.randomBytes));
  }
  return envelopes;
}

/** Joins a room, lets `fill` write when all the relay has was read, and leaves when the relay has stored it. */
async function inRoom(
  { relay }: PublishDeps,
  kind: "ledger" | "roster",
  signer: Signer,
  fill: (doc: Y.Doc) => Promise<boolean>,
): Promise<boolean> {
  const doc = new Y.Doc();
  const wire = openRoomWire({ relay }, { kind, signer, doc, dial: true });
  if (wire === null) throw new Error("publishing needs a relay");
  try {
    await until(wire, () => {
      const state = wire.state();
      if (state.type === "refused") throw new Error(`the relay refused room ${signer.key}: ${state.reason}`);
      return state.type === "live" && state.synced;
    });
    const filled = await fill(doc);
    const own = doc.clientID;
    const last = Y.getState(doc.store, own);
    if (filled) await until(wire, () => (wire.stored().get(own) ?? 0) >= last);
    return filled;
  } finally {
    await wire.close();
    doc.destroy();
  }
}

function until(wire: Wire, holds: () => boolean): Promise<void> {
  return new Promise((resolve, reject) => {
    const stops: (() => void)[] = [];
    const look = (): void => {
      try {
        const refusal = wire.refusals().find(({ by }) => by === "relay");
        if (refusal !== undefined) throw new Error(`the relay refused the demo: ${JSON.stringify(refusal.refusal)}`);
        if (!holds()) return;
        resolve();
      } catch (fault) {
        reject(fault);
      }
      for (const stop of stops) stop();
    };
    stops.push(wire.subscribe(look), wire.onStored(look));
    look();
  });
}
