/**
 * Laws of links and of what one club gets from another, over seasons of any games. Seeds are pinned and in the titles. Clubs play at
 * north and at south; south writes north's players down as visitors of its own, under ids of its own, until somebody links them.
 */
import type { Arrival, MatchReported } from "@sward/core";
import { canonicalText } from "@sward/core";
import fc from "fast-check";
import { expect, test } from "vitest";
import type { Book, Club, Written } from "../../support/cast.ts";
import { clubs, league, played, player } from "../../support/cast.ts";
import { stateText } from "../../support/state-text.ts";
import { shuffled } from "../replay/worlds.ts";

const SEED = 20_261_126;

const own = ["ada", "ben", "cat"] as const;
const scores = ["7-4", "4-7", "7-6", "2-7", "7-0"] as const;

interface Game {
  readonly one: number;
  readonly two: number;
  readonly day: number;
  readonly score: number;
  /** Written at north, at south under the visitors' ids, or at both. */
  readonly where: "north" | "south" | "both";
}

const game: fc.Arbitrary<Game> = fc.record({
  one: fc.nat(2),
  two: fc.nat(2),
  day: fc.nat(8),
  score: fc.nat(scores.length - 1),
  where: fc.constantFrom("north", "south", "both"),
});
const games = fc.array(game, { maxLength: 14 });

/** North's player under the id that south gave him. */
const atSouth = (name: string): string => `${name}-at-south`;

/** North's own three play visitors of whom nobody knows more. */
function matchOf({ one, two, day, score }: Game, n: number, named: (name: string) => string): MatchReported {
  return played(`2026-05-0${day + 1}`, `${named(own[one % 3]!)} 7`, `guest${two % 3} 9`, scores[score]!, {
    n,
    occasion: "inter-club",
  });
}

interface Scene {
  readonly north: Club;
  readonly south: Club;
  /** Reports made at south. */
  readonly slips: readonly Written[];
}

function play(list: readonly Game[]): Scene {
  const { north, south } = clubs("north", "south");
  for (const name of own) north.member(name, 7);
  for (const guest of ["guest0", "guest1", "guest2"]) {
    south.handicapper.joins(guest);
    north.recorder.joins(guest, "visitor");
  }
  for (const name of own) {
    south.recorder.joins(atSouth(name), "visitor", { club: "north" });
    north.recorder.joins(atSouth(name), "visitor");
  }
  const slips: Written[] = [];
  for (const [n, one] of list.entries()) {
    if (one.where !== "south") north.recorder.reports(matchOf(one, n + 1, (name) => name));
    if (one.where !== "north") slips.push(south.recorder.reports(matchOf(one, n + 1, atSouth)));
  }
  return { north, south, slips };
}

const carry = ({ north, slips }: Scene): void => {
  for (const slip of slips) north.recorder.carries(slip);
};
const linkAll = ({ north }: Scene): Written[] => own.map((name) => north.handicapper.links(atSouth(name), name));

/** What a book says, without how many entries it took to say it. */
const says = (book: Book, arrivals: readonly Arrival[] = book.written): string => {
  const state = book.ledger(arrivals).state();
  return stateText({ ...state, entries: 0, devices: new Map() });
};
const cards = (book: Book, arrivals: readonly Arrival[] = book.written): string =>
  canonicalText([...book.ledger(arrivals).state().cards].sort(([a], [b]) => (a < b ? -1 : 1)));

test(`PE6 link then unlink restores the state (seed ${SEED})`, () => {
  let moved = 0;
  const law = fc.property(games, fc.boolean(), (list, before) => {
    const scene = play(list);
    if (before) carry(scene);
    const links = linkAll(scene);
    if (!before) carry(scene);
    const linked = says(scene.north);
    for (const link of links) scene.north.handicapper.withdraws(link);
    const plain = play(list);
    carry(plain);
    expect(says(scene.north)).toBe(says(plain.north));
    if (linked !== says(plain.north)) moved += 1;
  });
  fc.assert(law, { seed: SEED, numRuns: 60 });
  // A link that changed nothing would make the law an empty one.
  expect(moved).toBeGreaterThan(40);
});

test(`PE7 MA12 after a link two clubs' records of one game are one, and no index is moved twice (seed ${SEED})`, () => {
  const law = fc.property(games, (list) => {
    const scene = play(list);
    carry(scene);
    linkAll(scene);
    // The same season, all of it written at north under the members' own ids.
    const alone = play(list.map((one) => ({ ...one, where: "north" as const })));
    const indexes = ({ north }: Scene) =>
      own.map((name) => {
        const { index, handicap, lines } = north.card(player(name));
        return [index, handicap, lines.length];
      });
    expect(indexes(scene)).toEqual(indexes(alone));
    for (const { key } of scene.north.state().matches.values()) expect(key).not.toContain(player(atSouth("ada")));
  });
  fc.assert(law, { seed: SEED, numRuns: 60 });
});

test(`AU18 importing twice equals importing once, whatever the order (seed ${SEED})`, () => {
  const law = fc.property(games, fc.nat(), (list, order) => {
    const once = play(list);
    carry(once);
    linkAll(once);
    const twice = play(list);
    carry(twice);
    linkAll(twice);
    const said = says(once.north);
    // The same entries handed in again change nothing at all.
    expect(says(once.north, shuffled([...once.north.written, ...once.north.written], order))).toBe(said);
    // Copies made anew, by another device, change no match and no card.
    for (const slip of twice.slips) twice.north.handicapper.carries(slip);
    expect(says(twice.north)).toBe(said);
  });
  fc.assert(law, { seed: SEED, numRuns: 60 });
});

test(`LE10 RP1 any subset of the clubs' books that has the home club's gives its players the same cards (seed ${SEED})`, () => {
  const law = fc.property(
    games,
    fc.array(fc.boolean(), { minLength: 3, maxLength: 3 }),
    fc.nat(),
    (list, has, order) => {
      const scene = play(list);
      carry(scene);
      linkAll(scene);
      const { north, south } = scene;
      const border = league("border", { north, south });
      for (const [n, one] of list.entries()) {
        border.captains.south.reports(matchOf(one, n + 30, (name) => name));
        border.captains.north.reports({ ...matchOf(one, n + 30, (name) => name), games: [{ score: [7, 1] }] });
      }
      const { west } = clubs("west");
      west.member("ada", 12);
      west.recorder.reports(played("2026-05-02", "ada 12", "ben 12", "7-0"));
      const others = [south, border.league, west].filter((_, at) => has[at]).flatMap(({ written }) => written);
      expect(cards(north, shuffled([...north.written, ...others], order))).toBe(cards(north));
    },
  );
  fc.assert(law, { seed: SEED, numRuns: 60 });
});
