/**
 * Core alone: reports brought together to matches, matches written to the rows of cards, rows folded, 1,000,000 games over 20,000 cards;
 * and one saved match in a book of 30,000 entries. Folding is beside a loop that has its columns too; writing rows is beside filling
 * those columns from the same reports, sorted; and both together beside both, and beside the loop alone. Lines that a person can read
 * are made when somebody does, and are measured apart.
 */
import type { CardInput, MatchKey, PlayedMatch, PlayerId, RunningFold } from "@sward/core";
import { atOnce, createLedger, foldRows, matchKey, RunningCard } from "@sward/core";
import { BookMatches } from "../../core/src/replay/book-matches.ts";
import { Books } from "../../core/src/replay/books.ts";
import { cardWithoutRules, typedArrayLoop } from "./floors.ts";
import type { ManyGames } from "./games.ts";
import { benchOfGames, england, manyGames, startOf } from "./games.ts";
import type { Figure } from "./measure.ts";
import { figure, median, timed } from "./measure.ts";
import { benchSigners } from "./signed.ts";
import { benchBook } from "./world.ts";

const nothing = (): void | Promise<void> => undefined;

/**
 * @param collect called before each timed run that makes anything, of ours and of the floors: what an earlier run left behind is nobody's
 * work, and of a million games it comes to a second, which falls on whatever runs at that moment. Loops over integers leave nothing
 * behind, and a collection makes an engine forget what it made of them: so it comes once before all their runs
 */
export async function benchReplay(games: number, runs: number, collect = nothing): Promise<Figure[]> {
  const many = manyGames(games);
  const sized = { size: games };
  const keys = many.reports.map(({ body }) => matchKey(body, itself));
  const grouping = await timed(runs, collect, () => {
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
      return collect();
    },
    () => {
      matches = reconcileAll(many);
    },
  );
  const reconciled = figure("reconcile", reconciling, {
    ...sized,
    floor: { what: "a Map by the same keys", times: grouping },
  });
  return [reconciled, ...(await benchCards(many, cardInputs(many, matches), runs, collect))];
}

async function benchCards(
  many: ManyGames,
  inputs: readonly CardInput[],
  runs: number,
  collect: () => void,
): Promise<Figure[]> {
  const sized = { size: many.reports.length };
  let bare = (): number => 0;
  const filling = await timed(runs, collect, () => {
    bare = typedArrayLoop(many);
  });
  await collect();
  const loop = await timed(runs, nothing, () => bare());
  let cards: readonly RunningFold["rows"][] = [];
  const both = await timed(
    runs,
    () => {
      cards = [];
      return collect();
    },
    () => {
      cards = inputs.map(writtenAndFolded);
    },
  );
  await collect();
  const folding = await timed(runs, nothing, () => {
    for (const [n, rows] of cards.entries()) foldRows(rows, rows.start, 0, (inputs[n] as CardInput).adoptions);
  });
  const indexes = cards.reduce((sum, rows) => sum + rows.indexAt(rows.count - 1), 0);
  if (indexes !== bare()) throw new Error(`the cards' indexes come to ${indexes}, the typed arrays' to ${bare()}`);
  const [folded, looped] = [median(folding), median(loop)];
  let lines = 0;
  const objects = await timed(runs, collect, () => {
    lines = 0;
    for (const input of inputs) lines += cardWithoutRules(input).length;
  });
  let read = 0;
  const reading = await timed(runs, collect, () => {
    read = 0;
    for (const rows of cards) for (let place = 0; place < rows.count; place += 1) read += rows.lineAt(place) ? 1 : 0;
  });
  if (read !== lines) throw new Error(`the floor made ${lines} lines and the cards ${read}`);
  const of = (what: string, ours: readonly number[], floor: string, times: readonly number[], aim = {}): Figure =>
    figure(what, ours, { ...sized, floor: { what: floor, times }, ...aim });
  const each = filling.map((ms) => ms + looped);
  return [
    of("fold", folding, "loop over typed arrays", loop, { aim: "2 x" }),
    of(
      "write rows",
      both.map((ms) => ms - folded),
      "filling the loop's arrays",
      filling,
    ),
    of("write and fold", both, "filling the loop's arrays, and the loop", each, { aim: "2 x" }),
    of("write and fold, beside the loop alone", both, "loop over typed arrays", loop),
    of("make every line to read", reading, "the same loop over objects, no rules", objects),
  ];
}

function writtenAndFolded(input: CardInput): RunningFold["rows"] {
  const card = new RunningCard();
  for (const match of input.matches) card.put(match);
  const folded = card.fold(input, input.sets);
  if (folded === null) throw new Error("a card with a start");
  return folded.rows;
}

export async function benchOneMatch(entries: number, runs: number): Promise<Figure[]> {
  const signers = await benchSigners();
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

/** As a ledger does that reads its book from nothing. */
function reconcileAll({ reports }: ManyGames): PlayedMatch[] {
  const books = new Books(
    benchOfGames,
    () => new Map(),
    () => undefined,
  );
  const matching = new BookMatches();
  atOnce(matching.readAll(reports, { book: benchOfGames, books, unconfirmed: "counts" }));
  return [...matching.all.values()].filter(({ facts }) => facts !== null) as PlayedMatch[];
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
