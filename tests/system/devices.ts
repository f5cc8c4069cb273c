/**
 * A device of a club: the real desk with its real wires, on a simulated disk and network, started, crashed and started again. What a
 * life leaves behind when it crashes is inert: its timers do not ring, its disk does not write, its sockets say nothing.
 */
import type { BookOptions, Desk, Signer, Wire } from "@sward/client";
import { openDesk, openWire } from "@sward/client";
import type { BookId, EntryId, RoomKind } from "@sward/core";
import type * as Y from "yjs";
import type { Dice } from "./dice.ts";
import type { DocDisk, Life, VaultDisk } from "./disks.ts";
import { createDocDisk, createVaultDisk } from "./disks.ts";
import type { Happened } from "./happened.ts";
import type { Path } from "./network.ts";
import type { SimRelay } from "./relays.ts";
import type { Schedule } from "./schedule.ts";
import { dayAt, timestampAt } from "./schedule.ts";
import { socketsOn } from "./sockets.ts";
// What a book fetches later is here before a story begins: to fetch takes real time, which has no place in one.
import "../../packages/client/src/book/heads-exchange.ts";
import "../../packages/client/src/book/traffic.ts";
import "../../packages/client/src/book/volumes.ts";

/** A book and its secret. */
export interface Secret {
  readonly book: BookId;
  readonly secret: Uint8Array;
}

/** Who is who; the first of `books` is the device's own club. */
export interface DevicePlan {
  readonly name: string;
  readonly signer: Signer;
  readonly books: readonly Secret[];
}

export interface BookDisks {
  readonly vault: VaultDisk;
  readonly ledger: DocDisk;
  /** Of further volumes, by room. */
  readonly volumes: Map<string, DocDisk>;
  readonly roster: DocDisk;
}

export interface SimDevice extends DevicePlan {
  /** Null while it is off, or not yet started. */
  desk(): Desk | null;
  isOn(): boolean;
  start(): void;
  /** Closes as a person does; `then` when it has. */
  stop(then: () => void): void;
  crash(): void;
  /** The browser clears everything away while the device is off. */
  evict(): void;
  /** It has lost its own chain once, and may have begun it anew where nobody had it. */
  wasEvicted(): boolean;
  readonly disks: ReadonlyMap<BookId, BookDisks>;
  /** Dials the other relay from the next start on. */
  moveTo(relay: number): void;
  relay(): number;
  setSkew(milliseconds: number): void;
  skew(): number;
  /** Documents and wires of this life. */
  docs(): readonly Y.Doc[];
  /** The newest ledger document of a book in this life. */
  ledgerDoc(book: BookId): Y.Doc | undefined;
  wires(): readonly Wire[];
}

export interface DeviceDeps {
  readonly schedule: Schedule;
  readonly happened: Happened;
  readonly dice: Dice;
  readonly relays: readonly SimRelay[];
  /** Client ids before a volume is closed; as many as in earnest, if not given. */
  readonly clientsPerVolume: number | undefined;
  readonly pathTo: (relay: number) => Path;
  /** An entry some device was told is on its disk. */
  readonly saved: (book: BookId, id: EntryId) => void;
  readonly problem: (what: string) => void;
}

export function createDevice(plan: DevicePlan, deps: DeviceDeps): SimDevice {
  const { schedule, happened, dice, relays, pathTo, problem } = deps;
  const { name, signer } = plan;
  const disks = new Map<BookId, BookDisks>();
  let life: Life = { dead: true };
  let desk: Desk | null = null;
  let wires: Wire[] = [];
  let docs: Y.Doc[] = [];
  let ledgerDocs = new Map<BookId, Y.Doc>();
  let relay = 0;
  let skew = 0;
  let lives = 0;
  let evicted = false;

  const diskDeps = (book: BookId, what: string) => ({
    schedule,
    happened,
    dice: dice.fork(`${book}/${what}`),
    name: `${name} ${book} ${what}`,
  });
  for (const { book } of plan.books) {
    const disk = (what: string) => diskDeps(book, what);
    disks.set(book, {
      vault: createVaultDisk(disk("vault"), (record) => {
        for (const { id } of record.entries) deps.saved(book, id);
      }),
      ledger: createDocDisk(disk("ledger"), "ledger"),
      volumes: new Map(),
      roster: createDocDisk(disk("roster"), "roster"),
    });
  }

  function optionsFor({ book, secret }: Secret, mine: Life): BookOptions {
    const own = disks.get(book)!;
    const throws = dice.fork(`${book}/${lives}`);
    const rooms = new Set<string>();
    return {
      book,
      device: signer,
      epochs: [{ epoch: 0, secret }],
      vault: own.vault.mount(mine),
      ledgerStore: own.ledger.mount(mine),
      volumeStore: (room) => {
        const disk = own.volumes.get(room) ?? createDocDisk(diskDeps(book, `ledger ${room}`), "ledger");
        if (!own.volumes.has(room)) happened("a further volume opened");
        own.volumes.set(room, disk);
        return disk.mount(mine);
      },
      ...(deps.clientsPerVolume === undefined ? {} : { clientsPerVolume: deps.clientsPerVolume }),
      rosterStore: own.roster.mount(mine),
      relay: {
        url: relays[relay]!.origin,
        open: (options) => {
          const { kind, name: room } = options.room;
          const again = rooms.has(kind) ? ` ${room}` : "";
          rooms.add(kind);
          const wire = openWire({
            ...options,
            deps: wireDeps(`${name} ${book} ${kind}${again}`, throws.fork(`${kind}${again}`), mine, kind),
          });
          wires.push(wire);
          docs.push(options.doc);
          if (kind === "ledger") ledgerDocs.set(book, options.doc);
          return wire;
        },
        deps: wireDeps(`${name} ${book}`, throws.fork("book"), mine, "ledger"),
      },
      clock: {
        timestamp: () => timestampAt(schedule.now() + skew),
        today: () => dayAt(schedule.now() + skew),
      },
      randomBytes: (count) => throws.bytes(count),
      entriesPerBlock: 20,
    };
  }

  function wireDeps(label: string, throws: Dice, mine: Life, kind: RoomKind) {
    const path = pathTo(relay);
    const at = relays[relay]!;
    return {
      fetch: ((url: string, { signal }: { signal: AbortSignal }) =>
        new Promise((done, failed) => {
          signal.addEventListener("abort", () => failed(new DOMException("aborted", "AbortError")));
          const room = new URL(url).pathname.split("/")[3] as never;
          path.ask(`${label} nonce`, () => at.nonce(kind, room)).then(done, failed);
        })) as typeof fetch,
      WebSocket: socketsOn(path, mine, label),
      now: () => schedule.now() + skew,
      random: () => throws.below(2 ** 30) / 2 ** 30,
      setTimeout: (run: () => void, after: number) =>
        schedule.after(after, `${label} timer`, () => {
          if (!mine.dead) run();
        }),
      clearTimeout: (timer: unknown) => {
        if (typeof timer === "function") timer();
      },
    };
  }

  function end(): void {
    life.dead = true;
    desk = null;
    // Lets go of the intervals that y-websocket keeps; to the world it says nothing, being dead.
    for (const wire of wires) void wire.close();
    wires = [];
    docs = [];
    ledgerDocs = new Map();
  }

  return {
    ...plan,
    desk: () => desk,
    isOn: () => !life.dead,
    start() {
      if (!life.dead) return;
      const mine: Life = { dead: false };
      life = mine;
      lives += 1;
      const [club, ...leagues] = plan.books.map((book) => optionsFor(book, mine));
      openDesk({ club: club!, leagues }).then(
        (opened) => {
          if (!mine.dead) desk = opened;
        },
        (cause) => problem(`${name} did not start: ${String((cause as Error).stack ?? cause)}`),
      );
    },
    stop(then) {
      const [mine, open] = [life, desk];
      if (open === null || mine.dead) return;
      desk = null;
      open.close().then(
        () => {
          if (mine.dead) return;
          end();
          then();
        },
        (cause) => problem(`${name} did not close: ${String((cause as Error).stack ?? cause)}`),
      );
    },
    crash() {
      if (life.dead) return;
      happened("device crashed");
      // The sockets of a dead device are silent; the relay learns of it when it tries to send.
      end();
      for (const { vault, ledger, volumes, roster } of disks.values()) {
        vault.crash();
        for (const disk of [ledger, ...volumes.values(), roster]) disk.crash();
      }
    },
    evict() {
      happened("device lost everything it had");
      evicted = true;
      for (const { vault, ledger, volumes, roster } of disks.values()) {
        vault.erase();
        for (const disk of [ledger, ...volumes.values(), roster]) disk.wipe();
      }
    },
    wasEvicted: () => evicted,
    disks,
    moveTo(next) {
      if (next !== relay) happened("device moved to the other relay");
      relay = next;
    },
    relay: () => relay,
    setSkew(milliseconds) {
      skew = milliseconds;
    },
    skew: () => skew,
    docs: () => docs,
    ledgerDoc: (book) => ledgerDocs.get(book),
    wires: () => wires,
  };
}
