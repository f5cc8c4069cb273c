/**
 * Core alone: reports brought together to matches, matches folded to cards, 1,000,000 games over 20,000 cards; and one saved match in
 * a book of 30,000 entries. What a fold costs above its own loop is the rules: rule set by day, what counts, exchange by handicaps,
 * windows, trigger points, notices. What it costs above the typed arrays is that every game gets a line that a person can read.
 */
import type { Account, CardInput, MatchKey, PlayedMatch, PlayerId } from "@sward/core";
import { createLedger, foldCard, matchFacts, matchKey, reconcile } from "@sward/core";
import { createSigner } from "../src/keys/signer.ts";
import { cardWithoutRules, typedArrayLoop } from "./floors.ts";
import type { ManyGames } from "./games.ts";
import { benchOfGames, england, manyGames, startOf } from "./games.ts";
import type { Figure } from "./measure.ts";
import { figure, timed } from "./measure.ts";
import { benchBook } from "./world.ts";

const nothing = (): void => undefined;

export async function benchReplay(games: number, runs: number): Promise<Figure[]> {
  const many = manyGames(games);
  const sized = { size: games };
  const keys = many.reports.map(({ body }) => matchKey(body, itself));
  const grouping = await timed(runs, nothing, () => {
    const groups = new Map<MatchKey, unknown[]>();
    for (const [n, key] of keys.entries()) {
      const group = groups.get(key);
      if (group === undefined) groups.set(key, [many.reports[n]]);
      else group.push(many.reports[n]);
    }
    if (groups.size !== games) throw new Error(`${groups.size} matches of ${games} games`);
  });
  let matches: readonly PlayedMatch[] = [];
  const reconciling = await timed(
    runs,
    () => {
      matches = [];
    },
    () => {
      matches = reconcileAll(many);
    },
  );
  const inputs = cardInputs(many, matches);
  const bare = typedArrayLoop(many);
  const typed = await timed(runs, nothing, bare);
  let lines = 0;
  const objects = await timed(runs, nothing, () => {
    lines = 0;
    for (const input of inputs) lines += cardWithoutRules(input).length;
  });
  let [folded, indexes] = [0, 0];
  const folding = await timed(runs, nothing, () => {
    [folded, indexes] = [0, 0];
    for (const input of inputs) {
      const card = foldCard(input);
      folded += card?.lines.length ?? 0;
      indexes += card?.index ?? 0;
    }
  });
  if (folded !== lines) throw new Error(`the floor made ${lines} lines and the fold ${folded}`);
  if (indexes !== bare()) throw new Error(`the cards' indexes come to ${indexes}, the typed arrays' to ${bare()}`);
  return [
    figure("reconcile", reconciling, { ...sized, floor: { what: "a Map by the same keys", times: grouping } }),
    figure("fold", folding, { ...sized, floor: { what: "loop over typed arrays", times: typed }, aim: "2 x" }),
    figure("fold, beside a loop that makes lines", folding, {
      ...sized,
      floor: { what: "the same loop over objects, no rules", times: objects },
    }),
  ];
}

export async function benchOneMatch(entries: number, runs: number): Promise<Figure[]> {
  const signers = await Promise.all([1, 2, 3, 4, 5, 6].map((n) => createSigner(new Uint8Array(32).fill(n))));
  const book = await benchBook(entries, signers, false);
  const ledger = createLedger(book.book);
  ledger.add(book.arrivals);
  const times = await timed(
    runs,
    () => book.next(),
    ({ arrival }) => {
      const touched = ledger.add([arrival]);
      if (touched.players.size !== 2) throw new Error(`${touched.players.size} cards were made again, not 2`);
      ledger.state();
    },
  );
  return [figure("one saved match, into the state", times, { size: entries, aim: "5 ms" })];
}

const itself = (player: PlayerId): PlayerId => player;

function reconcileAll({ reports }: ManyGames): PlayedMatch[] {
  const byMatch = new Map<MatchKey, Account[]>();
  for (const entry of reports) {
    const key = matchKey(entry.body, itself);
    const facts = matchFacts(entry.body, itself);
    const account = { entry, origin: benchOfGames, party: entry.author, facts, stands: true };
    const accounts = byMatch.get(key);
    if (accounts === undefined) byMatch.set(key, [account]);
    else accounts.push(account);
  }
  const matches: PlayedMatch[] = [];
  for (const [key, accounts] of byMatch) {
    const match = reconcile(key, accounts, [], benchOfGames, "counts");
    if (match?.facts) matches.push(match as PlayedMatch);
  }
  return matches;
}

function cardInputs(many: ManyGames, matches: readonly PlayedMatch[]): CardInput[] {
  const played = new Map(many.players.map((player) => [player, [] as PlayedMatch[]]));
  for (const match of matches) for (const { player } of match.facts.sides.flat()) played.get(player)?.push(match);
  return many.players.map((player, place) => ({
    player,
    adoptions: [{ from: "2020-01-01", rules: england }],
    events: new Map(),
    matches: played.get(player) ?? [],
    sets: [startOf(many, place)],
  }));
}
