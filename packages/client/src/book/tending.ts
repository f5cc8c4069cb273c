/**
 * What a book's epochs ask of an officer's device, done without anybody pressing anything: after a bar the next epoch is opened, and
 * who is owed a box of the one in force is given one. Whoever barred does it at once, offline too; the others wait first, each for a time
 * of its own, so that as a rule one of them does it, and whatever a crash or a lost device left undone is done by the next one who looks.
 * Two who do it at the same time harm nobody (core's `authority/epochs.ts`).
 *
 * Rejected: opening the next epoch in the same saving as the bar (a bar by a device that then breaks, or by an older version, would wait
 * for ever all the same) and a button (people would forget it, and the barred device would read on).
 */
import type { BookState, Draft, KeyId, PublicKey, StandingEpoch } from "@sward/core";
import { boxesOwed, epochDue, nextEpochNumber } from "@sward/core";
import { deriveEpoch } from "../keys/book-keys.ts";
import type { HeldSecret, Openings } from "./keyring.ts";
import type { BookOptions } from "./options.ts";

/** How a book's epochs stand for this device. */
export interface EpochView {
  readonly state: Pick<BookState, "devices">;
  readonly openings: Openings;
  /** Null in epoch 0. */
  readonly inForce: StandingEpoch | null;
  /** The secret it writes under. */
  readonly secret: HeldSecret;
  /** Holds all of its own chain, and has found the room where the book is now. */
  readonly arrived: boolean;
  /** May write now, and has read all there is; or meets no relay. */
  readonly ready: boolean;
  readonly keyOf: (device: KeyId) => PublicKey | undefined;
  /** Whether this device itself barred one of these. */
  readonly barredByUs: (devices: readonly KeyId[]) => boolean;
}

export interface Tending {
  /** Something may have changed. */
  look(): void;
  close(): void;
}

export interface TendingDeps {
  readonly options: Pick<BookOptions, "book" | "device" | "relay" | "randomBytes">;
  readonly view: () => EpochView;
  /** When nobody else is at work in the book. */
  readonly inTurn: (run: () => Promise<void>) => void;
  readonly save: (drafts: readonly Draft[]) => Promise<boolean>;
}

type Duty =
  | { readonly type: "open"; readonly at: "once" | "soon" | "late" }
  | { readonly type: "give"; readonly to: readonly KeyId[]; readonly at: "soon" };

const waits = { once: 0, soon: 30_000, late: 180_000 } as const;

/** Boxes in one entry, so that it stays well below what an entry may be. */
const BOXES = 40;

export function createTending({ options, view, inTurn, save }: TendingDeps): Tending {
  const { book, device, relay, randomBytes } = options;
  /** Devices whose key cannot be sealed to: there is nobody behind it. */
  const hopeless = new Set<KeyId>();
  let timer: unknown = null;
  let waitingFor: keyof typeof waits | null = null;

  function duty(): Duty | null {
    const { state, openings, inForce, barredByUs, arrived } = view();
    if (!arrived) return null;
    const own = state.devices.get(device.id);
    if (own === undefined || own.barred || (own.role !== "handicapper" && own.role !== "root")) return null;
    const due = epochDue(openings.standing, inForce, state.devices);
    if (due?.type === "barred-inside") return { type: "open", at: barredByUs(due.devices) ? "once" : "soon" };
    if (due?.type === "left-out") return { type: "open", at: "late" };
    const to = inForce === null ? [] : boxesOwed(inForce, state.devices).filter((one) => !hopeless.has(one));
    return to.length === 0 ? null : { type: "give", to, at: "soon" };
  }

  function look(): void {
    const at = duty()?.at ?? null;
    if (at === waitingFor && at !== "once") return;
    stop();
    if (at === "once") inTurn(attend);
    else if (at !== null && relay !== null) {
      const { setTimeout, random } = relay.deps;
      waitingFor = at;
      timer = setTimeout(
        () => {
          waitingFor = null;
          inTurn(attend);
        },
        waits[at] * (0.5 + random()),
      );
    }
  }

  function stop(): void {
    relay?.deps.clearTimeout(timer);
    waitingFor = null;
  }

  async function attend(): Promise<void> {
    const now = duty();
    if (now === null) return;
    if (now.at !== "once" && !view().ready) {
      look();
      return;
    }
    if (now.type === "open") await open();
    else await give(now.to);
  }

  async function open(): Promise<void> {
    const { state, openings, secret: before } = view();
    const number = nextEpochNumber(openings.standing);
    const secret = randomBytes(32);
    const { room } = await deriveEpoch(book, { epoch: number, secret });
    const barred = [...state.devices.values()].filter((one) => one.barred).map((one) => one.device);
    const boxes = await boxesFor(boxesOwed(null, state.devices), secret);
    const shared = { number, room, from: before.epoch };
    await save(draftsOf(shared, boxes, barred));
  }

  async function give(to: readonly KeyId[]): Promise<void> {
    const { secret } = view();
    const boxes = await boxesFor(to, secret.secret);
    if (boxes.length === 0) return;
    await save(draftsOf({ number: secret.epoch, room: secret.room, from: secret.epoch }, boxes, []));
  }

  async function boxesFor(to: readonly KeyId[], secret: Uint8Array): Promise<Box[]> {
    const { keyOf } = view();
    // Needed once in a long while: not part of what is fetched before a page can be seen.
    const { sealBox } = await import("../keys/agreement.ts");
    const boxes: Box[] = [];
    for (const one of to) {
      const key = keyOf(one);
      const box = key === undefined ? null : await sealBox(key, secret);
      if (box === null) hopeless.add(one);
      else boxes.push({ to: one, box });
    }
    return boxes;
  }

  return { look, close: stop };
}

interface Box {
  readonly to: KeyId;
  readonly box: string;
}

/** Most barred devices named in one entry; of more than that the first entries name the rest. */
const BARRED = 150;

function draftsOf(
  shared: { readonly number: number; readonly room: PublicKey; readonly from: number },
  boxes: readonly Box[],
  without: readonly KeyId[],
): Draft[] {
  const count = Math.max(1, Math.ceil(boxes.length / BOXES), Math.ceil(without.length / BARRED));
  return Array.from({ length: count }, (_, n) => ({
    kind: "epoch-opened",
    body: {
      ...shared,
      without: without.slice(n * BARRED, (n + 1) * BARRED),
      boxes: boxes.slice(n * BOXES, (n + 1) * BOXES),
    },
  }));
}
