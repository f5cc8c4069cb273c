/**
 * A desk under Node: a folder with one LevelDB for each vault and each document. For the command line, for a club's own always-on
 * copy, and for tests with real storage.
 */
import { mkdir } from "node:fs/promises";
import { join } from "node:path";
import { createLevelDocStore } from "../book/doc-store-level.ts";
import type { BookOptions } from "../book/options.ts";
import { openLevelVault } from "../book/vault-level.ts";
import type { Signer } from "../keys/signer.ts";
import { createSigner } from "../keys/signer.ts";
import type { OpenWire, WireDeps } from "../wire/connection.ts";
import type { Desk } from "./desk.ts";
import { openDesk } from "./desk.ts";
import type { Pass } from "./pass.ts";
import { epochsOf, seedOf } from "./pass.ts";
import { ENTRIES_PER_BLOCK, systemClock, systemRandom } from "./platform.ts";

export interface NodeDeskOptions {
  readonly folder: string;
  readonly pass: Pass;
  readonly relay: { readonly url: string; readonly open: OpenWire; readonly deps: WireDeps } | null;
  readonly clock?: BookOptions["clock"];
}

export async function openNodeDesk({ folder, pass, relay, clock = systemClock }: NodeDeskOptions): Promise<Desk> {
  const device = await createSigner(seedOf(pass));
  const options = (book: Pass["club"]) => nodeBookOptions(folder, device, book, relay, clock);
  return openDesk({ club: await options(pass.club), leagues: await Promise.all(pass.leagues.map(options)) });
}

export async function nodeBookOptions(
  folder: string,
  device: Signer,
  pass: Pass["club"],
  relay: BookOptions["relay"],
  clock: BookOptions["clock"],
): Promise<BookOptions> {
  const own = join(folder, pass.book);
  await mkdir(own, { recursive: true });
  return {
    book: pass.book,
    device,
    epochs: epochsOf(pass),
    vault: await openLevelVault(join(own, "vault")),
    ledgerStore: createLevelDocStore(join(own, "ledger"), "ledger"),
    volumeStore: (room) => createLevelDocStore(join(own, `ledger-${room}`), "ledger"),
    rosterStore: createLevelDocStore(join(own, "roster"), "roster"),
    relay,
    clock,
    randomBytes: systemRandom,
    entriesPerBlock: ENTRIES_PER_BLOCK,
  };
}
