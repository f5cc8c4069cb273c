/** What goes wrong with a change of epoch, by accident or by a handicapper's ill will; real keys, sockets and relay. */
import type { Book } from "@sward/client";
import { createSigner, openBook, systemRandom } from "@sward/client";
import type { BookId, Draft, KeyId, PublicKey } from "@sward/core";
import { afterEach, beforeEach, expect, test, vi } from "vitest";
import { openMovingBook } from "../../../packages/client/src/book/moving-book.ts";
import { bookPassOf, epochsOf } from "../../../packages/client/src/desk/pass.ts";
import { sealBox } from "../../../packages/client/src/keys/agreement.ts";
import { deriveEpoch } from "../../../packages/client/src/keys/book-keys.ts";
import type { TestRelay } from "../../support/meeting.ts";
import { relayWith } from "../../support/meeting.ts";
import { forgetful, until } from "../../support/two-clubs.ts";
import type { EpochClub } from "./epoch-club.ts";
import { barOf, epochClub, hastyDeps, number, playerOf, players, ready, save, visitor } from "./epoch-club.ts";

let relay: TestRelay;
const open = new Set<Book>();
beforeEach(async () => {
  relay = await relayWith();
});
afterEach(async () => {
  for (const book of open) await book.close();
  open.clear();
  await relay.close();
});
const kept = async (book: Promise<Book>): Promise<Book> => {
  const opened = await book;
  open.add(opened);
  await ready(opened);
  return opened;
};
const closed = async (book: Book): Promise<void> => {
  open.delete(book);
  await book.close();
};
const roles = { ada: "handicapper", bea: "handicapper", ben: "recorder", cat: "recorder" } as const;

/** An opening as somebody may write it: of any room, with boxes of any secret to any devices. */
async function opening(
  book: BookId,
  { number, from = number - 1, secret = systemRandom(32), inside = secret, to = [] }: OpeningOptions,
): Promise<Draft> {
  const { room } = await deriveEpoch(book, { epoch: number, secret });
  const boxes = await Promise.all(
    to.map(async ([id, key]) => ({ to: id, box: (await sealBox(key, inside)) ?? "none" })),
  );
  return { kind: "epoch-opened", body: { number, from, room, without: [], boxes } };
}
interface OpeningOptions {
  readonly number: number;
  readonly from?: number;
  readonly secret?: Uint8Array;
  /** What the boxes hold, where that is not the secret. */
  readonly inside?: Uint8Array;
  readonly to?: readonly (readonly [KeyId, PublicKey])[];
}
const addresses = (club: EpochClub, ...names: string[]) =>
  names.map((name) => [club.keyId(name), club.devices[name]!.signer.key] as const);

test("a crash between the bar and the next epoch: it is opened at the next start", async () => {
  const club = await epochClub(relay, roles);
  // The same vault, and nobody who tends epochs.
  const before = await kept(openBook(club.options("ada")));
  await save(before, barOf(before, club.keyId("ben")));
  await closed(before);
  const ada = await openMovingBook(club.options("ada"));
  open.add(ada);
  await until("it is opened", () => number(ada) === 1 && ada.lock().due === null);
  expect((await ada.append([visitor(1)])).ok).toBe(true);
});

test("whoever barred never comes back: another handicapper opens the next epoch", async () => {
  const club = await epochClub(relay, roles);
  const ada = await kept(openBook(club.options("ada")));
  await save(ada, barOf(ada, club.keyId("ben")));
  await until("stored", () => ada.waiting() === 0);
  await closed(ada);
  const [bea, cat] = [await kept(club.open("bea")), await kept(club.open("cat"))];
  await until("by the other one", () => number(bea) === 1 && number(cat) === 1);
  await until("settled", () => bea.lock().due === null && bea.lock().owed.length === 0);
  expect(
    [...bea.counted()].filter(({ entry }) => entry.kind === "epoch-opened").map(({ entry }) => entry.author),
  ).toEqual([bea.device]);
});

test("an opening with boxes for nobody moves nobody, and the next one puts it right", async () => {
  const club = await epochClub(relay, roles);
  const [ada, bea, cat] = [await kept(club.open("ada")), await kept(club.open("bea")), await kept(club.open("cat"))];
  await save(ada, await opening(ada.id, { number: 1 }));
  await save(cat, visitor(1));
  await until("it goes on", () => players(bea) === "1");
  // Two who look at the same moment both open one, and all go on to the later.
  const together = () => new Set([ada, bea, cat].map((one) => one.lock().room)).size === 1;
  await until("together further on", () => together() && number(cat) >= 2 && !ada.lock().moving, 20_000);
  await save(cat, visitor(2));
  await until("in one room", () => [ada, bea].every((one) => players(one) === "1 2"));
});

test("boxes that hold another secret than the entry names are not gone by", async () => {
  const club = await epochClub(relay, roles);
  const [ada, cat] = [await kept(openBook(club.options("ada"))), await kept(club.open("cat"))];
  const to = addresses(club, "ada", "bea", "cat", "root");
  await save(ada, await opening(ada.id, { number: 1, inside: systemRandom(32), to }));
  await save(ada, await opening(ada.id, { number: 2, inside: systemRandom(31), to }));
  await until(
    "cat has them",
    () => [...cat.counted()].filter(({ entry }) => entry.kind === "epoch-opened").length === 2,
  );
  await save(cat, visitor(1));
  await until("heard where all still are", () => players(ada) === "1");
  expect(number(cat)).toBe(0);
});

test("a handicapper who gives the secret to some only parts the club for a moment, and loses nobody's entries", async () => {
  const club = await epochClub(relay, roles);
  const [bea, cat, ben] = [await kept(club.open("bea")), await kept(club.open("cat")), await kept(club.open("ben"))];
  const ada = await kept(openBook(club.options("ada")));
  await save(ada, await opening(ada.id, { number: 1, to: addresses(club, "cat") }));
  await until("one of them went there", () => number(cat) === 1);
  await save(cat, visitor(1));
  await save(ben, visitor(2));
  await until(
    "all are together",
    () => [bea, cat, ben].every((one) => number(one) >= 2 && players(one) === "1 2"),
    20_000,
  );
  expect(new Set([bea, cat, ben].map((one) => one.lock().room)).size).toBe(1);
});

test("a device that was forgotten is given its box, and so is one that was admitted meanwhile; a key that is none stops nothing", async () => {
  const club = await epochClub(relay, roles);
  const bea = await kept(club.open("bea"));
  const nobody = {
    kind: "device-admitted",
    body: { device: `AQ${"A".repeat(41)}` as PublicKey, role: "reader" },
  } as const;
  await save(bea, nobody);
  const ada = await kept(openBook(club.options("ada")));
  await save(ada, await opening(ada.id, { number: 1, to: addresses(club, "ada", "bea", "cat") }));
  await until("moved", () => number(bea) === 1 && bea.waiting() === 0);
  const late = await createSigner(systemRandom(32));
  await save(bea, { kind: "device-admitted", body: { device: late.key, role: "recorder" } });
  await until("boxes are given", () => bea.lock().owed.length === 1, 20_000);
  await save(bea, visitor(1));
  // In their old pass there is only the first epoch: they find their box where they look.
  for (const name of ["root", "ben"]) {
    const one = await kept(club.open(name));
    await until(`${name} is there`, () => number(one) === 1 && players(one) === "1");
  }
  const newcomer = await openMovingBook({ ...club.options("root"), ...forgetful(), device: late });
  open.add(newcomer);
  await until("the newcomer too", () => number(newcomer) === 1 && players(newcomer) === "1", 20_000);
});

test("a device invited later is handed every epoch, and reads what was sealed in the first", async () => {
  const club = await epochClub(relay, roles);
  const ada = await kept(club.open("ada"));
  await ada.roster.write(new Map([[playerOf(1), { name: "Una Larch", short: "Una L." }]]));
  await save(ada, visitor(1));
  await save(ada, barOf(ada, club.keyId("ben")));
  await until("moved", () => number(ada) === 1 && ada.waiting() === 0);
  const device = await createSigner(systemRandom(32));
  await save(ada, { kind: "device-admitted", body: { device: device.key, role: "recorder" } });
  const pass = bookPassOf(ada);
  expect(pass.epochs.map(({ epoch }) => epoch)).toEqual([0, 1]);
  const joined = await kept(
    openMovingBook({
      ...club.options("root"),
      ...forgetful(),
      device,
      epochs: epochsOf(pass),
      relay: club.options("ada").relay,
    }),
  );
  expect([number(joined), players(joined)]).toEqual([1, "1"]);
  await until("the old name is read", () => joined.roster.get(playerOf(1))?.name === "Una Larch");
});

test("the words still lead to the club after two changes, also at a relay that has only what devices brought it", async () => {
  const club = await epochClub(relay, roles);
  const ada = await kept(club.open("ada"));
  await save(ada, barOf(ada, club.keyId("ben")));
  await until("moved", () => number(ada) === 1 && ada.waiting() === 0);
  await save(ada, visitor(1));
  await save(ada, barOf(ada, club.keyId("cat")));
  await until("moved again", () => number(ada) === 2 && ada.waiting() === 0);
  await closed(ada);
  await relay.close();

  relay = await relayWith();
  const deps = { relay: { ...club.options("ada").relay!, url: relay.origin, deps: hastyDeps } };
  const again = await kept(openMovingBook({ ...club.options("ada"), ...deps }));
  expect(number(again)).toBe(2);
  // Else the root would find an empty room, and nobody could tell it that it has written more than the signposts show.
  await until("the room has been filled again", () => again.waiting() === 0);
  // The barred ones find the signposts of their room there, and no more.
  const ben = await openBook({ ...club.options("ben"), ...forgetful(), ...deps });
  open.add(ben);
  const kinds = () => [...ben.counted()].map(({ entry }) => entry.kind);
  await until("the signposts are up", () => kinds().includes("device-barred") && kinds().includes("epoch-opened"));
  expect(players(ben)).toBe("");
  const root = await openMovingBook({ ...club.options("root"), ...forgetful(), ...deps });
  open.add(root);
  await until("the root is there", () => root.caughtUp() && number(root) === 2 && players(root) === "1", 20_000);
  await save(root, visitor(2));
  await until("and may go on", () => players(again) === "1 2");
  expect(root.state().devices.get(root.device)?.forkedAt).toBe(null);
  expect(players(ben)).toBe("");
});

test("what comes while a secret is derived leads further before the own chain counts as read", async () => {
  const club = await epochClub(relay, roles);
  const ada = await kept(club.open("ada"));
  await save(ada, barOf(ada, club.keyId("ben")));
  await until("moved", () => number(ada) === 1 && ada.waiting() === 0);

  // The root comes with nothing. Its room's keys are made once for the book and twice for what follows it; the last time takes so long
  // that everything the first room has is here before.
  let root: Book | null = null;
  let derivations = 0;
  const deriveKey = crypto.subtle.deriveKey.bind(crypto.subtle);
  const slowly = vi.spyOn(crypto.subtle, "deriveKey").mockImplementation(async (...asked) => {
    derivations += 1;
    if (derivations === 3) {
      await until("signposts are here", () => [...(root?.counted() ?? [])].length > 3 && root?.waiting() === 0);
      // The room has been met by then; how soon after is for the worse only.
      await new Promise((later) => setTimeout(later, 100));
    }
    return deriveKey(...asked);
  });
  try {
    root = await openMovingBook({ ...club.options("root"), ...forgetful() });
    open.add(root);
    const back = root;
    // Told of with every change: a room that was not met yet was not read either.
    const unmet: string[] = [];
    back.subscribe(() => {
      const { type } = back.connection();
      if (number(back) === 1 && back.caughtUp() && type !== "live") unmet.push(type);
    });
    await until("it may write", () => number(back) === 1 && back.caughtUp() && back.waiting() === 0);
    expect(derivations).toBeGreaterThan(3);
    expect(back.digest()).toBe(ada.digest());
    expect(unmet).toEqual([]);
  } finally {
    slowly.mockRestore();
  }
});

test("a vault that will not take the move is asked again at the next start; nothing is lost and nothing said twice", async () => {
  const club = await epochClub(relay, roles);
  const { vault } = club.devices.cat!.storage;
  let full = true;
  const stubborn = {
    ...vault,
    replace: (records: Parameters<typeof vault.replace>[0]) =>
      full ? Promise.reject(new Error("disk full")) : vault.replace(records),
  };
  const [ada, cat] = [await kept(club.open("ada")), await kept(club.open("cat", { vault: stubborn }))];
  await save(cat, visitor(1));
  await save(ada, barOf(ada, club.keyId("ben")));
  await until("moved in memory", () => number(cat) === 1);
  await save(cat, visitor(2));
  await until("stored", () => cat.waiting() === 0);
  await closed(cat);
  full = false;
  const again = await kept(club.open("cat"));
  await until("there again", () => number(again) === 1 && players(again) === "1 2" && again.waiting() === 0);
  await until("and heard", () => ada.digest() === again.digest());
});
