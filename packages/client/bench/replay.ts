/**
 * Replay: 1,000,000 games over 20,000 cards, and one saved match in a book of 30,000 entries.
 *
 * The floor of the first is the same loop without our logic: the same cards, the same matches sorted by the same comparator, a line
 * object with the same fields for each game, and the index moved by a constant. What lies above it is the rules: rule set by day,
 * what counts, exchange by handicaps, windows, trigger points, notices.
 */
import type { CardInput, CardLine, EntryOf, GameLine, MatchKey, PlayedMatch, PlayerId } from "@sward/core";
import { byMatchOrder, compileRules, createLedger, findRuleSet, foldCard } from "@sward/core";
import { createSigner } from "../src/keys/signer.ts";
import type { Figure } from "./measure.ts";
import { figure, timed } from "./measure.ts";
import { benchBook, seeded } from "./world.ts";

export async function benchReplay(games: number, cards: number, runs: number): Promise<Figure[]> {
  const inputs = cardInputs(games, cards);
  let lines = 0;
  const bare = await timed(
    runs,
    () => undefined,
    () => {
      lines = 0;
      for (const input of inputs) lines += bareCard(input).length;
    },
  );
  let folded = 0;
  const ours = await timed(
    runs,
    () => undefined,
    () => {
      folded = 0;
      for (const input of inputs) folded += foldCard(input)?.lines.length ?? 0;
    },
  );
  if (folded !== lines) throw new Error(`the floor made ${lines} lines and the fold ${folded}`);
  const what = `replay ${games.toLocaleString("en")} games, ${cards.toLocaleString("en")} cards`;
  return [figure(what, ours, { floor: { what: "same loop, no rules", times: bare }, aim: "3 x" })];
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
  const fresh = await timed(
    5,
    () => createLedger(book.book),
    (empty) => empty.add(book.arrivals),
  );
  return [
    figure(`one saved match, book of ${entries.toLocaleString("en")}`, times, { aim: "5 ms" }),
    figure(`the same book from nothing, no signatures`, fresh),
  ];
}

function bareCard({ player, matches }: CardInput): CardLine[] {
  const lines: CardLine[] = [];
  let index = 1300;
  lines.push({ line: "set", date: "2020-01-01", index, handicap: 8 } as CardLine);
  for (const match of [...matches].sort(byMatchOrder)) {
    const { facts } = match;
    const side = facts.sides[0].some((one) => one.player === player) ? 0 : 1;
    for (let g = 0; g < facts.games.length; g += 1) {
      const game = facts.games[g];
      if (game === undefined) break;
      const mine = game.score[side];
      const theirs = game.score[side === 0 ? 1 : 0];
      const points = mine > theirs ? 10 : -10;
      index += points;
      const line: GameLine = {
        line: "game",
        date: facts.date,
        match: match.key,
        game: g + 1,
        play: facts.play,
        format: facts.format,
        occasion: facts.occasion,
        event: match.event,
        partner: null,
        opponents: facts.sides[side === 0 ? 1 : 0],
        off: 8,
        score: [mine, theirs],
        points,
        reason: "handicap-singles",
        rules: "england-2016",
        index,
        handicap: 8,
        moved: null,
        notice: null,
        confirmed: true,
      };
      lines.push(line);
    }
  }
  return lines;
}

function cardInputs(games: number, cards: number): CardInput[] {
  const set = findRuleSet("england-2016");
  if (set === undefined) throw new Error("england-2016");
  const rules = compileRules(set);
  const random = seeded(7);
  const players = Array.from({ length: cards }, (_, n) => `player-${String(n).padStart(15, "0")}` as PlayerId);
  const handicaps = players.map((_, n) => rules.handicaps[n % rules.handicaps.length] as number);
  const played = players.map((): PlayedMatch[] => []);
  // Each match is on two cards.
  for (let n = 0; n < games / 2; n += 1) {
    const one = n % cards;
    const two = (one + 1 + Math.floor(random() * (cards - 1))) % cards;
    const month = String(4 + Math.floor(random() * 6)).padStart(2, "0");
    const date = `2026-${month}-${String(1 + Math.floor(random() * 28)).padStart(2, "0")}`;
    const won = random() < 0.5;
    const losing = Math.floor(random() * 7);
    const match: PlayedMatch = {
      key: `${date}|handicap|13|${players[one]}v${players[two]}|${n}` as MatchKey,
      event: null,
      start: null,
      status: "confirmed",
      facts: {
        date,
        occasion: "club-competition",
        play: n % 3 === 0 ? "level" : "handicap",
        format: 13,
        sides: [
          [{ player: players[one] as PlayerId, off: handicaps[one] as number }],
          [{ player: players[two] as PlayerId, off: handicaps[two] as number }],
        ],
        games: [{ score: won ? [7, losing] : [losing, 7] }],
        excluded: false,
      },
    };
    played[one]?.push(match);
    played[two]?.push(match);
  }
  const adoptions = [{ from: "2020-01-01", rules }] as const;
  return players.map((player, n) => ({
    player,
    adoptions,
    events: new Map(),
    matches: played[n] ?? [],
    sets: [
      {
        id: player as string,
        kind: "handicap-set",
        understood: true,
        body: { player, handicap: handicaps[n], from: "2020-01-01", basis: "initial", reason: "start" },
      } as unknown as EntryOf<"handicap-set">,
    ],
  }));
}
