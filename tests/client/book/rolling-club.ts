/**
 * A club at a real relay whose ledger goes through volumes: devices with vaults and documents on the disk, a calendar that can be turned,
 * and a look at what a start loads and dials. Waits of more than two seconds never end, unless asked for: what these tests see come
 * across has come by the volumes, and not because the exchange of heads found it missing half a minute later.
 */
import { mkdtemp, readdir, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Book, BookOptions, DocStore, Signer, Vault, Wire, WireDeps } from "@sward/client";
import { createSigner, deriveEpoch, openEnvelope, openWire, systemRandom } from "@sward/client";
import { openLevelVault } from "@sward/client/node";
import type { BookId, Draft, Role } from "@sward/core";
import * as Y from "yjs";
import { readClosing } from "../../../packages/client/src/book/closing.ts";
import { createLevelDocStore } from "../../../packages/client/src/book/doc-store-level.ts";
import { pushEnvelopes, unseenEnvelopes } from "../../../packages/client/src/book/ledger-doc.ts";
import { openMovingBook } from "../../../packages/client/src/book/moving-book.ts";
import type { TestRelay } from "../../support/meeting.ts";
import { wireDeps, wired } from "../../support/meeting.ts";
import { until } from "../../support/two-clubs.ts";
import { save } from "./epoch-club.ts";

export const patientDeps: WireDeps = {
  ...wireDeps,
  setTimeout: (run, after) => (after > 2_000 ? null : setTimeout(run, after)),
};

/** What one opening of a book loaded and dialled. */
export interface Seen {
  /** Of each ledger document that was loaded, by the name of its folder: its bytes. */
  readonly loaded: Map<string, number>;
  /** Rooms of ledgers that were dialled, in order. */
  readonly dialled: string[];
  /** Rooms of ledgers whose wire is not closed at this moment. */
  open(): string[];
}

export interface Opened extends Seen {
  readonly book: Book;
}

export interface OpenOptions extends Partial<Omit<BookOptions, "vault">> {
  readonly relayUrl?: string;
  readonly deps?: WireDeps;
  readonly vault?: (own: Vault) => Vault;
  readonly offline?: boolean;
  /** Has each ledger document once it is loaded, by the name of its folder. */
  readonly documents?: Map<string, Y.Doc>;
}

export interface RollingClub {
  readonly book: BookId;
  readonly signers: Readonly<Record<string, Signer>>;
  setYear(year: number): void;
  open(name: string, more?: OpenOptions): Promise<Opened>;
  /** Pieces of a ledger document that a device keeps, while its book is closed. */
  rows(name: string, room: string): Promise<number>;
  /** A device whose storage is gone. */
  forget(name: string): Promise<void>;
  /** One whose ledger documents are gone, and not its vault. */
  forgetDocuments(name: string): Promise<void>;
  /** Name of a volume's room. */
  room(volume: number): Promise<string>;
  /** What lies in a volume's room at a relay: texts of entries, and seasons that close it. */
  at(relay: TestRelay, volume: number): Promise<{ entries: Set<string>; closings: number[]; clients: number }>;
  /** Puts an envelope into a volume's room, as whoever has the secret may. */
  put(relay: TestRelay, volume: number, envelope: Uint8Array): Promise<void>;
  close(): Promise<void>;
}

const folderOf = (room: string): string => (room === "" ? "ledger" : `ledger-${room}`);

/** Founds a club in 2026. */
export async function rollingClub(relay: TestRelay, roles: Readonly<Record<string, Role>>): Promise<RollingClub> {
  const folder = await mkdtemp(join(tmpdir(), "sward-rolling-"));
  const signers: Record<string, Signer> = { root: await createSigner(systemRandom(32)) };
  for (const name of Object.keys(roles)) signers[name] = await createSigner(systemRandom(32));
  const root = signers["root"] as Signer;
  const book = root.id as string as BookId;
  const secret = systemRandom(32);
  const keys = await deriveEpoch(book, { epoch: 0, secret });
  let [year, second] = [2026, 0];
  const open: Book[] = [];

  async function openAt(name: string, more: OpenOptions = {}): Promise<Opened> {
    const {
      relayUrl = relay.origin,
      deps = patientDeps,
      vault = (own) => own,
      offline = false,
      documents,
      ...options
    } = more;
    const at = join(folder, name);
    const loaded = new Map<string, number>();
    const dialled: string[] = [];
    const wires: { readonly room: string; readonly wire: Wire }[] = [];
    const store = (room: string): DocStore => {
      const own = createLevelDocStore(join(at, folderOf(room)), "ledger");
      return {
        ...own,
        async attach(doc) {
          const attached = await own.attach(doc);
          loaded.set(room, Y.encodeStateAsUpdate(doc).length);
          documents?.set(room, doc);
          return attached;
        },
      };
    };
    const opened = await openMovingBook({
      book,
      device: signers[name] as Signer,
      epochs: [{ epoch: 0, secret }],
      vault: vault(await openLevelVault(join(at, "vault"))),
      ledgerStore: store(""),
      volumeStore: store,
      rosterStore: createLevelDocStore(join(at, "roster"), "roster"),
      relay: {
        url: relayUrl,
        open: (given) => {
          // Tries come again before a wait would be one of those that never end.
          const wire = openWire({ ...given, maxBackoff: 1_000 });
          if (given.room.kind === "ledger") {
            dialled.push(given.room.name);
            wires.push({ room: given.room.name, wire });
          }
          return wire;
        },
        deps,
      },
      clock: {
        today: () => `${year}-06-01`,
        timestamp: () => {
          second += 1;
          return `${year}-06-01T10:${String(Math.floor(second / 60) % 60).padStart(2, "0")}:${String(second % 60).padStart(2, "0")}Z`;
        },
      },
      randomBytes: systemRandom,
      entriesPerBlock: 50,
      ...options,
    });
    open.push(opened);
    if (offline) opened.goOffline();
    return {
      loaded,
      dialled,
      open: () => wires.flatMap(({ room, wire }) => (wire.state().type === "closed" ? [] : [room])).sort(),
      book: {
        ...opened,
        close: async () => {
          if (!open.includes(opened)) return;
          open.splice(open.indexOf(opened), 1);
          await opened.close();
        },
      },
    };
  }

  async function inside(place: TestRelay, volume: number) {
    const signer = volume === 0 ? keys.ledgerRoom : await keys.ledgerVolume(volume);
    const sign = (claims: object) =>
      signer.sign({ typ: "sward-token" }, new TextEncoder().encode(JSON.stringify(claims)));
    const { doc, wire } = wired(place.origin, { name: signer.key, sign });
    await until("the room is read", () => {
      const state = wire.state();
      return state.type === "live" && state.synced;
    });
    return { doc, wire };
  }

  const club: RollingClub = {
    book,
    signers,
    setYear(to) {
      year = to;
    },
    open: openAt,
    async rows(name, room) {
      const store = createLevelDocStore(join(folder, name, folderOf(room)), "ledger");
      const { rows } = await store.attach(new Y.Doc());
      await store.close();
      return rows;
    },
    forget: (name) => rm(join(folder, name), { recursive: true }),
    async forgetDocuments(name) {
      for (const one of await readdir(join(folder, name)))
        if (one.startsWith(folderOf(""))) await rm(join(folder, name, one), { recursive: true });
    },
    room: async (volume) => (volume === 0 ? keys.ledgerRoom : await keys.ledgerVolume(volume)).key,
    async put(place, volume, envelope) {
      const { doc, wire } = await inside(place, volume);
      pushEnvelopes(doc, [envelope]);
      await until("stored", () => (wire.stored().get(doc.clientID) ?? 0) > 0);
      await wire.close();
    },
    async at(place, volume) {
      const { doc, wire } = await inside(place, volume);
      const entries = new Set<string>();
      const closings: number[] = [];
      for (const { envelope } of unseenEnvelopes(doc, new Map())) {
        const texts = await openEnvelope(book, () => keys, envelope);
        for (const text of Array.isArray(texts) ? (texts as string[]) : []) {
          const next = readClosing(text);
          if (next === null) entries.add(text);
          else closings.push(next);
        }
      }
      const clients = doc.store.clients.size;
      await wire.close();
      return { entries, closings, clients };
    },
    async close() {
      for (const one of open.splice(0)) await one.close();
      await rm(folder, { recursive: true });
    },
  };

  const { book: opened } = await openAt("root", { freshKey: true });
  await save(opened, { kind: "book-opened", body: { root: root.key, as: "club", name: "Turners" } });
  await save(
    opened,
    { kind: "rules-adopted", body: { rules: "england-2016", from: "2026-01-01" } },
    ...Object.entries(roles).map(
      ([name, role]): Draft => ({ kind: "device-admitted", body: { device: (signers[name] as Signer).key, role } }),
    ),
  );
  await until("the club is at the relay", () => opened.waiting() === 0);
  return { ...club, open: openAt };
}

/** Has read everything, and everything it has is at the relay. */
export const settled = (book: Book, what = "in step"): Promise<void> =>
  until(what, () => {
    const state = book.connection();
    return state.type === "live" && state.synced && book.caughtUp() && book.waiting() === 0;
  });
