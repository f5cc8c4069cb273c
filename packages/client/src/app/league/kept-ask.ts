/**
 * What a device of this browser asks to come into a league with, kept until it is answered: a reload, or a week, may lie between. In a
 * database of its own, since it is thrown away when it is done (`invite/kept.ts` does the same for invitations).
 *
 * The file edge: what another version left here is read again as what came from outside.
 */
import type { KeyId } from "@sward/core";
import { openDB } from "idb";
import * as z from "zod/mini";
import type { OwnLeagueAsk } from "../../league/joining.ts";
import { readLeagueAsk } from "../../league/joining.ts";

const STORE = "asks";

const bytes32 = z.string().check(z.regex(/^[A-Za-z0-9_-]{43}$/));

const Kept = z.object({
  text: z.string(),
  box: z.object({ kty: z.literal("OKP"), crv: z.literal("X25519"), x: bytes32, d: bytes32 }),
});

const open = () =>
  openDB("sward-league-ask", 1, {
    upgrade(db) {
      db.createObjectStore(STORE);
    },
  });

export async function keepLeagueAsk(device: KeyId, { ask, box }: OwnLeagueAsk): Promise<void> {
  const db = await open();
  await db.put(STORE, { text: ask.text, box }, device).finally(() => db.close());
}

export async function loadLeagueAsk(device: KeyId): Promise<OwnLeagueAsk | null> {
  const db = await open();
  const kept = Kept.safeParse(await db.get(STORE, device).finally(() => db.close()));
  if (!kept.success) return null;
  const ask = await readLeagueAsk(kept.data.text);
  return ask.ok && ask.value.device === device ? { ask: ask.value, box: kept.data.box } : null;
}

export async function dropLeagueAsk(device: KeyId): Promise<void> {
  const db = await open();
  await db.delete(STORE, device).finally(() => db.close());
}
