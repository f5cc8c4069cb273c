/**
 * A vault that forgets: for tests, and for a browser that gives no storage. In the second case the screen says so; a silent
 * fall-back was rejected, since "saved" would then be a lie.
 */
import type { Vault, VaultRecord } from "./vault.ts";

export function createMemoryVault(): Vault {
  let records: VaultRecord[] = [];
  const roster = new Map<string, Uint8Array>();
  return {
    load: () => Promise.resolve([...records]),
    append: (record) => {
      records.push(asWritten(record));
      return Promise.resolve();
    },
    replace: (all) => {
      records = all.map(asWritten);
      return Promise.resolve();
    },
    loadRoster: () => Promise.resolve(new Map(roster)),
    saveRoster: (changes, gone = []) => {
      for (const about of gone) roster.delete(about);
      for (const [about, envelope] of changes) roster.set(about, envelope);
      return Promise.resolve();
    },
    close: () => Promise.resolve(),
  };
}

/** What becomes of an entry after it was written is not written. */
const asWritten = ({ entries, ...rest }: VaultRecord): VaultRecord => ({
  ...rest,
  entries: entries.map(({ id, jws, understood, place }) => ({ id, jws, understood, place })),
});
