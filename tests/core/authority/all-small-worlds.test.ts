/**
 * Every small world there is: a root and two devices who admit each other, bar each other (from the start, after the first entry, after
 * another first entry than the one held) and report, up to six entries with the opening, with at most one fork. Of each the record's
 * answer for every entry is held against the plain rules (plain-rules.ts), with the chains handed over in different orders. That a chain
 * is the same however its entries come is shown for every shape of six places and all 720 orders. So the answer is the same in every
 * order of arrival; and because that is an argument, one world in some hundreds is also handed in in all its orders, an entry at a time,
 * by the very code that takes entries in.
 *
 * The numbers of worlds are asserted: an enumeration that shrinks proves less, without a word.
 */
import type { BookId, Entry, EntryId, KeyId } from "@sward/core";
import { expect, test } from "vitest";
import { judgeEntry, settleAuthority } from "../../../packages/core/src/authority/authority.ts";
import type { Chain } from "../../../packages/core/src/ledger/chain.ts";
import { createChain, extendChain } from "../../../packages/core/src/ledger/chain.ts";
import type { KnownEntry } from "../../../packages/core/src/ledger/entry.ts";
import { createAdmission } from "../../../packages/core/src/replay/admission.ts";
import { keyOf, played } from "../../support/cast.ts";
import type { Answer, Given, Name, Said, SmallWorld } from "./plain-rules.ts";
import { plainAnswers } from "./plain-rules.ts";

const names = ["root", "p", "q"] as const;
const keys = { root: keyOf("root"), p: keyOf("p"), q: keyOf("q") };
const book = keys.root.id as string as BookId;

const admits = (who: Name, as: Given): Said => ({ type: "admits", who, as });
const bars = (who: Name, at: number | null, thisVery = true): Said => ({ type: "bars", who, at, thisVery });
const reports: Said = { type: "reports" };

/** What each may say. That the root's reports count is no question, nor that one admits oneself again. */
const sayings: Readonly<Record<Name, readonly Said[]>> = {
  root: [
    admits("p", "handicapper"),
    admits("p", "recorder"),
    admits("q", "handicapper"),
    admits("q", "recorder"),
    bars("p", null),
    bars("p", 0),
    bars("p", 0, false),
    bars("q", 0),
  ],
  p: [admits("q", "handicapper"), admits("q", "recorder"), bars("q", null), bars("q", 0), bars("root", null), reports],
  q: [admits("p", "handicapper"), admits("p", "recorder"), bars("p", null), bars("p", 0), bars("root", null), reports],
};

const idOf = (who: Name, seq: number, branch: number): EntryId => `${who} ${seq} ${branch}`.padEnd(43, "-") as EntryId;

function entryOf(who: Name, seq: number, branch: number, said: Said): KnownEntry {
  const head = {
    id: idOf(who, seq, branch),
    author: keys[who].id,
    book,
    seq,
    prev: seq === 0 ? null : idOf(who, seq - 1, 0),
    at: "2026-05-01T10:00:00Z",
    understood: true,
  } as const;
  switch (said.type) {
    case "opens":
      return { ...head, kind: "book-opened", body: { root: keys.root.publicKey, as: "club", name: "small" } };
    case "reports":
      return { ...head, kind: "match-reported", body: played("2026-05-01", "ada 7", "ben 9", "7-4") };
    case "admits":
      return { ...head, kind: "device-admitted", body: { device: keys[said.who].publicKey, role: said.as } };
    case "bars": {
      const last = said.at === null ? null : { seq: said.at, id: idOf(said.who, said.at, said.thisVery ? 0 : 7) };
      return { ...head, kind: "device-barred", body: { device: keys[said.who].id, last } };
    }
  }
}

/** A chain as somebody wrote it, and as the record holds it. */
interface Written {
  readonly said: readonly (readonly Said[])[];
  readonly entries: readonly KnownEntry[];
  readonly chain: Chain;
}

function write(who: Name, said: readonly (readonly Said[])[]): Written {
  const entries = said.flatMap((place, seq) => place.map((one, branch) => entryOf(who, seq, branch, one)));
  const chain = createChain(keys[who].id);
  for (const entry of entries) extendChain(chain, entry);
  return { said, entries, chain };
}

/** All chains of so many entries; the fork's second entry, a report, counts as one. */
function chainsOf(who: Name, length: number, forked: boolean): Written[] {
  let lines: Said[][] = [[]];
  const places = forked ? length - 1 : length;
  for (let place = 0; place < places; place += 1) {
    const may = who === "root" && place === 0 ? [{ type: "opens" } as const] : sayings[who];
    lines = lines.flatMap((line) => may.map((said) => [...line, said]));
  }
  if (!forked)
    return lines.map((line) =>
      write(
        who,
        line.map((said) => [said]),
      ),
    );
  return lines.flatMap((line) =>
    line.map((_, at) =>
      write(
        who,
        line.map((said, place) => (place === at ? [said, reports] : [said])),
      ),
    ),
  );
}

function* worlds(most: number, forkBy: Name | null): Generator<Readonly<Record<Name, Written>>> {
  const lists = (who: Name): Written[][] =>
    Array.from({ length: most + 1 }, (_, n) => (forkBy === who && n < 2 ? [] : chainsOf(who, n, forkBy === who)));
  const [roots, ps, qs] = [lists("root"), lists("p"), lists("q")];
  for (let ofRoot = 1; ofRoot <= most; ofRoot += 1) {
    for (let ofP = 0; ofP + ofRoot <= most; ofP += 1) {
      for (let ofQ = 0; ofP + ofQ + ofRoot <= most; ofQ += 1) {
        for (const root of roots[ofRoot]!) for (const p of ps[ofP]!) for (const q of qs[ofQ]!) yield { root, p, q };
      }
    }
  }
}

type World = Readonly<Record<Name, Written>>;

/** The answers by author and place, as text. */
function answered(world: World, order: readonly Name[]): string {
  const chains = new Map<KeyId, Chain>();
  for (const name of order) if (world[name].entries.length > 0) chains.set(keys[name].id, world[name].chain);
  const authority = settleAuthority(book, chains);
  return names
    .map((name) => {
      const { said, chain } = world[name];
      const answers = said.map((_, place) => {
        const entry = chain.sound[place];
        return entry === undefined ? "forked" : judgeEntry(entry as KnownEntry, authority);
      });
      return answers.join(" ");
    })
    .join(" / ");
}

const plain = (world: World): Record<Name, Answer[]> =>
  plainAnswers({ root: world.root.said, p: world.p.said, q: world.q.said } satisfies SmallWorld);

/** Nobody counts who was not admitted by what counts, and nothing that a counting bar leaves out. */
function breaches(world: World, answers: Record<Name, readonly Answer[]>): boolean {
  const counting = names.flatMap((who) =>
    world[who].said.flatMap(([said], place) => (answers[who][place] === "yes" ? [said!] : [])),
  );
  return (["p", "q"] as const).some((who) => {
    const upTo = answers[who].lastIndexOf("yes");
    if (upTo === -1) return false;
    const isAdmitted = counting.some((said) => said.type === "admits" && said.who === who);
    const isOut = counting.some(
      (said) => said.type === "bars" && said.who === who && upTo >= (said.at === null ? 0 : said.at + 1),
    );
    return !isAdmitted || isOut;
  });
}

function ordersOf<T>(all: readonly T[]): T[][] {
  if (all.length < 2) return [[...all]];
  return all.flatMap((one, at) => ordersOf([...all.slice(0, at), ...all.slice(at + 1)]).map((rest) => [one, ...rest]));
}

const inOrders = ordersOf(names);

/** Every entry of a world, one at a time, into an empty record. */
function takenIn(order: readonly Entry[]): string {
  const admission = createAdmission(book);
  for (const entry of order) admission.take([{ entry }]);
  const counted = [...admission.counted()].map(({ entry }) => entry.id).sort();
  return [...counted, ...[...admission.uncounted()].map(([id, why]) => `${id} ${why}`).sort()].join("\n");
}

const told = { worlds: 0, inAllOrders: 0 };

function holds(most: number, forkBy: Name | null, allOrdersEvery: number): void {
  for (const world of worlds(most, forkBy)) {
    told.worlds += 1;
    const answers = plain(world);
    const wanted = names.map((name) => answers[name].join(" ")).join(" / ");
    // The authors in all six orders in one world of ten, in one of the six in the others.
    const orders = told.worlds % 10 === 0 ? inOrders : [inOrders[told.worlds % 6]!];
    for (const order of orders) {
      const got = answered(world, order);
      if (got !== wanted)
        expect.fail(`${JSON.stringify(names.map((name) => world[name].said))}\nis ${got}\nand not ${wanted}`);
    }
    if (breaches(world, answers))
      expect.fail(`counts though it may not: ${JSON.stringify(names.map((name) => world[name].said))}`);
    if (told.worlds % allOrdersEvery !== 0) continue;
    told.inAllOrders += 1;
    const entries = names.flatMap((name) => world[name].entries);
    const once = takenIn(entries);
    for (const order of ordersOf(entries)) {
      if (takenIn(order) !== once) expect.fail(`${order.map(({ id }) => id).join(" ")} comes out otherwise`);
    }
  }
}

test("AU1 AU2 AU3 AU4 AU5 AU6 AU7 AU8 AU9 every world of a root and two devices with up to six entries and no fork", () => {
  Object.assign(told, { worlds: 0, inAllOrders: 0 });
  holds(6, null, 2_000);
  // The sum of 8^a (n + 1) 6^n over a + n <= 5: a of the root's eight sayings, n of six each shared out between the two.
  expect(told).toEqual({ worlds: 324_849, inAllOrders: 162 });
}, 180_000);

test("AU4 AU5 AU6 every world of up to six entries in which somebody has forked his chain", () => {
  Object.assign(told, { worlds: 0, inAllOrders: 0 });
  for (const forkBy of names) holds(6, forkBy, 2_000);
  expect(told).toEqual({ worlds: 165_597, inAllOrders: 82 });
}, 180_000);

test("AU5 AU6 a chain is the same in all 720 orders of its entries, whatever is missing, doubled or out of link", () => {
  const everywhere = Array.from({ length: 5 }, (_, seq) => [
    entryOf("p", seq, 0, reports),
    entryOf("p", seq, 1, reports),
  ]).flat();
  let shapes = 0;
  for (let mask = 1; mask < 2 ** everywhere.length; mask += 1) {
    const chosen = everywhere.filter((_, at) => (mask >> at) & 1);
    if (chosen.length !== 6) continue;
    shapes += 1;
    const looks = new Set(
      ordersOf(chosen).map((order) => {
        const chain = createChain(keys.p.id);
        for (const entry of order) extendChain(chain, entry);
        const apart = [...chain.apart].sort(([a], [b]) => a - b).map(([seq, all]) => [seq, all.map(({ id }) => id)]);
        return JSON.stringify([apart, chain.sound.map(({ id }) => id), chain.forkedAt, chain.top]);
      }),
    );
    if (looks.size !== 1) expect.fail(`${chosen.map(({ id }) => id).join(" ")} has ${looks.size} looks`);
  }
  expect(shapes).toBe(210);
}, 60_000);
