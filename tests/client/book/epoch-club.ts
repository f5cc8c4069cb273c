/** A club of several devices at a real relay whose books follow their epochs, with the waits of minutes made short. */
import type { Book, BookOptions, Signer, WireDeps } from "@sward/client";
import { createSigner, openWire, systemRandom } from "@sward/client";
import type { BookId, Draft, EntryId, KeyId, PlayerId, Role } from "@sward/core";
import { openMovingBook } from "../../../packages/client/src/book/moving-book.ts";
import type { TestRelay } from "../../support/meeting.ts";
import { wireDeps } from "../../support/meeting.ts";
import type { Storage, TestBook } from "../../support/two-clubs.ts";
import { forgetful, optionsFor, until } from "../../support/two-clubs.ts";

/** A hundredth of every wait of more than a second. */
export const hastyDeps: WireDeps = {
  ...wireDeps,
  setTimeout: (run, after) => setTimeout(run, after > 1_000 ? after / 100 : after),
};

export interface TestDevice {
  readonly signer: Signer;
  readonly storage: Storage;
}

export const newDevice = async (): Promise<TestDevice> => ({
  signer: await createSigner(systemRandom(32)),
  storage: forgetful(),
});

export interface EpochClub {
  readonly book: TestBook;
  readonly devices: Readonly<Record<string, TestDevice>>;
  /** Opens a device's book. */
  open(name: string, more?: Partial<BookOptions>): Promise<Book>;
  options(name: string, more?: Partial<BookOptions>): BookOptions;
  keyId(name: string): KeyId;
}

/** Founds a club: `root`, and devices by name and role. Everything is stored at the relay when it resolves. */
export async function epochClub(relay: TestRelay, roles: Readonly<Record<string, Role>>): Promise<EpochClub> {
  const root: TestDevice = await newDevice();
  const book: TestBook = { book: root.signer.id as string as BookId, root: root.signer, secret: systemRandom(32) };
  const devices: Record<string, TestDevice> = { root };
  for (const name of Object.keys(roles)) devices[name] = await newDevice();
  const device = (name: string): TestDevice => devices[name] as TestDevice;
  const options = (name: string, more: Partial<BookOptions> = {}): BookOptions => ({
    ...optionsFor(book, device(name).signer, relay.origin, device(name).storage),
    relay: { url: relay.origin, open: openWire, deps: hastyDeps },
    ...more,
  });
  const club: EpochClub = {
    book,
    devices,
    options,
    open: (name, more) => openMovingBook(options(name, more)),
    keyId: (name) => device(name).signer.id,
  };
  const opened = await club.open("root", { freshKey: true });
  await save(opened, { kind: "book-opened", body: { root: root.signer.key, as: "club", name: "Turners" } });
  await save(
    opened,
    { kind: "rules-adopted", body: { rules: "england-2016", from: "2026-01-01" } },
    ...Object.entries(roles).map(
      ([name, role]): Draft => ({ kind: "device-admitted", body: { device: device(name).signer.key, role } }),
    ),
  );
  await until("the club is at the relay", () => opened.waiting() === 0);
  await opened.close();
  return club;
}

export async function save(book: Book, ...drafts: readonly Draft[]): Promise<readonly EntryId[]> {
  const saved = await book.append(drafts);
  if (!saved.ok) throw new Error(JSON.stringify(saved.fault));
  return saved.value;
}

/** Something to write: a visitor, by a number. */
export const visitor = (n: number): Draft => ({
  kind: "player-joined",
  body: { player: playerOf(n), standing: "visitor" },
});
export const playerOf = (n: number): PlayerId => Buffer.alloc(16, n).toString("base64url") as PlayerId;

/** Bars a device at the last entry that `book` has of it. */
export function barOf(book: Book, device: KeyId): Draft {
  const chain = [...book.counted()].map(({ entry }) => entry).filter(({ author }) => author === device);
  const last = chain.sort((a, b) => b.seq - a.seq)[0];
  return { kind: "device-barred", body: { device, last: last === undefined ? null : { seq: last.seq, id: last.id } } };
}

export const players = (book: Book): string =>
  [...book.state().players.keys()]
    .map((id) => Buffer.from(id, "base64url")[0])
    .sort((a, b) => (a ?? 0) - (b ?? 0))
    .join(" ");

export const number = (book: Book): number => book.lock().number;

export const ready = (book: Book, name = "book"): Promise<void> =>
  until(`${name} is in step`, () => book.caughtUp() && book.state().devices.has(book.device) && book.waiting() === 0);
