/**
 * The open desk as signals. Books tell of changes by a call, and their maps go on changing in place, so what screens watch is a
 * number that goes up: reading `version` (which `useDesk` does) is what makes a component draw itself anew. Changes of one moment
 * are told together, or a first join would draw the screen ten thousand times.
 */

import { computed, signal } from "@preact/signals";
import type { BookId, KeyId, PlayerId } from "@sward/core";
import type { Book } from "../book/book.ts";
import { openBrowserDesk } from "../desk/browser.ts";
import type { Desk } from "../desk/desk.ts";
import { onceDrawn } from "../desk/once-drawn.ts";
import type { WireDeps } from "../wire/connection.ts";
import type { ShownLastKnown } from "./last-known/kept.ts";
import { openLater } from "./later-wire.ts";
import { deviceIn, nameIn, shortNameIn } from "./names.ts";
import type { KeptPass } from "./passes.ts";
import { keepPass } from "./passes.ts";
import { rememberCustody } from "./remembered-custody.ts";
import { tellSoon } from "./telling.ts";
import { words } from "./words.ts";

export type Opening =
  | { readonly type: "none" }
  | { readonly type: "opening" }
  | { readonly type: "open" }
  /** Another tab of this browser has the device open. */
  | { readonly type: "elsewhere" }
  | { readonly type: "lost"; readonly why: "another-tab" | "storage-closed" }
  | { readonly type: "failed"; readonly cause: string };

export const desk = signal<Desk | null>(null);
/** Goes up with every change of any book of the desk. */
export const version = signal(0);
/** What `version` was when the screens were last drawn: for what a screen may do without for a moment. */
export const drawnVersion = signal(0);
/** Goes up while many entries are checked, when no more than the bar and the connection can have changed; then `version` stands still. */
export const checks = signal(0);
export const opening = signal<Opening>({ type: "none" });
/** The device the desk belongs to. */
export const keptPass = signal<KeptPass | null>(null);
/** The browser threw this device's record away while it was open, and it was written again. */
export const putBack = signal(false);
/** Why the worker that checks signatures in an old browser is no longer there; null when it is, or was never needed. */
export const helperLost = signal<string | null>(null);
/** What to show while the record is being read; null where there is nothing. */
export const lastKnown = signal<ShownLastKnown | null>(null);
/** When the club's book last was live with the relay and had read everything, RFC 3339; null when never. */
export const lastMet = signal<string | null>(null);

/** The desk, and a promise to draw again whenever anything in it changes. Only below a screen, where a desk is open. */
export function useDesk(): Desk {
  version.value;
  const open = desk.value;
  if (open === null) throw new Error("a screen was drawn without an open desk");
  return open;
}

/** A player's full name, from the club's roster or a league's; words for one nobody has named. */
export const nameOf = (player: PlayerId): string => nameIn(useDesk(), player);

/** The same as the club writes it where space or discretion asks for it. */
export const shortNameOf = (player: PlayerId): string => shortNameIn(useDesk(), player);

/** Who a device is, by its key: "this device" for our own. */
export function deviceName(device: KeyId): string {
  const open = useDesk();
  return device === open.club.device ? words.thisDevice : deviceIn(open, device);
}

/** The same for paper, which is read where there is no "this device". */
export const deviceNameOnPaper = (device: KeyId): string => deviceIn(useDesk(), device);

/** This device's office in the club's book: "none" until it is admitted. */
export const officeHere = computed(() => {
  version.value;
  const club = desk.value?.club;
  if (club === undefined) return "none";
  const device = club.state().devices.get(club.device);
  return device === undefined ? "none" : device.barred ? "barred" : device.role;
});

/** May sign off, set handicaps, rule and admit members. */
export const isHandicapper = computed(() => officeHere.value === "handicapper" || officeHere.value === "root");

const openWire = openLater(async () => (await import("./wire-here.ts")).openWire);

const wireDeps = (): WireDeps => ({
  fetch: (...request) => fetch(...request),
  WebSocket,
  now: () => Date.now(),
  random: () => Math.random(),
  setTimeout: (run, after) => setTimeout(run, after),
  clearTimeout: (timer) => clearTimeout(timer as number),
});

/** The relay that served this page, and how to meet it. */
export const relayHere = () => ({ url: location.origin, open: openWire, deps: wireDeps() });

const metKey = (kept: KeptPass): string => `sward/met/${kept.device}`;

interface RememberingDesk {
  readonly desk: Desk;
  /** To be called with every change, before anything is asked again. */
  changed(): void;
  note(): void;
}

/** The same desk, whose books also know what the relay had before this start. */
function rememberingDesk(opened: Desk): RememberingDesk {
  const notes: (() => void)[] = [];
  // Every entry is looked at to count them, and half a dozen places of a screen ask.
  const counts = new Map<BookId, number>();
  const remember = (opened: Book): Book => {
    const book = {
      ...opened,
      waiting() {
        const count = counts.get(opened.id) ?? opened.waiting();
        counts.set(opened.id, count);
        return count;
      },
    };
    const { custody, waiting, note } = rememberCustody(book, localStorage);
    notes.push(note);
    return { ...book, custody, waiting };
  };
  const club = remember(opened.club);
  const leagues = opened.leagues.map(remember);
  return {
    desk: { ...opened, club, leagues, books: new Map([club, ...leagues].map((book) => [book.id, book])) },
    changed: () => counts.clear(),
    note() {
      for (const note of notes) note();
    },
  };
}

function told(open: RememberingDesk, kept: KeptPass, mayWait = false): void {
  tellSoon(() => {
    if (desk.value !== open.desk) return;
    const connection = open.desk.club.connection();
    const met = connection.type === "live" && connection.synced ? `${new Date().toISOString().slice(0, 19)}Z` : null;
    if (met !== null) lastMet.value = met;
    version.value += 1;
    onceDrawn(() => {
      if (met !== null) localStorage.setItem(metKey(kept), met);
      open.note();
      if (desk.value !== open.desk) return;
      drawnVersion.value = version.value;
      void noteLastKnown(open.desk);
      void forgetErased(open.desk.club);
      void renewKey(open.desk, kept);
    });
  }, mayWait);
}

const fetchNoting = (): Promise<typeof import("./last-known/noting.ts")> => import("./last-known/noting.ts");

/** What a later start can show at once. Lost without harm. */
async function noteLastKnown(open: Desk): Promise<void> {
  (await fetchNoting().catch(() => null))?.noteSoon(open, () => desk.value === open);
}

let forgotten = 0;

/** What this browser keeps beside the record of somebody whose name was erased goes too. */
async function forgetErased(club: Book): Promise<void> {
  const erased = club.roster.erasures();
  if (erased.size === forgotten) return;
  forgotten = erased.size;
  try {
    (await import("./person/forget-here.ts")).forgetHere(localStorage, club.device, club.id, erased);
  } catch {
    forgotten = 0;
  }
}

/** A key that is in use in two places is given up for a new one (`new-key/renewing.ts`). */
async function renewKey(open: Desk, kept: KeptPass): Promise<void> {
  const isShared = [open.club, ...open.leagues].some((book) => /used-elsewhere|forked/.test(book.halted()?.type ?? ""));
  if (!isShared) return;
  const here = { desk: open, kept, relay: relayHere(), isOpen: () => desk.value === open };
  (await import("./new-key/renewing.ts").catch(() => null))?.takeNewKey(here);
}

/** A record of so few entries is read before anybody has seen what would be shown instead of it, but for a very slow phone. */
const FEW = 2_000;
const FLASH_MS = 400;

/** Closes what is open and opens a device's desk. */
export async function openDevice(kept: KeptPass, takeOver = false): Promise<void> {
  await closeDevice();
  opening.value = { type: "opening" };
  keptPass.value = kept;
  forgotten = 0;
  lastMet.value = localStorage.getItem(metKey(kept));
  const noting = fetchNoting().catch(() => null);
  try {
    const opened = await openBrowserDesk({
      pass: kept.pass,
      relay: relayHere(),
      takeOver,
      checkpoint: async () => (await noting)?.readCheckpoint(kept.device, kept.pass.club.book) ?? null,
      before: async ({ device, book, vault }) => {
        const known = (await (await noting)?.readLastKnown(device.id, book, vault)) ?? null;
        const show = (): void => {
          if (keptPass.value === kept && desk.value === null) lastKnown.value = known;
        };
        if (known !== null && known.entries > FEW) show();
        else setTimeout(show, FLASH_MS);
      },
      putBack: () => {
        putBack.value = true;
        void keepPass(kept.pass).catch(() => undefined);
      },
      helperLost: (cause) => {
        helperLost.value = cause;
      },
      lost: (why) => {
        opening.value = { type: "lost", why };
        const gone = desk.value;
        desk.value = null;
        // It must not write any more: another tab continues the chain from here on.
        void gone?.close().catch(() => undefined);
      },
    });
    if (opened === null) {
      opening.value = { type: "elsewhere" };
      return;
    }
    const remembered = rememberingDesk(opened);
    opened.subscribe((record) => {
      remembered.changed();
      if (!record && [opened.club, ...opened.leagues].some((book) => book.progress() !== null)) checks.value += 1;
      else told(remembered, kept, !record);
    });
    desk.value = remembered.desk;
    opening.value = { type: "open" };
    told(remembered, kept);
    // Without this a browser short of space may throw the record away; it may also say no, which sharing shows.
    void navigator.storage?.persist?.();
  } catch (cause) {
    opening.value = { type: "failed", cause: String(cause) };
  }
}

export async function closeDevice(): Promise<void> {
  const open = desk.value;
  desk.value = null;
  keptPass.value = null;
  lastKnown.value = null;
  opening.value = { type: "none" };
  await open?.close();
}
