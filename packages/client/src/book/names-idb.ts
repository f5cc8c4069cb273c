/**
 * A vault's copy of the roster in a browser, in a database of its own: what is erased goes by writing what is left into a second
 * database and deleting the first (`idb-sweep.ts` says why). Which of the two holds is written in the vault's database, and that write
 * is the moment at which a name is gone; a device that dies before has all names, one that dies after deletes the rest when it starts.
 */
import type { DBSchema } from "idb";
import type { KeptDb } from "./idb-open.ts";
import { openKept } from "./idb-open.ts";
import type { RosterCopy } from "./vault.ts";

interface Schema extends DBSchema {
  readonly values: { readonly key: string; readonly value: Uint8Array };
}

/** Which database holds, and whether the other one has been deleted. */
export interface NamesPointer {
  readonly at: 0 | 1;
  readonly tidy: boolean;
}

export interface NamesStore {
  load(): Promise<RosterCopy>;
  save(changes: RosterCopy, gone: readonly string[]): Promise<void>;
  /** Whether all of it is still there; what is not is put back. */
  look(): Promise<unknown>;
  close(): void;
}

export interface NamesDeps {
  /** The databases are named after it. */
  readonly name: string;
  readonly pointer: NamesPointer;
  /** Durable when it resolves. */
  readonly point: (pointer: NamesPointer) => Promise<void>;
  readonly givenUp: () => void;
}

const strict = { durability: "strict" } as const;

/** Seldom needed, so not among what a start has to fetch. */
const deleteForGood = async (name: string): Promise<void> => (await import("./idb-sweep.ts")).deleteForGood(name);

export async function openNames({ name, pointer, point, givenUp }: NamesDeps): Promise<NamesStore> {
  let at = pointer.at;
  /** What the database has, as far as it was read or written here. */
  let held: ReadonlyMap<string, Uint8Array> = new Map();
  const otherOne = (): 0 | 1 => (at === 0 ? 1 : 0);
  const nameOf = (one: 0 | 1): string => `${name}/names-${one}`;

  const open = (one: 0 | 1): Promise<KeptDb<Schema>> =>
    openKept<Schema>(nameOf(one), {
      version: 1,
      upgrade: (fresh) => void fresh.createObjectStore("values"),
      givenUp,
      async reopened(fresh) {
        if ((await fresh.count("values")) >= held.size) return;
        const tx = fresh.transaction("values", "readwrite", strict);
        for (const [about, envelope] of held) void tx.store.put(envelope, about).catch(() => undefined);
        await tx.done;
      },
    });

  if (!pointer.tidy) await tidy();
  let db = await open(at);

  async function tidy(): Promise<void> {
    await deleteForGood(nameOf(otherOne()));
    await point({ at, tidy: true });
  }

  const write = (to: KeptDb<Schema>, values: RosterCopy): Promise<void> =>
    to.run(async (fresh) => {
      const tx = fresh.transaction("values", "readwrite", strict);
      for (const [about, envelope] of values) void tx.store.put(envelope, about).catch(() => undefined);
      await tx.done;
    });

  const load = (): Promise<Map<string, Uint8Array>> =>
    db.run(async (open) => {
      const tx = open.transaction("values");
      const [keys, values] = await Promise.all([tx.store.getAllKeys(), tx.store.getAll()]);
      return new Map(keys.map((key, place) => [key, values[place] as Uint8Array]));
    });

  async function saveWithout(changes: RosterCopy, gone: readonly string[]): Promise<void> {
    const left = await load();
    for (const about of gone) left.delete(about);
    for (const [about, envelope] of changes) left.set(about, envelope);
    const other = otherOne();
    // What a device that died here before has left.
    await deleteForGood(nameOf(other));
    const fresh = await open(other);
    try {
      await write(fresh, left);
      await point({ at: other, tidy: false });
    } catch (cause) {
      fresh.close();
      throw cause;
    }
    held = left;
    db.close();
    [db, at] = [fresh, other];
    // The names are gone from what holds; should this fail, it is done when the vault is next opened.
    await tidy().catch(() => undefined);
  }

  return {
    async load() {
      const loaded = await load();
      held = loaded;
      return loaded;
    },
    async save(changes, gone) {
      if (gone.length > 0) return saveWithout(changes, gone);
      await write(db, changes);
      held = new Map([...held, ...changes]);
    },
    look: () => db.run((open) => open.count("values")),
    close: () => db.close(),
  };
}
