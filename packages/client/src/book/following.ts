/**
 * Follows a book's epochs: reads the entries that open them, opens the boxes that are for this device, and moves the book when the next
 * epoch is in force for it (core's `authority/epochs.ts`). Secrets that came in boxes are kept in the vault beside the entries.
 *
 * Whoever opened the epoch moves at once, and fills the new room; the others go some moments later, each in its own time, or before
 * the next thing they write, so that they find the room filled. Old rooms are listened to for 30 days after they were left, by whoever is
 * there; the first one, to which the words on paper lead, always, by officers (`old-rooms.ts`).
 */
import type { PublicKey } from "@sward/core";
import { boxesOwed, decodeEntry, epochDue } from "@sward/core";
import type { Epoch, EpochKeys } from "../keys/book-keys.ts";
import { deriveEpoch } from "../keys/book-keys.ts";
import type { Book } from "./book.ts";
import { createEpochWatch } from "./epoch-watch.ts";
import type { HeldSecret, Openings } from "./keyring.ts";
import { createKeyring, openingsIn } from "./keyring.ts";
import type { Lock } from "./listening.ts";
import { isListenedTo } from "./listening.ts";
import type { Moves } from "./moving-book.ts";
import { createOldRooms } from "./old-rooms.ts";
import { signpostsOf } from "./signposts.ts";
import type { EpochView } from "./tending.ts";
import { createTending } from "./tending.ts";

export interface Following {
  /** Entries have come. */
  changed(): void;
  /** Reads what is new and goes where that leads. Only in turn. */
  beforeWriting(): Promise<void>;
  /** All of our own chain is here: this was so when the book was opened, or its rooms have been read up to where nothing leads further. */
  known(): boolean;
  /** Nothing that is held leads anywhere else. */
  settled(): boolean;
  /** Secrets for a new device. */
  epochs(): readonly Epoch[];
  lock(): Lock;
  pause(): void;
  resume(): void;
  close(): Promise<void>;
}

/** After somebody else's opening: at least so long, and at most four times as long. */
const BEFORE_MOVING_MS = 1_500;

export async function createFollowing(moves: Moves): Promise<Following> {
  const { options, inner, inTurn } = moves;
  const { book, device, relay } = options;
  const keyring = await createKeyring(book, device, options.epochs, moves.lodging());
  const keys = new Map<PublicKey, EpochKeys>();
  const watch = createEpochWatch(device.id);
  let openings: Openings = { all: [], standing: [], comingRooms: new Set() };
  let [unsettled, settling, moving, closed] = [true, false, false, false];
  let leavingFor: PublicKey | null = null;
  /** All of our own chain is here: it was from the start, or everything has been read once, up to where nothing leads further. */
  let known = moves.trusted;
  /** Whether the room had, when we had read it, the entry that opened its epoch; null before that. */
  let inhabited: boolean | null = null;
  let timer: unknown = null;

  const room = (): PublicKey => inner().lock().room;
  const isOurs = (of: PublicKey): boolean =>
    openings.all.some(({ author, body }) => author === device.id && body.room === of && body.from < body.number);

  async function settle(): Promise<void> {
    if (!unsettled || closed) return;
    [unsettled, settling] = [false, true];
    try {
      await readOpenings();
    } finally {
      settling = false;
    }
  }

  async function readOpenings(): Promise<void> {
    openings = openingsNow();
    watch.know(
      inner(),
      openings.all.map(({ author }) => author),
    );
    const learnt = await keyring.learn(openings);
    for (const one of keyring.secrets()) if (!keys.has(one.room)) keys.set(one.room, await deriveEpoch(book, one));
    const to = keyring.roomFor(openings, room());
    leavingFor = null;
    // What came while secrets were derived may lead further, and is read in its turn.
    if (!unsettled && to === room() && inner().caughtUp() && inhabited === true) await arrived();
    if (to === room() ? learnt : relay === null || isOurs(to)) await moveTo(to);
    else if (to !== room()) leaveSoon(to);
    hear();
    tending.look();
    moves.tell();
  }

  /** Before the book is opened anew, with the secrets that came: it would have to read first once more. */
  function arrived(): Promise<void> {
    known = true;
    return moves.noteRead();
  }

  function leaveSoon(to: PublicKey): void {
    leavingFor = to;
    relay?.deps.clearTimeout(timer);
    const wait = BEFORE_MOVING_MS * (1 + 3 * (relay?.deps.random() ?? 0));
    timer = relay?.deps.setTimeout(() => void inTurn(leave).catch(() => undefined), wait);
  }

  async function leave(): Promise<void> {
    if (leavingFor !== null && !closed) await moveTo(leavingFor);
  }

  async function moveTo(to: PublicKey): Promise<void> {
    leavingFor = null;
    moving = true;
    inhabited = null;
    // In a room that was made here and now nobody can have continued our chain.
    await moves.moveTo(keyring.lodging(to), !known && !isOurs(to));
    moving = false;
    changed(true);
  }

  function changed(whatever: boolean): void {
    // Looked at once, before we put in ourselves what it lacks.
    if (!known && inner().caughtUp()) inhabited ??= isInhabited();
    if (!whatever && !watch.bears(inner())) {
      if (known || !settled() || inhabited !== true) return;
      void arrived();
      tending.look();
      return;
    }
    unsettled = true;
    void inTurn(settle).catch(() => undefined);
  }

  /**
   * At a relay that is being filled anew by the devices that come there, a room may be found empty, and our own chain would seem to end
   * before it does. The first room has nothing of the kind: who founds a club is alone in it.
   */
  function isInhabited(): boolean {
    const here = room();
    if (inner().lock().number === 0) return true;
    const { all } = openingsNow();
    const ids = new Set(all.filter(({ body }) => body.room === here).map(({ id }) => id));
    for (const { id, place } of inner().entries()) if (place !== null && ids.has(id)) return true;
    return false;
  }

  const settled = (): boolean => !unsettled && !settling && leavingFor === null && !moving;

  function openingsNow(): Openings {
    const book = inner();
    return openingsIn({ entries: book.entries(), counted: book.counted(), state: book.state() });
  }

  const old = createOldRooms({
    options,
    keysOf(epoch) {
      const [first, ...others] = [...keys.values()].filter((one) => one.epoch === epoch);
      return first === undefined ? undefined : { ...first, alsoOpens: others.map(({ seal }) => seal) };
    },
    take: (texts) => inTurn(() => takeOver(texts)),
    signposts(number) {
      const { devices } = inner().state();
      const admittedBy = (one: Parameters<typeof devices.get>[0]) => devices.get(one)?.admittedBy;
      const ids = signpostsOf(number, { openings: openings.all, counted: inner().counted(), admittedBy });
      return [...ids].flatMap((id) => inner().signed(id) ?? []);
    },
  });

  /** Not before we are where we belong: what is written there must not be carried back. */
  function hear(): void {
    if (leavingFor !== null) return;
    const role = inner().state().devices.get(device.id)?.role;
    const officer = role === "root" || role === "handicapper";
    const listening = { today: options.clock.today(), standing: openings.standing, officer };
    const left = keyring.secrets().filter((one) => one.room !== room() && isListenedTo(one, listening));
    old.hear(left.flatMap((one) => keys.get(one.room) ?? []));
    old.tend();
  }

  /** Entries from an old room, those that are good. */
  async function takeOver(texts: readonly string[]): Promise<boolean> {
    const fresh = [...new Set(texts)].filter((text) => {
      const read = decodeEntry(text);
      return !read.ok || inner().signed(read.value.id) !== text;
    });
    if (fresh.length === 0) return true;
    const all = await inner().takeEntries(fresh);
    if (all.ok || all.fault.type === "not-saved") return all.ok;
    for (const text of fresh) {
      const one = await inner().takeEntries([text]);
      if (!one.ok && one.fault.type === "not-saved") return false;
    }
    return true;
  }

  function view(): EpochView {
    return {
      state: inner().state(),
      openings,
      inForce: openings.standing.find((one) => one.room === room()) ?? null,
      secret: keyring.secrets().find((one) => one.room === room()) as HeldSecret,
      arrived: known,
      ready: inner().halted() === null && (relay === null || isInStep(inner())),
      keyOf: inner().keyOf,
      barredByUs: (devices) => watch.barredByUs(devices, inner().counted()),
    };
  }

  const tending = createTending({
    options,
    view,
    inTurn: (run) => void inTurn(run).catch(() => undefined),
    save: async (drafts) => (await inner().append(drafts)).ok,
  });

  changed(true);

  return {
    changed: () => changed(false),
    async beforeWriting() {
      await settle();
      await leave();
    },
    known: () => known,
    settled: () => known || settled(),
    epochs: () => keyring.handedOver(room()),
    lock() {
      const { inForce, state } = view();
      return {
        ...inner().lock(),
        since: inForce?.at ?? null,
        due: epochDue(openings.standing, inForce, state.devices),
        owed: inForce === null ? [] : boxesOwed(inForce, state.devices),
        moving: moving || leavingFor !== null,
      };
    },
    pause: old.pause,
    resume: old.resume,
    close() {
      closed = true;
      tending.close();
      relay?.deps.clearTimeout(timer);
      return old.close();
    },
  };
}

function isInStep(book: Book): boolean {
  const connection = book.connection();
  return connection.type === "live" && connection.synced;
}
