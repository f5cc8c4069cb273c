/** A league opened, clubs admitted by their root keys, and devices that come in with and without a network. Real keys and relay. */
import type { Book, Pass, Signer } from "@sward/client";
import { createSigner, openBook, openDesk, seedOf, systemRandom } from "@sward/client";
import type { KeyId } from "@sward/core";
import { afterEach, beforeEach, expect, test } from "vitest";
import { foundClub, rootOf } from "../../../packages/client/src/desk/found.ts";
import { joinLeague } from "../../../packages/client/src/desk/join-league.ts";
import { foundLeague } from "../../../packages/client/src/desk/league-office.ts";
import { bookPassOf } from "../../../packages/client/src/desk/pass.ts";
import { recoverClub } from "../../../packages/client/src/desk/recover.ts";
import type { OptionsFor } from "../../../packages/client/src/desk/settle.ts";
import type { LeagueWelcome } from "../../../packages/client/src/league/joining.ts";
import { openWire } from "../../../packages/client/src/wire/wire.ts";
import type { TestRelay } from "../../support/meeting.ts";
import { relayWith, wireDeps } from "../../support/meeting.ts";
import type { Storage } from "../../support/two-clubs.ts";
import { forgetful, until } from "../../support/two-clubs.ts";

const clock = { timestamp: () => "2026-08-20T10:00:00Z", today: () => "2026-08-20" };
const rules = { rules: "england-2016", from: "2026-01-01" } as const;
const holder = { name: "Ines Calder", short: "Ines C." };
const inLeague = { name: "Larkfield", short: "Larkfield", device: "tablet" };

let relay: TestRelay;
let storages: Map<string, Storage>;
beforeEach(async () => {
  relay = await relayWith();
  storages = new Map();
});
afterEach(() => relay.close());

const wired = () => ({ url: relay.origin, open: openWire, deps: wireDeps });
/** Storage of its own for each device and book, kept for as long as the test. */
const optionsWith =
  (met: ReturnType<typeof wired> | null): OptionsFor =>
  async (device, book) => {
    const name = `${device.id}/${book.book}`;
    const storage = storages.get(name) ?? forgetful();
    storages.set(name, storage);
    const epochs = book.epochs.map(({ epoch, secret }) => ({
      epoch,
      secret: new Uint8Array(Buffer.from(secret, "base64url")),
    }));
    const options = { book: book.book, device, epochs, ...storage, relay: met, clock };
    return { ...options, randomBytes: systemRandom, entriesPerBlock: 50 };
  };
const deps = () => ({
  clock,
  randomBytes: systemRandom,
  optionsFor: optionsWith(null),
  relay: wired(),
  patience: 60_000,
});

const openLeague = async (pass: Pass, met: ReturnType<typeof wired> | null): Promise<Book> =>
  openBook(await optionsWith(met)(await createSigner(seedOf(pass)), pass.leagues[0]!));

async function league(seed = systemRandom(32), rootLabel: string | null = "the league's key") {
  const made = await foundLeague(
    seed,
    { name: "Osier League", ...rules },
    "Osier office",
    { label: "laptop", holder },
    rootLabel,
    deps(),
  );
  if (!made.ok) throw new Error(JSON.stringify(made.fault));
  return made.value;
}

interface TestClub {
  readonly seed: Uint8Array;
  readonly root: Signer;
  readonly pass: Pass;
  readonly device: KeyId;
}

async function club(name: string): Promise<TestClub> {
  const seed = systemRandom(32);
  const made = await foundClub(seed, { name, ...rules }, { label: "tablet", holder }, null, deps());
  if (!made.ok) throw new Error(JSON.stringify(made.fault));
  const { pass } = made.value;
  return { seed, pass, root: (await rootOf(seed)).root, device: (await createSigner(seedOf(pass))).id };
}

const welcomeFrom = (book: Book, admitted = false): LeagueWelcome => ({
  league: bookPassOf(book),
  name: book.state().name,
  admitted,
  record: { entries: [...book.entries()].map(({ jws }) => jws), names: book.roster.envelopes() },
});

const admits = async (book: Book, { root }: TestClub, name: string) =>
  expect((await book.append([{ kind: "club-admitted", body: { club: root.key, name } }])).ok).toBe(true);

test("a league's officer has the league beside an office of its own, and only the kept root may admit clubs", async () => {
  const { pass, rootPass } = await league();
  const [office, root] = [await openLeague(pass, null), await openLeague(rootPass!, null)];
  expect(office.state()).toMatchObject({ as: "league", name: "Osier League" });
  expect(office.state().devices.get(office.device)).toMatchObject({ role: "handicapper", club: null });
  expect(pass.club.book).not.toBe(pass.leagues[0]!.book);
  const north = await club("Larkfield");
  const draft = { kind: "club-admitted", body: { club: north.root.key, name: "Larkfield" } } as const;
  expect(await office.append([draft])).toMatchObject({ ok: false });
  expect((await root.append([draft])).ok).toBe(true);
  for (const book of [office, root]) await book.close();
  const desk = await openDesk({
    club: await optionsWith(null)(await createSigner(seedOf(pass)), pass.club),
    leagues: [await optionsWith(null)(await createSigner(seedOf(pass)), pass.leagues[0]!)],
  });
  expect(desk.club.state()).toMatchObject({ as: "club", name: "Osier office" });
  expect(desk.club.state().devices.get(desk.club.device)?.role).toBe("handicapper");
  await desk.close();
  expect((await league(systemRandom(32), null)).rootPass).toBe(null);
});

test("by file and without any network a club joins with its words, and writes in the league at once", async () => {
  const { rootPass } = await league();
  const root = await openLeague(rootPass!, null);
  const north = await club("Larkfield");
  await admits(root, north, "Larkfield");
  const refused = await joinLeague((await club("Other")).seed, north.pass, welcomeFrom(root), inLeague, deps());
  expect(refused).toEqual({ ok: false, fault: { type: "words-of-another-club" } });
  expect(await joinLeague(null, north.pass, welcomeFrom(root), inLeague, deps())).toEqual({
    ok: false,
    fault: { type: "league-needs-words" },
  });
  const joined = await joinLeague(north.seed, north.pass, welcomeFrom(root), inLeague, deps());
  if (!joined.ok) throw new Error(JSON.stringify(joined.fault));
  const ours = await openLeague(joined.value, null);
  expect(ours.state().devices.get(north.device)).toMatchObject({ role: "handicapper", club: north.root.id });
  expect(ours.roster.get(north.device)).toEqual(inLeague);
  const player = Buffer.alloc(16, 7).toString("base64url") as never;
  const home = { book: north.pass.club.book };
  expect((await ours.append([{ kind: "player-joined", body: { player, standing: "visitor", home } }])).ok).toBe(true);
  // What was written far from any relay is the league's when both meet one.
  await ours.close();
  const met = await openLeague(joined.value, wired());
  await root.close();
  const office = await openLeague(rootPass!, wired());
  await until("the league has it", () => office.state().players.size === 1);
  expect(office.state().uncounted.size).toBe(0);
  for (const book of [met, office]) await book.close();
});

test("without the record, or when the club's root has signed here before, the relay is asked; a second device needs no words", async () => {
  const { rootPass } = await league();
  const root = await openLeague(rootPass!, wired());
  const [north, tablet] = [await club("Larkfield"), await club("Larkfield tablet")];
  const bare = { ...welcomeFrom(root), record: null };
  expect(await joinLeague(north.seed, north.pass, bare, inLeague, deps())).toMatchObject({
    ok: false,
    fault: { type: "league-without-club", league: "Osier League" },
  });
  await admits(root, north, "Larkfield");
  await until("stored", () => root.waiting() === 0);
  const joined = await joinLeague(north.seed, north.pass, bare, inLeague, deps());
  if (!joined.ok) throw new Error(JSON.stringify(joined.fault));
  const ours = await openLeague(joined.value, wired());
  expect(ours.state().devices.get(north.device)?.club).toBe(north.root.id);
  const second: Pass = { ...tablet.pass, club: north.pass.club };
  await until("the league knows the device", () => root.state().devices.has(north.device));
  const again = await joinLeague(north.seed, second, welcomeFrom(root), inLeague, deps());
  if (!again.ok) throw new Error(JSON.stringify(again.fault));
  await until("the second is in", () => root.state().devices.has(tablet.device));
  expect(root.state().uncounted.size).toBe(0);
  const third = await club("phone");
  const key = (await createSigner(seedOf(third.pass))).key;
  expect((await ours.append([{ kind: "device-admitted", body: { device: key, role: "recorder" } }])).ok).toBe(true);
  const in3 = await joinLeague(
    null,
    { ...third.pass, club: north.pass.club },
    welcomeFrom(ours, true),
    inLeague,
    deps(),
  );
  if (!in3.ok) throw new Error(JSON.stringify(in3.fault));
  const phone = await openLeague(in3.value, null);
  expect(phone.state().devices.get(third.device)).toMatchObject({ role: "recorder", club: north.root.id });
  for (const book of [root, ours, phone]) await book.close();
});

test("a league is found again with its words, as a league", async () => {
  const seed = systemRandom(32);
  const { pass } = await league(seed, null);
  const office = await openLeague(pass, wired());
  await until("stored", () => office.waiting() === 0 && office.connection().type === "live");
  await office.close();
  const found = await recoverClub(seed, { label: "new laptop", holder }, deps());
  expect(found).toMatchObject({ ok: true, value: { as: "league", name: "Osier League" } });
});
