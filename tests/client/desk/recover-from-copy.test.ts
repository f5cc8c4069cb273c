/** Relay gone, every handicapper's device gone: the words and one member's device are enough. Real keys, LevelDB and relay. */
import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Pass } from "@sward/client";
import { createSigner, openBook, seedOf, systemRandom } from "@sward/client";
import type { PlayerId } from "@sward/core";
import fc from "fast-check";
import { afterEach, beforeEach, expect, test } from "vitest";
import { readClubCopy, writeClubCopy } from "../../../packages/client/src/desk/club-copy.ts";
import { foundClub, newDevice, rootOf } from "../../../packages/client/src/desk/found.ts";
import { nodeBookOptions } from "../../../packages/client/src/desk/node.ts";
import { recoverFromCopy } from "../../../packages/client/src/desk/recover-from-copy.ts";
import type { OptionsFor } from "../../../packages/client/src/desk/settle.ts";
import { settleDevice } from "../../../packages/client/src/desk/settle.ts";
import { writeRecordFile } from "../../../packages/client/src/record/write.ts";
import { openWire } from "../../../packages/client/src/wire/wire.ts";
import { relayWith, wireDeps } from "../../support/meeting.ts";
import { stateText } from "../../support/state-text.ts";
import { until } from "../../support/two-clubs.ts";

const clock = { timestamp: () => "2026-08-20T10:00:00Z", today: () => "2026-08-20" };
const club = { name: "Larkfield Croquet Club", rules: "england-2016", from: "2026-01-01" } as const;
const ines = { label: "Ines's laptop", holder: { name: "Ines Calder", short: "Ines C." } };
const inesAgain = { label: "Ines's new laptop", holder: ines.holder };
const player = Buffer.alloc(16, 9).toString("base64url") as PlayerId;

let folder = "";
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), "sward-copy-"));
});
afterEach(() => rm(folder, { recursive: true }));

const optionsFor =
  (relay: string | null): OptionsFor =>
  (device, book) =>
    nodeBookOptions(
      join(folder, device.id),
      device,
      book,
      relay === null ? null : { url: relay, open: openWire, deps: wireDeps },
      clock,
    );
const deps = () => ({ clock, randomBytes: systemRandom, optionsFor: optionsFor(null) });
const open = async (pass: Pass, relay: string | null = null) =>
  openBook(await optionsFor(relay)(await createSigner(seedOf(pass)), pass.club));

/** A club with a member, and the passes of its handicapper and of a reader that holds all of it. */
async function clubWithReader() {
  const rootSeed = systemRandom(32);
  const founded = await foundClub(rootSeed, club, ines, null, deps());
  if (!founded.ok) throw new Error(founded.fault.type);
  const book = await open(founded.value.pass);
  const { club: pass } = await rootOf(rootSeed);
  const reader = await newDevice("Cass's phone", pass, systemRandom);
  for (const draft of [
    { kind: "player-joined", body: { player, standing: "member" } },
    {
      kind: "handicap-set",
      body: { player, handicap: 8, from: "2026-04-01", basis: "initial", reason: "came with a card" },
    },
    { kind: "device-admitted", body: { device: reader.device.key, role: "reader" } },
  ] as const) {
    const saved = await book.append([draft]);
    if (!saved.ok) throw new Error(saved.fault.type);
  }
  await book.roster.write(new Map([[player, { name: "Ada Wren", short: "Ada W." }]]));
  const record = { entries: [...book.entries()].map(({ jws }) => jws), names: book.roster.envelopes() };
  await book.close();
  const settled = await settleDevice(reader.pass, record, optionsFor(null));
  if (!settled.ok) throw new Error(settled.fault.type);
  return { rootSeed, lost: founded.value.pass, reader: reader.pass };
}

test("the words and a reader's copy: all entries and names are back, the device writes, and a new relay is filled", async () => {
  const { rootSeed, lost, reader } = await clubWithReader();
  await rm(join(folder, (await createSigner(seedOf(lost))).id), { recursive: true });
  const left = await open(reader);
  const before = stateText(left.state());
  const file = writeClubCopy(left);
  expect(file).not.toContain("Ada Wren");
  const copy = readClubCopy(file);
  if (!copy.ok) throw new Error(copy.fault.type);
  const recovered = await recoverFromCopy(rootSeed, inesAgain, copy.value, deps());
  if (!recovered.ok) throw new Error(recovered.fault.type);
  expect([recovered.value.name, recovered.value.entries]).toEqual([club.name, left.state().entries]);

  const relay = await relayWith();
  const again = await open(recovered.value.pass, relay.origin);
  expect(again.state().cards.get(player)).toEqual(left.state().cards.get(player));
  expect(again.roster.get(player)).toEqual({ name: "Ada Wren", short: "Ada W." });
  expect(again.roster.get(again.device)?.device).toBe(inesAgain.label);
  expect(again.state().devices.get(again.device)).toMatchObject({ role: "handicapper", forkedAt: null });
  expect(again.state().uncounted.size).toBe(0);
  expect(stateText(left.state())).toBe(before);
  await until("the relay has it", () => again.connection().type === "live" && again.waiting() === 0);
  const set = { player, handicap: 7, from: "2026-08-20", basis: "discretionary", reason: "watched" } as const;
  expect((await again.append([{ kind: "handicap-set", body: set }])).ok).toBe(true);
  // The reader's device meets the new relay and has the new handicapper's word.
  await left.close();
  const met = await open(reader, relay.origin);
  await until("it is here", () => met.digest() === again.digest());
  await met.close();
  await again.close();
  await relay.close();
});

test("a record file does as well, without names; another club's words open neither", async () => {
  const { rootSeed, reader } = await clubWithReader();
  const left = await open(reader);
  const written = await writeRecordFile(left, await createSigner(seedOf(reader)), {
    player: null,
    at: clock.timestamp(),
  });
  if (!written.ok) throw new Error(written.fault.type);
  const copy = readClubCopy(written.value.text);
  if (!copy.ok) throw new Error(copy.fault.type);
  const recovered = await recoverFromCopy(rootSeed, inesAgain, copy.value, deps());
  if (!recovered.ok) throw new Error(recovered.fault.type);
  const again = await open(recovered.value.pass);
  expect(again.state().entries).toBe(left.state().entries + 1);
  expect(again.roster.get(player)).toBeUndefined();
  const wrong = await recoverFromCopy(systemRandom(32), inesAgain, copy.value, deps());
  expect(wrong).toEqual({ ok: false, fault: { type: "copy-of-another-club" } });
  // An entry that was changed lets none of them in.
  const [first = "", ...rest] = copy.value.entries;
  const broken = `${first.slice(0, -20)}${first.slice(-20) === "A".repeat(20) ? "B" : "A"}${first.slice(-19)}`;
  const forged = await recoverFromCopy(rootSeed, inesAgain, { ...copy.value, entries: [broken, ...rest] }, deps());
  expect(forged.ok).toBe(false);
  await again.close();
  await left.close();
});

const SEED = 20_261_125;

test(`whatever a file holds, reading it as a copy throws nothing, seed ${SEED}`, async () => {
  const { reader } = await clubWithReader();
  const left = await open(reader);
  const file = writeClubCopy(left);
  await left.close();
  let refused = 0;
  const mutated = fc.tuple(fc.nat(file.length - 1), fc.nat(12), fc.string({ maxLength: 12 }));
  fc.assert(
    fc.property(mutated, ([at, cut, put]) => {
      if (!readClubCopy(file.slice(0, at) + put + file.slice(at + cut)).ok) refused += 1;
    }),
    { seed: SEED, numRuns: 300 },
  );
  fc.assert(
    fc.property(fc.oneof(fc.string(), fc.json()), (text) => {
      if (!readClubCopy(text).ok) refused += 1;
    }),
    { seed: SEED, numRuns: 500 },
  );
  expect(refused).toBeGreaterThan(500);
  expect(readClubCopy('{"v": 2, "sward": "club copy"}')).toEqual({ ok: false, fault: { type: "copy-newer" } });
  expect(readClubCopy(file).ok).toBe(true);
});
