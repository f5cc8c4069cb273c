/**
 * The disks of the simulated devices: a vault and document stores that take their time, and of which a crash, a full disk or bad
 * sectors take just as much as they may take of real ones.
 *
 * A vault's write is on the disk before it is said to be; one under way when the device dies is on the disk or not. A write may fail
 * and have left nothing (IndexedDB aborts the transaction; a full disk), or fail with nobody knowing, and then no more is written
 * until the disk is opened anew (LevelDB after a failed flush). A document's store promises nothing: a crash takes its last rows, a
 * row may be missing, damaged, or all of them gone.
 */
import type { DocStore, Vault, VaultRecord } from "@sward/client";
import type { RoomKind } from "@sward/core";
import { atOnce } from "@sward/core";
import * as Y from "yjs";
import { judgingStored } from "../../packages/client/src/book/judging.ts";
import type { Dice } from "./dice.ts";
import type { Happened } from "./happened.ts";
import type { Schedule } from "./schedule.ts";

/** A device from one start to the next. Once it has crashed, nothing it still does reaches anything. */
export interface Life {
  dead: boolean;
}

/** A promise that the dead wait for. */
const never = new Promise<never>(() => undefined);

export interface DiskDeps {
  readonly schedule: Schedule;
  readonly happened: Happened;
  readonly dice: Dice;
  readonly name: string;
}

export interface VaultDisk {
  mount(life: Life): Vault;
  /** The power goes: what is being written is there or not. */
  crash(): void;
  /** The next so many writes fail and leave nothing. */
  fill(writes: number): void;
  /** The next write fails; whether it is there shows at the next start, and until then nothing more is written. */
  breakNext(): void;
  /** Space is made. */
  mend(): void;
  /** Everything on it is gone. */
  erase(): void;
  /** Ids of the entries that are on it. */
  ids(): Set<string>;
  /** Takes nothing more until it is opened anew. */
  isBroken(): boolean;
}

/** `saved` hears of each record of which the device was told that it is on the disk. */
export function createVaultDisk(
  { schedule, happened, dice, name }: DiskDeps,
  saved: (r: VaultRecord) => void,
): VaultDisk {
  let records: string[] = [];
  const roster = new Map<string, Uint8Array>();
  let writing: (() => void)[] = [];
  let refusals = 0;
  let breaking = false;
  let broken = false;

  /** `put` is done when it is durable, before the device is told. */
  const write = (life: Life, put: () => void): Promise<void> => {
    if (life.dead) return never;
    return new Promise((done, failed) => {
      const land = (): void => put();
      writing.push(land);
      schedule.after(dice.between(1, 120), `disk ${name}`, () => {
        if (life.dead) return;
        writing = writing.filter((other) => other !== land);
        if (broken) return failed(new Error("the disk takes nothing"));
        if (breaking) {
          [breaking, broken] = [false, true];
          happened("vault write failed, nobody knows");
          if (dice.chance(50)) put();
          return failed(new Error("the disk did not answer"));
        }
        if (refusals > 0) {
          refusals -= 1;
          happened("vault write refused");
          return failed(new Error("the disk is full"));
        }
        put();
        done();
      });
    });
  };

  return {
    mount: (life) => {
      broken = false;
      return {
        load: () => (life.dead ? never : Promise.resolve(records.map((text) => JSON.parse(text) as VaultRecord))),
        append: async (record) => {
          const text = JSON.stringify(record);
          await write(life, () => records.push(text));
          saved(record);
        },
        replace: (all) =>
          write(life, () => {
            records = all.map((record) => JSON.stringify(record));
          }),
        loadRoster: () => (life.dead ? never : Promise.resolve(new Map(roster))),
        saveRoster: (changes) =>
          write(life, () => {
            for (const [about, envelope] of changes) roster.set(about, envelope.slice());
          }),
        close: () => Promise.resolve(),
      };
    },
    crash() {
      for (const land of writing) {
        const there = dice.chance(50);
        happened(there ? "crash after a write nobody heard of" : "crash before a write was durable");
        if (there) land();
      }
      writing = [];
    },
    fill: (writes) => {
      refusals = writes;
    },
    breakNext: () => {
      breaking = true;
    },
    mend() {
      refusals = 0;
      breaking = false;
    },
    erase() {
      records = [];
      roster.clear();
    },
    ids: () => new Set(records.flatMap((text) => (JSON.parse(text) as VaultRecord).entries.map(({ id }) => id))),
    isBroken: () => broken,
  };
}

export interface DocDisk {
  mount(life: Life): DocStore;
  /** The power goes: the last rows may be gone. */
  crash(): void;
  wipe(): void;
  /** One row is missing, or one of its bytes is another. */
  damage(): void;
}

/** Works as the stores on LevelDB and IndexedDB do; the document's client id comes from the dice, else Yjs would throw its own. */
export function createDocDisk({ schedule, happened, dice }: DiskDeps, kind: RoomKind): DocDisk {
  let rows: { readonly update: Uint8Array; readonly at: number }[] = [];

  return {
    mount(life) {
      let release = (): void => undefined;
      return {
        prepare: () => undefined,
        attach: (doc) => {
          if (life.dead) return never;
          doc.clientID = dice.below(2 ** 32);
          const updates = rows.map(({ update }) => update);
          const sound = atOnce(judgingStored(updates, kind));
          if (!sound) happened("damaged document found out");
          for (const update of sound ? updates : []) Y.applyUpdate(doc, update, rows);
          if (!sound) rows = [];
          const keep = (update: Uint8Array): void => {
            if (!life.dead) rows.push({ update: update.slice(), at: schedule.now() });
          };
          // Yjs takes another id, by its own dice, when somebody else writes under this one.
          let id = doc.clientID;
          const another = ({ local }: Y.Transaction): void => {
            if (local) id = doc.clientID;
            if (doc.clientID === id) return;
            happened("client id taken by somebody else");
            id = dice.below(2 ** 32);
            doc.clientID = id;
          };
          doc.on("update", keep);
          doc.on("afterTransactionCleanup", another);
          release = () => {
            doc.off("update", keep);
            doc.off("afterTransactionCleanup", another);
          };
          return Promise.resolve({ sound, rows: updates.length });
        },
        wipe: () => {
          release();
          if (!life.dead) rows = [];
          return Promise.resolve();
        },
        close: () => {
          release();
          return Promise.resolve();
        },
      };
    },
    crash() {
      if (dice.chance(50)) return;
      const kept = rows.filter(({ at }) => at < schedule.now() - dice.between(0, 20_000));
      happened("document rows lost in a crash", rows.length - kept.length);
      rows = kept;
    },
    wipe() {
      if (rows.length > 0) happened("document store wiped");
      rows = [];
    },
    damage() {
      if (rows.length === 0) return;
      const at = dice.below(rows.length);
      if (dice.chance(30)) {
        happened("document row missing");
        rows.splice(at, 1);
        return;
      }
      happened("document row damaged");
      const update = rows[at]!.update.slice();
      update[dice.below(update.length)]! ^= 1 << dice.below(8);
      rows[at] = { ...rows[at]!, update };
    },
  };
}
