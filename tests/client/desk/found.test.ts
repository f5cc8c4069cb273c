/** A club founded with nothing at hand, found again with nothing but its words. Real keys, LevelDB and relay. */
import { mkdtemp, readdir, readFile, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Pass } from "@sward/client";
import { createSigner, openBook, seedOf, systemRandom } from "@sward/client";
import type { KeyId, PlayerId } from "@sward/core";
import { afterEach, beforeEach, expect, test } from "vitest";
import { foundClub, rootOf } from "../../../packages/client/src/desk/found.ts";
import { nodeBookOptions } from "../../../packages/client/src/desk/node.ts";
import { recoverClub } from "../../../packages/client/src/desk/recover.ts";
import type { OptionsFor } from "../../../packages/client/src/desk/settle.ts";
import { seedOfWords, wordsOf } from "../../../packages/client/src/keys/recovery.ts";
import { openWire } from "../../../packages/client/src/wire/wire.ts";
import type { TestRelay } from "../../support/meeting.ts";
import { relayWith, wireDeps } from "../../support/meeting.ts";
import { forgetful, optionsFor as optionsOf, until } from "../../support/two-clubs.ts";

const clock = { timestamp: () => "2026-08-20T10:00:00Z", today: () => "2026-08-20" };
const club = { name: "Larkfield Croquet Club", rules: "england-2016", from: "2026-01-01" } as const;
const first = { label: "Ines's laptop", holder: { name: "Ines Calder", short: "Ines C." } };
const second = { label: "Ines's new laptop", holder: { name: "Ines Calder", short: "Ines C." } };

let folder = "";
let relay: TestRelay;
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), "sward-found-"));
  relay = await relayWith();
});
afterEach(async () => {
  await relay.close();
  await rm(folder, { recursive: true });
});

const wired = () => ({ url: relay.origin, open: openWire, deps: wireDeps });
/** A folder for each device. */
const optionsFor =
  (met: ReturnType<typeof wired> | null): OptionsFor =>
  (device, book) =>
    nodeBookOptions(join(folder, device.id), device, book, met, clock);
const deps = () => ({ clock, randomBytes: systemRandom, optionsFor: optionsFor(null) });

async function founded(rootSeed = systemRandom(32), rootLabel: string | null = null) {
  const made = await foundClub(rootSeed, club, first, rootLabel, deps());
  if (!made.ok) throw new Error(JSON.stringify(made.fault));
  return { rootSeed, ...made.value };
}

const open = async (pass: Pass, met: ReturnType<typeof wired> | null) =>
  openBook(await optionsFor(met)(await createSigner(seedOf(pass)), pass.club));

test("a club founded without a relay is there after a restart: rules, this device as handicapper, whose it is", async () => {
  const { pass, rootPass, rootSeed } = await founded();
  expect(rootPass).toBeNull();
  const { root } = await rootOf(rootSeed);
  const book = await open(pass, null);
  const state = book.state();
  expect([state.as, state.name, book.id as string]).toEqual(["club", club.name, root.id]);
  expect(state.rules).toMatchObject([{ rules: "england-2016", from: "2026-01-01" }]);
  expect([...state.devices.values()].map(({ device, role }) => [device, role])).toEqual(
    expect.arrayContaining([
      [root.id, "root"],
      [book.device, "handicapper"],
    ]),
  );
  expect(book.roster.get(book.device)).toEqual({ ...first.holder, device: first.label });
  expect(state.uncounted.size).toBe(0);
  const player = Buffer.alloc(16, 7).toString("base64url") as PlayerId;
  expect((await book.append([{ kind: "player-joined", body: { player, standing: "member" } }])).ok).toBe(true);
  await book.close();
});

test("the root seed is nowhere on the disk of the device that founded, unless it was asked for", async () => {
  const bytesOnDisk = async (): Promise<Buffer> => {
    const files = await readdir(folder, { recursive: true, withFileTypes: true });
    const texts = files.filter((file) => file.isFile()).map((file) => readFile(join(file.parentPath, file.name)));
    return Buffer.concat(await Promise.all(texts));
  };
  const { rootSeed, pass } = await founded();
  const disk = await bytesOnDisk();
  expect(disk.includes((await createSigner(seedOf(pass))).id)).toBe(true);
  for (const form of ["base64url", "base64", "hex"] as const) {
    expect(disk.includes(Buffer.from(rootSeed).toString(form))).toBe(false);
  }
  expect(disk.includes(Buffer.from(rootSeed))).toBe(false);
  const kept = await founded(systemRandom(32), "the club's own key");
  expect(seedOf(kept.rootPass as Pass)).toEqual(kept.rootSeed);
  const root = await open(kept.rootPass as Pass, wired());
  // With a relay and its own chain at hand it may write at once.
  expect(root.halted()).toBeNull();
  expect(root.state().devices.get(root.device)?.role).toBe("root");
  await root.close();
});

test("the words alone find the club at a relay, and this device is admitted and may write", async () => {
  const { pass, rootSeed } = await founded();
  const before = await open(pass, wired());
  const player = Buffer.alloc(16, 9).toString("base64url") as PlayerId;
  expect((await before.append([{ kind: "player-joined", body: { player, standing: "member" } }])).ok).toBe(true);
  await before.roster.write(new Map([[player, { name: "Ada Wren", short: "Ada W." }]]));
  await until("stored", () => before.waiting() === 0);
  const lost = before.device;
  await before.close();
  await rm(folder, { recursive: true });

  const words = wordsOf(rootSeed).join(" ");
  const seed = seedOfWords(words);
  if (!seed.ok) throw new Error(seed.fault.type);
  const recovered = await recoverClub(seed.value, second, { ...deps(), relay: wired(), patience: 60_000 });
  if (!recovered.ok) throw new Error(JSON.stringify(recovered.fault));
  expect([recovered.value.name, recovered.value.entries]).toEqual([club.name, 4]);
  const book = await open(recovered.value.pass, wired());
  await until("the record is here", () => book.caughtUp() && book.state().devices.has(book.device));
  expect(book.state().devices.get(book.device)?.role).toBe("handicapper");
  expect(book.state().devices.get(lost as KeyId)?.role).toBe("handicapper");
  await until("names are here", () => [player, book.device].every((one) => book.roster.get(one) !== undefined));
  expect(book.roster.get(book.device)?.device).toBe(second.label);
  const set = { player, handicap: 8, from: "2026-04-01", basis: "initial", reason: "start" } as const;
  expect((await book.append([{ kind: "handicap-set", body: set }])).ok).toBe(true);
  // The root went on with its own chain: four entries of it, and no fork.
  const { root } = await rootOf(rootSeed);
  expect(book.state().devices.get(root.id)).toMatchObject({ counted: 4, forkedAt: null });
  await book.close();
});

test("words of no club and a relay out of reach are told apart", async () => {
  const nothing = await recoverClub(systemRandom(32), first, { ...deps(), relay: wired(), patience: 5_000 });
  expect(nothing).toMatchObject({ ok: false, fault: { type: "recover-nothing-there" } });
  const away = { ...wired(), url: "http://127.0.0.1:1" };
  const silent = await recoverClub(systemRandom(32), first, { ...deps(), relay: away, patience: 300 });
  expect(silent).toMatchObject({ ok: false, fault: { type: "recover-no-relay", connection: "connecting" } });
});

test("a key made here and now need not wait for a relay; any other with an empty vault must", async () => {
  const { root, club: book } = await rootOf(systemRandom(32));
  const away = "http://127.0.0.1:1";
  const options = optionsOf({ book: book.book, root, secret: systemRandom(32) }, root, away, forgetful());
  const opening = { kind: "book-opened", body: { root: root.key, as: "club", name: "Testers" } } as const;
  const old = await openBook(options);
  expect(await old.append([opening])).toMatchObject({ ok: false, fault: { type: "not-caught-up" } });
  await old.close();
  const fresh = await openBook({ ...options, ...forgetful(), freshKey: true });
  expect((await fresh.append([opening])).ok).toBe(true);
  await fresh.close();
});
