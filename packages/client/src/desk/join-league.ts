/**
 * A device takes its place in a league, with the answer it was given (`league/joining.ts`). The first device of a club is admitted there by
 * the club's own root key, made of the words on paper for this once; every further one by a handicapper's device, without words.
 *
 * With the league's record along, no network is needed: the root has signed nothing in this league yet, so its chain can begin here, and
 * what it signs goes to the relay with everything else of this device. Where the record has something of the root's, or did not come
 * along, the root reads its own chain at the relay first, as everywhere (`act-as-root.ts`).
 */
import type { Draft, KeyId, Result } from "@sward/core";
import { decodeEntry, fail, ok } from "@sward/core";
import type { Book } from "../book/book.ts";
import type { AppendFault, TakeFault } from "../book/faults.ts";
import { openMovingBook } from "../book/moving-book.ts";
import type { RosterRecord } from "../book/roster.ts";
import { createSigner } from "../keys/signer.ts";
import type { LeagueWelcome } from "../league/joining.ts";
import type { RootFault } from "./act-as-root.ts";
import { rootOf, rootOptions } from "./found.ts";
import type { Pass } from "./pass.ts";
import { seedOf } from "./pass.ts";
import type { RecoverDeps } from "./recover.ts";
import { came } from "./recover.ts";
import type { CarriedRecord } from "./settle.ts";
import { settleDevice } from "./settle.ts";

export type JoinFault =
  | RootFault
  | AppendFault
  | TakeFault
  /** The league's record, as far as it is known here, does not have the club. */
  | { readonly type: "league-without-club"; readonly league: string }
  /** The device is not admitted, and there are no words to admit it with. */
  | { readonly type: "league-needs-words" };

/**
 * The pass with the league, whose record is then in this device's own storage; durable when it resolves well.
 * @param rootSeed of the club's words; null where the device is admitted already
 * @param as how the device is called in the league
 */
export async function joinLeague(
  rootSeed: Uint8Array | null,
  pass: Pass,
  welcome: LeagueWelcome,
  as: RosterRecord,
  deps: RecoverDeps,
): Promise<Result<Pass, JoinFault>> {
  const joined: Pass = {
    ...pass,
    leagues: [...pass.leagues.filter(({ book }) => book !== welcome.league.book), welcome.league],
  };
  const record = welcome.admitted ? ok(welcome.record) : await admittedByRoot(rootSeed, pass, welcome, as, deps);
  if (!record.ok) return record;
  if (record.value === null) return ok(joined);
  const settled = await settleDevice({ ...pass, club: welcome.league }, record.value, deps.optionsFor);
  return settled.ok ? ok(joined) : settled;
}

async function admittedByRoot(
  rootSeed: Uint8Array | null,
  pass: Pass,
  { league, name, record }: LeagueWelcome,
  as: RosterRecord,
  deps: RecoverDeps,
): Promise<Result<CarriedRecord, JoinFault>> {
  if (rootSeed === null) return fail({ type: "league-needs-words" });
  const { root } = await rootOf(rootSeed);
  if ((root.id as string) !== pass.club.book) return fail({ type: "words-of-another-club" });
  const device = await createSigner(seedOf(pass));
  const { clock, randomBytes, relay } = deps;
  const options = { ...rootOptions(root, league), clock, randomBytes };
  const admission: Draft = { kind: "device-admitted", body: { device: device.key, role: "handicapper" } };

  const admit = async (book: Book): Promise<Result<readonly string[], JoinFault>> => {
    const { clubs, devices } = book.state();
    if (!clubs.has(root.id)) return fail({ type: "league-without-club", league: name });
    if (devices.has(device.id)) return ok([]);
    const saved = await book.append([admission]);
    if (saved.ok) await book.roster.write(new Map([[device.id, as]]));
    return saved;
  };

  if (record !== null) {
    if (record.names.size > 0) await options.vault.saveRoster(record.names);
    const book = await openMovingBook({ ...options, freshKey: true, relay: null });
    try {
      const taken = await book.takeEntries(record.entries);
      if (!taken.ok) return taken;
      await book.settled();
      if (![...book.entries()].some(({ jws }) => isBy(root.id, jws))) {
        const admitted = await admit(book);
        return admitted.ok ? ok(recordOf(book)) : admitted;
      }
    } finally {
      await book.close();
    }
  }
  const book = await openMovingBook({ ...rootOptions(root, league), clock, randomBytes, relay });
  try {
    if (!(await came(book, () => book.caughtUp(), deps))) {
      return fail({ type: "recover-no-relay", connection: book.connection().type });
    }
    await book.settled();
    const admitted = await admit(book);
    if (!admitted.ok) return admitted;
    const isStored = (): boolean => book.waiting() === 0;
    return (await came(book, isStored, deps)) ? ok(recordOf(book)) : fail({ type: "root-not-stored" });
  } finally {
    await book.close();
  }
}

function isBy(author: KeyId, jws: string): boolean {
  const entry = decodeEntry(jws);
  return entry.ok && entry.value.author === author;
}

const recordOf = (book: Book): CarriedRecord => ({
  entries: [...book.entries()].map(({ jws }) => jws),
  names: book.roster.envelopes(),
});
