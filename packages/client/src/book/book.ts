/**
 * A book on a device: entries are signed, kept in the vault, put into the ledger document, and come from other devices the same
 * way backwards.
 *
 *     append: draft -> checked -> signed -> vault (durable: "saved here") -> state -> sealed -> document -> relay ("stored at relay")
 *     arrive: relay -> screened -> document -> opened -> signature checked -> vault -> state
 *
 * One thing at a time: writing and arriving share a queue, so that a chain never forks against itself. What fails leaves the state
 * as it was. Rejected: showing an entry before it is durable, with a mark to be taken away later (a lawn has no second chance).
 */
import type {
  BookId,
  BookState,
  Counted,
  Draft,
  EntryId,
  KeyId,
  PlayerId,
  PublicKey,
  Result,
  Touched,
} from "@sward/core";
import { createLedger, fail, ok } from "@sward/core";
import type { Epoch } from "../keys/book-keys.ts";
import { deriveEpochs } from "../keys/book-keys.ts";
import { createVerifier } from "../keys/verifier.ts";
import type { Connection } from "../wire/connection.ts";
import type { Progress, TakenEntries } from "./arrivals.ts";
import { inSteps, neverBreathe } from "./breathing.ts";
import { checkDraft } from "./check-draft.ts";
import type { Checkpoint } from "./checkpoint.ts";
import { checkpointOf, knownOf } from "./checkpoint.ts";
import type { AppendFault, HaltFault, TakeFault } from "./faults.ts";
import type { StorageTrouble } from "./holdings.ts";
import { openHoldings } from "./holdings.ts";
import { laterTraffic } from "./later-traffic.ts";
import type { Lock } from "./listening.ts";
import type { BookOptions } from "./options.ts";
import { createOwnChain } from "./own-chain.ts";
import { recallArrivals } from "./recall.ts";
import type { Roster } from "./roster-book.ts";
import { openRoster } from "./roster-book.ts";
import { signDrafts } from "./sign-drafts.ts";
import type { HeldEntry } from "./vault.ts";

/** What an entry has reached: this device's disk, or also the relay's. */
export type Custody = "here" | "relay";

export interface Book {
  readonly id: BookId;
  readonly device: KeyId;
  state(): BookState;
  readonly roster: Roster;
  /** Saves drafts, all or none; resolves with their ids once they are durable on this device. */
  append(drafts: readonly Draft[]): Promise<Result<readonly EntryId[], AppendFault>>;
  /** Takes in entries of this book that came another way than by the relay; all or none, durable when it resolves. */
  takeEntries(texts: readonly string[]): Promise<Result<TakenEntries, TakeFault>>;
  /** False while a device that came with nothing has not read yet what the relay has of it; until then it writes nothing. */
  caughtUp(): boolean;
  /** All of our own chain is here, and nothing leads to another room: from now on a start may rely on it. */
  readWhole(): Promise<void>;
  /** Why this device may write nothing for now; null when it may. */
  halted(): HaltFault | null;
  custody(id: EntryId): Custody | null;
  /** Entries not stored at the relay yet. */
  waiting(): number;
  unstored(): ReadonlySet<EntryId>;
  connection(): Connection;
  /** A long check of arriving entries under way. */
  progress(): Progress | null;
  trouble(): StorageTrouble | null;
  /** The signed text of an entry, for export. */
  signed(id: EntryId): string | undefined;
  /** In the order in which they came; of more that come while they are gone through, also those. */
  entries(): Iterable<HeldEntry>;
  /** How many these are. */
  held(): number;
  /** Those after the first so many. */
  since(many: number): readonly HeldEntry[];
  /** Entries that count, carried ones opened. */
  counted(): Iterable<Counted>;
  keyOf(author: KeyId): PublicKey | undefined;
  digest(): string;
  /** To be kept for the next start; null while the one that was given, here or when it was opened, does as well. */
  checkpoint(): Promise<Checkpoint | null>;
  /** Secrets for a new device. */
  epochs(): readonly Epoch[];
  lock(): Lock;
  /** Called after every change; returns the way to stop. */
  subscribe(listener: (touched: Touched | null) => void): () => void;
  goOffline(): void;
  goOnline(): void;
  /** Resolves when everything that arrived so far has been taken in. */
  settled(): Promise<void>;
  close(): Promise<void>;
}

/** After one of these, what came before its author was known may count. */
const statesKeys: ReadonlySet<Draft["kind"]> = new Set(["club-admitted", "device-admitted", "entry-carried"]);

export async function openBook(options: BookOptions): Promise<Book> {
  const { book, device, vault, clock, breathe = neverBreathe } = options;
  const loading = vault.load();
  // Document and names lie elsewhere on the disk, and come meanwhile.
  options.ledgerStore.prepare();
  const names = vault.loadRoster();
  names.catch(() => undefined);
  const deriving = deriveEpochs(book, options.epochs, options.room);
  const ledger = createLedger(book);
  const verifier = createVerifier(options.curve);
  verifier.learn(device.key);
  const listeners = new Set<(touched: Touched | null) => void>();
  let queue: Promise<unknown> = Promise.resolve();

  const tell = (touched: Touched | null = null): void => {
    if (touched !== null) holdings.share(ledger.entry);
    for (const listener of listeners) listener(touched);
  };
  const inTurn = <T>(run: () => Promise<T>): Promise<T> => {
    const turn = queue.then(run);
    queue = turn.catch(() => undefined);
    return turn;
  };

  const checkpoint = options.checkpoint?.().catch(() => null) ?? null;
  const [{ byNumber: epochs, current }, holdings] = await Promise.all([
    deriving,
    openHoldings(vault, () => tell(), breathe, loading),
  ]);
  const held = holdings.entries;
  const knowsItself = options.relay === null || options.freshKey === true;
  const isWhole = !holdings.unread() && holdings.closed().every(({ whole }) => whole);
  const isKept = held.size > 0 && options.readsFirst !== true && isWhole;
  const ownChain = createOwnChain(device.id, knowsItself || isKept, options.sharedKey);
  // Filled from the vault; nothing is hashed or checked again.
  const kept = await checkpoint;
  const known = await knownOf(kept, held.keys(), breathe);
  let checkpointed = known === null ? 0 : (kept?.entries ?? 0);
  const recalled = await recallArrivals(held.values(), verifier, breathe, checkpointed);
  if (known !== null) await inSteps(ledger.adding(recalled.first, known), breathe);
  await inSteps(ledger.adding(recalled.rest), breathe);
  holdings.share(ledger.entry);
  const traffic = laterTraffic({
    options,
    current,
    epochs,
    holdings,
    ledger,
    verifier,
    ownChain,
    inTurn,
    tell: (touched) => {
      if (touched !== null) roster.recheck();
      tell(touched);
    },
  });
  const roster = await openRoster(
    {
      options,
      epoch: current,
      keysOf: (epoch) => epochs.get(epoch),
      verifier,
      mayWrite: (author) => {
        const role = ledger.state().devices.get(author)?.role;
        return role !== undefined && role !== "reader";
      },
      mayErase: (author) => {
        const found = ledger.state().devices.get(author);
        const isOfficer = found?.role === "handicapper" || found?.role === "root";
        // What an officer erased before being barred stays erased.
        return isOfficer && !(author === device.id && found.barred);
      },
      changed: () => tell(),
      failed: (cause) => holdings.inTrouble({ during: "roster", cause }),
    },
    names,
  );
  const attached = traffic.attach();

  async function append(drafts: readonly Draft[]): Promise<Result<readonly EntryId[], AppendFault>> {
    const joining = new Set<PlayerId>();
    const state = ledger.state();
    const halted = ownChain.fault(state);
    if (halted !== null) return fail(halted);
    for (const draft of drafts) {
      const checked = checkDraft(draft, { state, device: device.id, today: clock.today(), joining });
      if (!checked.ok) return checked;
      if (draft.kind === "player-joined") joining.add(draft.body.player);
    }
    const signing = { book, device, next: ledger.next(device.id), at: clock.timestamp(), verifier };
    const { entries, arrivals: written } = await signDrafts(drafts, signing);
    if (!(await holdings.keep({ entries }, "append"))) {
      return fail({ type: "not-saved", cause: holdings.trouble()?.cause ?? "" });
    }
    tell(ledger.add(written));
    const ids = entries.map(({ id }) => id);
    // Saved is saved, and nobody waits for the rest: what happens to the document after this is repaired at the next start.
    const travel = (): Promise<void> => inTurn(() => traffic.push(ids).catch(() => undefined));
    void (options.drawn === undefined ? travel() : options.drawn().then(travel));
    if (drafts.some(({ kind }) => statesKeys.has(kind))) await traffic.retry();
    return ok(ids);
  }

  async function takeEntries(texts: readonly string[]): Promise<Result<TakenEntries, TakeFault>> {
    const taken = await traffic.take(texts);
    if (taken.ok) await traffic.push(taken.value.added).catch(() => undefined);
    return taken;
  }

  return {
    id: book,
    device: device.id,
    state: () => ledger.state(),
    roster,
    append: (drafts) => inTurn(() => append(drafts)),
    takeEntries: (texts) => inTurn(() => takeEntries(texts)),
    caughtUp: ownChain.caughtUp,
    async readWhole() {
      if (!holdings.unread()) return;
      await inTurn(async () => {
        if (holdings.unread()) await holdings.keep({ entries: [], unread: false }, "arrive");
      });
    },
    halted: () => ownChain.fault(ledger.state()),
    custody(id) {
      const entry = held.get(id);
      return entry === undefined ? null : traffic.isStored(entry.place) ? "relay" : "here";
    },
    waiting: traffic.waiting,
    unstored: traffic.unstored,
    connection: traffic.connection,
    progress: traffic.progress,
    trouble: () => holdings.trouble(),
    signed: (id) => held.get(id)?.jws,
    entries: () => held.values(),
    held: () => held.size,
    since: holdings.since,
    counted: () => ledger.counted(),
    keyOf: (author) => verifier.keyOf(author),
    digest: () => ledger.digest(),
    checkpoint: () =>
      inTurn(async () => {
        const made = await checkpointOf(held, checkpointed, ledger.known, breathe);
        checkpointed = made?.entries ?? checkpointed;
        return made;
      }),
    epochs: () => options.epochs,
    lock: () => ({ number: current.epoch, room: current.room, since: null, due: null, owed: [], moving: false }),
    subscribe(listener) {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
    goOffline() {
      traffic.pause();
      roster.pause();
    },
    goOnline() {
      traffic.resume();
      roster.resume();
    },
    async settled() {
      await attached;
      await inTurn(() => Promise.resolve());
    },
    async close() {
      traffic.stop();
      // After what is under way: a document still being loaded must not find its store closed.
      await inTurn(async () => {
        await traffic.close();
        await roster.close();
        await vault.close();
      });
    },
  };
}
