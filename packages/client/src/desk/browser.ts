/**
 * A desk in a browser. Each device has databases of its own, named after its key, so that several demo devices can live in one
 * browser. Only one tab may write for a device: two would each continue the same chain and fork it, which freezes the device. A
 * tab holds a Web Lock while it is open; a second one is told, and may take over.
 */
import type { KeyId } from "@sward/core";
import { createIdbDocStore } from "../book/doc-store-idb.ts";
import type { BookOptions } from "../book/options.ts";
import type { SharedKeyMark } from "../book/own-chain.ts";
import type { ReadsBeside } from "../book/reads-beside.ts";
import type { IdbVaultEvents } from "../book/vault-idb.ts";
import { openIdbVault } from "../book/vault-idb.ts";
import { besideWhenMany } from "../keys/beside-when-many.ts";
import type { Ed25519 } from "../keys/ed25519.ts";
import { ed25519Here, platformEd25519 } from "../keys/ed25519.ts";
import type { Signer } from "../keys/signer.ts";
import { createSigner } from "../keys/signer.ts";
import type { OpenWire, WireDeps } from "../wire/connection.ts";
import { breathe } from "./breathe-here.ts";
import type { Desk } from "./desk.ts";
import { openDesk } from "./desk.ts";
import { onceDrawn } from "./once-drawn.ts";
import type { Pass } from "./pass.ts";
import { epochsOf, seedOf } from "./pass.ts";
import { ENTRIES_PER_BLOCK, systemClock, systemRandom } from "./platform.ts";

export interface BrowserDeskOptions {
  readonly pass: Pass;
  readonly relay: { readonly url: string; readonly open: OpenWire; readonly deps: WireDeps } | null;
  /** Another tab has taken this device over, or needs its storage in another form: this desk must be opened anew. */
  readonly lost: (why: "another-tab" | "storage-closed") => void;
  /** The browser had thrown away what is kept here, and it was written again from memory. */
  readonly putBack: () => void;
  /** The worker that checks signatures, where there is one, did not start or has died: the page does it from now on. */
  readonly helperLost?: (cause: string) => void;
  /** What is kept of the club's book beside its record (`checkpoint.ts`). */
  readonly checkpoint?: NonNullable<BookOptions["checkpoint"]>;
  /** Awaited before the record is read, which keeps the page's thread busy: for what can be shown without it. Its failing is no matter. */
  readonly before?: (club: BookOptions) => Promise<void>;
  /** Take the device over from another tab. */
  readonly takeOver?: boolean;
}

/** Null while another tab has the device open. */
export async function openBrowserDesk(options: BrowserDeskOptions): Promise<Desk | null> {
  const { pass, relay, lost, putBack } = options;
  const device = await createSigner(seedOf(pass));
  const release = await holdDevice(device, options.takeOver === true, () => lost("another-tab"));
  if (release === null) return null;
  let curve: Promise<Ed25519> | null = null;
  let reads: Promise<ReadsBeside> | null = null;
  const bookOptions = async (book: Pass["club"]): Promise<BookOptions> => ({
    ...(await browserBookOptions(device, book, relay, { givenUp: () => lost("storage-closed"), putBack })),
    curve: () => {
      curve ??= curveOf(options);
      return curve;
    },
    // Asked by several books at once, and of a script that could not be fetched another time.
    readsBeside: () => {
      reads ??= import("./reads-in-worker.ts").then(
        ({ readsInWorker }) => readsInWorker(),
        (cause) => {
          reads = null;
          throw cause;
        },
      );
      return reads;
    },
  });
  const { checkpoint } = options;
  const club = { ...(await bookOptions(pass.club)), ...(checkpoint && { checkpoint }) };
  await options.before?.(club).catch(() => undefined);
  const desk = await openDesk({ club, leagues: await Promise.all(pass.leagues.map(bookOptions)) });
  return {
    ...desk,
    async close() {
      await desk.close();
      release();
    },
  };
}

/** So many signatures are checked in the page before a worker is started: in a third of a second it would have begun. */
const MANY = 256;

/** The platform's own, else the library's, with a worker to do its checks. */
async function curveOf({ helperLost = () => undefined }: BrowserDeskOptions): Promise<Ed25519> {
  const here = await ed25519Here();
  const beside = async () => (await import("./checks-in-worker.ts")).checksInWorker(here, breathe, helperLost);
  return here === platformEd25519 ? besideWhenMany(here, beside, MANY) : beside().catch(() => here);
}

/** A book of this device with its databases. */
export async function browserBookOptions(
  device: Signer,
  pass: Pass["club"],
  relay: BookOptions["relay"],
  events: IdbVaultEvents,
): Promise<BookOptions> {
  const name = `sward/${device.id}/${pass.book}`;
  return {
    book: pass.book,
    device,
    sharedKey: sharedKeyHere(device.id),
    epochs: epochsOf(pass),
    vault: await openIdbVault(`${name}/vault`, events, breathe),
    ledgerStore: createIdbDocStore(`${name}/ledger`, "ledger", events.givenUp, breathe),
    volumeStore: (room) => createIdbDocStore(`${name}/ledger/${room}`, "ledger", events.givenUp, breathe),
    rosterStore: createIdbDocStore(`${name}/roster`, "roster", events.givenUp, breathe),
    relay,
    clock: systemClock,
    randomBytes: systemRandom,
    breathe,
    drawn: () => new Promise(onceDrawn),
    entriesPerBlock: ENTRIES_PER_BLOCK,
  };
}

const sharedKeyHere = (device: KeyId): SharedKeyMark => ({
  is: () => localStorage.getItem(`sward/shared-key/${device}`) !== null,
  note: () => localStorage.setItem(`sward/shared-key/${device}`, "yes"),
});

/**
 * How long a device is waited for that no tab was asked to let go of: a page that was closed or loaded again in the middle of saving
 * holds it until the browser has cleared it away. Rejected: not waiting, which told people of another tab that was not there.
 */
const CLOSING_MS = 2_000;

/** A tab that has been asked to let go and does not, such as one the browser has put to sleep, loses the device after this. */
const PATIENCE_MS = 3_000;

/**
 * The way to let go of the device, or null when another tab holds it. Taking over asks that tab first and waits until it has closed
 * its desk, so that nothing it is just saving can come between.
 */
async function holdDevice(device: Signer, takeOver: boolean, lost: () => void): Promise<(() => void) | null> {
  const name = `sward/${device.id}`;
  const channel = new BroadcastChannel(name);
  if (takeOver) channel.postMessage(LET_GO);
  const release =
    (await request(name, { signal: AbortSignal.timeout(takeOver ? PATIENCE_MS : CLOSING_MS) }, lost)) ??
    (takeOver ? await request(name, { steal: true }, lost) : null);
  if (release === null) {
    channel.close();
    return null;
  }
  channel.onmessage = ({ data }) => {
    if (data === LET_GO) lost();
  };
  return () => {
    channel.close();
    release();
  };
}

const LET_GO = "let go";

/** Holds the lock until the function it resolves with is called; null when it was not to be had. */
function request(name: string, options: LockOptions, stolen: () => void): Promise<(() => void) | null> {
  return new Promise((resolve) => {
    let held = false;
    let release = (): void => undefined;
    const untilReleased = new Promise<void>((done) => {
      release = () => done();
    });
    navigator.locks
      .request(name, options, (lock) => {
        held = lock !== null;
        resolve(lock === null ? null : release);
        return lock === null ? undefined : untilReleased;
      })
      // Before the lock is held: patience has run out. After: it was stolen from this tab.
      .catch(() => (held ? stolen() : resolve(null)));
  });
}
