/**
 * What a card draws again when something changes: what came out otherwise, and what comes out is what is drawn from nothing. Counted in
 * groups of lines, so that no machine's speed has a say. Seed pinned and printed.
 */
import type { Card, CardLine, EntryOf, PlayedMatch, PlayerId } from "@sward/core";
import { compileRules, findRuleSet } from "@sward/core";
import fc from "fast-check";
import { expect, test } from "vitest";
import { firstGroups, groupLines } from "../../../packages/client/src/app/card/card-groups.ts";
import type { LineFacts, ReadGroup } from "../../../packages/client/src/app/card/line-facts.ts";
import { areSameGroups, readGroups } from "../../../packages/client/src/app/card/line-facts.ts";
import type { Kept } from "../../../packages/client/src/app/parts/passed-over.ts";
import { passOver } from "../../../packages/client/src/app/parts/passed-over.ts";
import { cardOf } from "../../../packages/core/src/replay/card-lines.ts";
import { RunningCard } from "../../../packages/core/src/replay/running-card.ts";

const SEED = 20_261_127;
const ME = "me" as PlayerId;
const rules = findRuleSet("england-2016")!;
const FIRST = 48;

const dayAfter = (n: number): string => new Date(Date.UTC(2020, 0, 1 + n)).toISOString().slice(0, 10);
const input = {
  player: ME,
  adoptions: [{ from: dayAfter(0), rules: compileRules(rules) }],
  events: new Map(),
} as const;

const start = {
  id: "set",
  author: "k",
  seq: 0,
  at: "2020-01-01T10:00:00Z",
  body: { player: ME, handicap: 6, from: dayAfter(0), basis: "initial", reason: "start" },
} as unknown as EntryOf<"handicap-set">;

const matchOf = (n: number, on: number, wins: boolean): PlayedMatch =>
  ({
    key: `match ${n}`,
    event: null,
    start: null,
    status: "confirmed",
    facts: {
      date: dayAfter(on),
      occasion: "club-competition",
      play: "handicap",
      format: 13,
      excluded: false,
      sides: [[{ player: ME, off: 6 }], [{ player: `other ${n % 3}`, off: 7 }]],
      games: [{ score: wins ? [7, 3] : [3, 7] }],
    },
  }) as unknown as PlayedMatch;

/** A card that is kept up, as a ledger does it. */
function keptCard() {
  const running = new RunningCard();
  const matches = new Map<number, PlayedMatch>();
  const drop = (n: number): void => {
    const old = matches.get(n);
    if (old !== undefined) running.drop(old);
    matches.delete(n);
  };
  return {
    drop,
    put(n: number, on: number, wins: boolean) {
      drop(n);
      matches.set(n, matchOf(n, on, wins));
      running.put(matches.get(n)!);
    },
    card: (): Card => cardOf(ME, running.fold(input, [start])!.rows, { signatures: [], unsigned: [] }),
  };
}

interface Around {
  readonly name: string;
  readonly here: ReadonlySet<string>;
}

const factsOf =
  ({ name, here }: Around) =>
  (line: CardLine): LineFacts => ({
    who: line.line === "set" ? name : `${name} ${line.opponents[0]!.player}`,
    partner: null,
    tellers: "",
    correct: null,
    here: line.line === "game" && here.has(line.match),
  });

const groupsOf = (card: Card, around: Around, show: number | null = null) =>
  readGroups(firstGroups(groupLines(card.lines, new Map(), "newest-first"), FIRST, show).groups, factsOf(around), show);

/** All that a drawn group shows. */
const shown = (key: string, { group, facts, show }: ReadGroup): string =>
  JSON.stringify([key, group.lines, facts, group.lines.some(({ place }) => place === show)]);

const deed = fc.oneof(
  {
    weight: 6,
    arbitrary: fc.record({ does: fc.constant("put" as const), n: fc.nat(90), on: fc.nat(70), wins: fc.boolean() }),
  },
  { weight: 2, arbitrary: fc.record({ does: fc.constant("drop" as const), n: fc.nat(90) }) },
  { weight: 1, arbitrary: fc.record({ does: fc.constant("name" as const), name: fc.constantFrom("Al", "Bo") }) },
  { weight: 1, arbitrary: fc.record({ does: fc.constant("receipt" as const), n: fc.nat(90) }) },
  { weight: 1, arbitrary: fc.record({ does: fc.constant("show" as const), place: fc.option(fc.nat(30)) }) },
  { weight: 1, arbitrary: fc.constant({ does: "nothing" as const }) },
);

test(`what is passed over says what drawing it anew would say (seed ${SEED})`, () => {
  console.info(`seed ${SEED}`);
  const met = { drawn: 0, passed: 0, quiet: 0 };
  fc.assert(
    fc.property(fc.array(deed, { minLength: 30, maxLength: 80 }), (deeds) => {
      const own = keptCard();
      for (let n = 0; n < 60; n += 1) own.put(n, n, n % 3 !== 0);
      let around: Around = { name: "Al", here: new Set() };
      let show: number | null = null;
      let kept: ReadonlyMap<string, Kept<ReadGroup, string>> = new Map();
      for (const one of deeds) {
        if (one.does === "put") own.put(one.n, one.on, one.wins);
        if (one.does === "drop") own.drop(one.n);
        if (one.does === "name") around = { ...around, name: one.name };
        if (one.does === "receipt") around = { ...around, here: new Set([`match ${one.n}`]) };
        if (one.does === "show") show = one.place;
        const read = groupsOf(own.card(), around, show);
        let drawn = 0;
        kept = passOver(kept, read, areSameGroups, (key, group) => {
          drawn += 1;
          return shown(key, group);
        });
        expect([...kept.values()].map(({ element }) => element)).toEqual(
          [...read].map(([key, group]) => shown(key, group)),
        );
        met.drawn += drawn;
        met.passed += kept.size - drawn;
        if (drawn === 0) met.quiet += 1;
      }
    }),
    { seed: SEED, numRuns: 60 },
  );
  console.info(JSON.stringify(met));
  expect(met.passed).toBeGreaterThan(20_000);
  expect(met.drawn).toBeGreaterThan(20_000);
  expect(met.quiet).toBeGreaterThan(100);
});

/** Groups drawn for one game told late, and for a receipt of the relay after it. */
function drawnFor(games: number, since: number) {
  const own = keptCard();
  for (let n = 0; n < games; n += 1) own.put(n, n, n % 3 !== 0);
  const around: Around = { name: "Al", here: new Set() };
  let groups: ReadonlyMap<string, Kept<ReadGroup, object>> = new Map();
  const draw = (said: Around) => {
    let drawn = 0;
    groups = passOver(groups, groupsOf(own.card(), said), areSameGroups, () => {
      drawn += 1;
      return {};
    });
    return drawn;
  };
  const first = draw(around);
  own.put(games, games - since, true);
  const late = draw(around);
  const receipt = draw({ ...around, here: new Set([`match ${games}`]) });
  return { first, late, receipt };
}

test("a game told late draws again what came after it, on a card of ten years as on one of a season", () => {
  for (const games of [100, 1_000, 5_000]) {
    const { first, late, receipt } = drawnFor(games, 20);
    expect(first).toBe(FIRST);
    expect(late).toBeLessThanOrEqual(21);
    expect(late).toBeGreaterThan(10);
    expect(receipt).toBe(1);
  }
});
