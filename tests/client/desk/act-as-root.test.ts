/** Barring a handicapper with the words on paper: real keys, sockets and relay. */
import type { Book } from "@sward/client";
import { createSigner, openWire, systemRandom } from "@sward/client";
import type { BookId, Draft, Entry } from "@sward/core";
import { afterEach, beforeEach, expect, test } from "vitest";
import { barringHere, chainOf, cutsOf } from "../../../packages/client/src/app/devices/bar-plan.ts";
import { setAsideIn, takeOverDraft } from "../../../packages/client/src/app/devices/quarantine.ts";
import { openMovingBook } from "../../../packages/client/src/book/moving-book.ts";
import { actAsRoot } from "../../../packages/client/src/desk/act-as-root.ts";
import { rootOf, rootOptions } from "../../../packages/client/src/desk/found.ts";
import { epochsOf } from "../../../packages/client/src/desk/pass.ts";
import type { TestRelay } from "../../support/meeting.ts";
import { relayWith } from "../../support/meeting.ts";
import { forgetful, optionsFor, until } from "../../support/two-clubs.ts";
import { hastyDeps, number, players, ready, save, visitor } from "../book/epoch-club.ts";

let relay: TestRelay;
const open: Book[] = [];
beforeEach(async () => {
  relay = await relayWith();
});
afterEach(async () => {
  for (const book of open.splice(0)) await book.close();
  await relay.close();
});

const clock = { timestamp: () => "2026-08-20T10:00:00Z", today: () => "2026-08-20" };
const deps = () => ({
  relay: { url: relay.origin, open: openWire, deps: hastyDeps },
  clock,
  randomBytes: systemRandom,
  // The hasty clock makes it a hundredth: a minute.
  patience: 6_000_000,
});

async function club() {
  const seed = systemRandom(32);
  const { root, club: pass } = await rootOf(seed);
  const [ada, bea] = [await createSigner(systemRandom(32)), await createSigner(systemRandom(32))];
  const founding = await openMovingBook({ ...rootOptions(root, pass), ...deps(), freshKey: true });
  await save(founding, { kind: "book-opened", body: { root: root.key, as: "club", name: "Turners" } });
  await save(
    founding,
    { kind: "rules-adopted", body: { rules: "england-2016", from: "2026-01-01" } },
    ...[ada, bea].map((one): Draft => ({ kind: "device-admitted", body: { device: one.key, role: "handicapper" } })),
  );
  await until("stored", () => founding.waiting() === 0);
  await founding.close();
  const secret = epochsOf(pass)[0]?.secret ?? new Uint8Array();
  const book = { book: root.id as string as BookId, root, secret };
  const opened = async (one: typeof ada): Promise<Book> => {
    const options = { ...optionsFor(book, one, relay.origin, forgetful()), ...deps() };
    const made = await openMovingBook(options);
    open.push(made);
    await ready(made);
    return made;
  };
  return { seed, ada: await opened(ada), bea: await opened(bea) };
}

test("a handicapper's device is barred with the words, the key changes, and what it wrote after its cut is counted by adopting it", async () => {
  const { seed, ada, bea } = await club();
  const event = (title: string, n: number): Draft => ({
    kind: "event-opened",
    body: {
      event: Buffer.alloc(16, n).toString("base64url") as never,
      title,
      occasion: "club-competition",
      from: "2026-08-01",
      to: "2026-08-02",
    },
  });
  await save(bea, event("cup", 1));
  await save(bea, event("plate", 2));
  await until("ada has both", () => ada.state().events.size === 2);
  expect([barringHere(ada, bea.device), barringHere(ada, ada.device)]).toEqual(["words", "itself"]);
  const cuts = cutsOf(chainOf(ada.entries(), ada.state(), bea.device), 12);
  expect(cuts.map(({ entry, after }) => [titleOf(entry), after])).toEqual([
    ["plate", 0],
    ["cup", 1],
    [null, 2],
  ]);
  const last = cuts[1]?.last ?? null;
  const draft: Draft = { kind: "device-barred", body: { device: bea.device, last } };
  // Without the words it has no effect.
  await save(ada, draft);
  expect(ada.state().devices.get(bea.device)?.barred).toBe(false);

  expect(await actAsRoot(systemRandom(32), ada, () => [draft], deps())).toMatchObject({
    ok: false,
    fault: { type: "words-of-another-club" },
  });
  expect(await actAsRoot(seed, ada, () => [draft], deps())).toEqual({ ok: true, value: null });
  await until("ada has moved", () => number(ada) === 1 && ada.waiting() === 0 && ada.lock().due === null);
  expect(ada.state().devices.get(bea.device)).toMatchObject({ barred: true, counted: 1 });
  expect(barringHere(ada, bea.device)).toBe("barred");

  const aside = () =>
    setAsideIn({ state: ada.state(), signed: ada.signed, counted: ada.counted() }).get(bea.device) ?? [];
  expect(aside().map(({ entry, why, canBeTaken }) => [titleOf(entry), why, canBeTaken])).toEqual([
    ["plate", "after-bar", true],
  ]);
  const entry = aside()[0]?.entry;
  const adopt = entry === undefined ? null : takeOverDraft(entry, ada);
  if (adopt === null) throw new Error("nothing to adopt");
  const [carried] = await save(ada, adopt);
  expect(aside()).toEqual([]);
  expect(ada.state().events.size).toBe(2);
  await save(ada, { kind: "entry-withdrawn", body: { withdraws: carried!, reason: "undone" } });
  expect(aside().length).toBe(1);
  expect(ada.state().events.size).toBe(1);

  await save(ada, visitor(3));
  await until("stored", () => ada.waiting() === 0);
  expect(players(bea)).toBe("");
  // The root went on with its own chain, and no fork.
  expect(ada.state().devices.get(ada.id as never)?.forkedAt).toBe(null);
});

test("with no relay in reach the words do nothing, and say so", async () => {
  const { seed, ada } = await club();
  const away = { ...deps(), relay: { ...deps().relay, url: "http://127.0.0.1:1" }, patience: 300 };
  expect(await actAsRoot(seed, ada, () => [], away)).toMatchObject({ ok: false, fault: { type: "recover-no-relay" } });
});

const titleOf = (entry: Entry | null): string | null =>
  entry?.understood === true && entry.kind === "event-opened" ? entry.body.title : null;
