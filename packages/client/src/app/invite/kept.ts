/**
 * What this browser keeps while somebody is being invited: the invitations its devices have given, what it is itself asking with, and the
 * new keys its devices ask for. In
 * a database of its own, apart from the passes, since all of it is thrown away when it is done. The key that seals is kept as a key the
 * browser does not give out again.
 *
 * The file edge: what another version left here is passed over.
 */
import type { KeyId } from "@sward/core";
import type { DBSchema, IDBPDatabase } from "idb";
import { openDB } from "idb";
import type { OwnAsk } from "../../invite/ask.ts";
import type { GivenInvitation } from "../../invite/host.ts";
import { Invitation } from "../../invite/invitation.ts";
import type { OwnNewKey } from "../../invite/new-key.ts";

export interface KeptAsk {
  readonly invitation: Invitation;
  readonly seal: CryptoKey;
  readonly own: OwnAsk;
}

interface Schema extends DBSchema {
  readonly given: { readonly key: [KeyId, string]; readonly value: GivenInvitation };
  readonly asked: { readonly key: string; readonly value: KeptAsk };
  readonly newKeys: { readonly key: KeyId; readonly value: OwnNewKey };
}

/** One ask at a time: who begins another has given up the first. */
const HERE = "here";

async function withKept<T>(run: (db: IDBPDatabase<Schema>) => Promise<T>): Promise<T> {
  const db = await openDB<Schema>("sward-invite", 2, {
    upgrade(db, from) {
      if (from < 1) for (const store of ["given", "asked"] as const) db.createObjectStore(store);
      db.createObjectStore("newKeys");
    },
  });
  try {
    return await run(db);
  } finally {
    db.close();
  }
}

const isRead = ({ invitation }: { readonly invitation: Invitation }): boolean =>
  Invitation.safeParse(invitation).success;

export const keepGiven = (device: KeyId, given: GivenInvitation): Promise<unknown> =>
  withKept((db) => db.put("given", given, [device, given.keys.id]));

export const dropGiven = (device: KeyId, id: string): Promise<void> =>
  withKept((db) => db.delete("given", [device, id]));

/** The invitations of a device, those that are good longest first. */
export const listGiven = (device: KeyId): Promise<readonly GivenInvitation[]> =>
  withKept(async (db) => {
    const all = await db.getAll("given", IDBKeyRange.bound([device, ""], [device, "\uffff"]));
    return all.filter(isRead).sort((a, b) => b.invitation.until - a.invitation.until);
  });

export const keepAsk = (ask: KeptAsk): Promise<unknown> => withKept((db) => db.put("asked", ask, HERE));

export const dropAsk = (): Promise<void> => withKept((db) => db.delete("asked", HERE));

export const loadAsk = (): Promise<KeptAsk | null> =>
  withKept(async (db) => {
    const ask = await db.get("asked", HERE);
    return ask !== undefined && isRead(ask) ? ask : null;
  });

/** The new key a device of this browser asks for. */
export const keepNewKey = (device: KeyId, asked: OwnNewKey): Promise<unknown> =>
  withKept((db) => db.put("newKeys", asked, device));

export const loadNewKey = (device: KeyId): Promise<OwnNewKey | undefined> =>
  withKept((db) => db.get("newKeys", device));

export const dropNewKey = (device: KeyId): Promise<void> => withKept((db) => db.delete("newKeys", device));
