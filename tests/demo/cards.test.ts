/**
 * The cards core makes of the demo clubs' entries, against those that an independent reading of the rules made of the same files
 * (tests/demo/independent/cards.py, which shares no code with core and names its sources). Every line, point and signature of
 * sixty cards; then what the handicappers of the story are asked.
 */
import { demoPlayer } from "@sward/client/demo";
import type { BookState, CardLine, GameLine, Question } from "@sward/core";
import { createLedger } from "@sward/core";
import { expect, test } from "vitest";
import { changed, demoFiles, records } from "./demo-files.ts";
import { booksFrom } from "./written-books.ts";

const CLUBS = ["ferncombe", "magpie-reach", "winterbeck"] as const;

const books = booksFrom(demoFiles());
const stateOf = (slug: string, from = books): BookState => from.get(slug)!.ledger.state();

/** Keys of everybody in the files, by player id. */
const keys = new Map(
  CLUBS.flatMap((slug) => records(demoFiles(), `clubs/${slug}/members.csv`)).map(({ key = "" }) => [
    demoPlayer(key),
    key,
  ]),
);
const keyOf = (player: string): string => keys.get(player as never) ?? `nobody known as ${player}`;

/** A line of a card in the words of the expected files. */
function rowOf(player: string, line: CardLine): Record<string, string> {
  const common = {
    player,
    date: line.date,
    why: line.reason,
    index: `${line.index}`,
    handicap: `${line.handicap}`,
    moved: line.moved === null ? "" : `${line.moved.from ?? ""}->${line.moved.to}`,
  };
  if (line.line === "set") {
    return { ...common, number: "", play: "", format: "", partner: "", opponents: "", off: "", score: "", points: "" };
  }
  return {
    ...common,
    number: `${line.game}`,
    play: line.play,
    format: `${line.format}`,
    partner: line.partner === null ? "" : keyOf(line.partner.player),
    opponents: line.opponents
      .map(({ player: other }) => keyOf(other))
      .sort()
      .join(" + "),
    off: `${line.off}`,
    score: line.score.join("-"),
    points: line.points > 0 ? `+${line.points}` : `${line.points}`,
  };
}

const withoutGame = ({ game: _, ...row }: Record<string, string>): Record<string, string> => row;

test.each(CLUBS)(
  "RP3 RP4 RP5 RP6 RP8 RP10 RP12 RP13 RP15 every line of every card of %s is the one worked out independently",
  (slug) => {
    const expected = records(demoFiles(), `expected/${slug}.csv`);
    const { cards, players } = stateOf(slug);
    const members = [...players.values()].filter(({ standing }) => standing === "member");
    expect(new Set(expected.map(({ player }) => player))).toEqual(new Set(members.map(({ player }) => keyOf(player))));
    for (const { player } of members) {
      const key = keyOf(player);
      const lines = cards.get(player)?.lines.map((line) => rowOf(key, line));
      expect(lines, key).toEqual(expected.filter((row) => row["player"] === key).map(withoutGame));
    }
  },
);

test("RP5 each line comes from the game that the expected card names", () => {
  for (const slug of CLUBS) {
    const { cards, matches } = stateOf(slug);
    const { refOf } = books.get(slug)!;
    const league = books.get("beck-and-combe")!;
    const slots = new Map(
      records(demoFiles(), "leagues/beck-and-combe/reports.csv").map(({ id, fixture, slot }) => [
        `reports/${id}`,
        `${fixture}/${slot}`,
      ]),
    );
    const named = (line: GameLine): (string | undefined)[] =>
      (matches.get(line.match)?.reports ?? []).map(({ entry }) => {
        const ref = refOf.get(entry);
        return ref === undefined ? slots.get(league.refOf.get(entry) ?? "") : ref.replace("games/", "");
      });
    const expected = records(demoFiles(), `expected/${slug}.csv`);
    for (const [player, { lines }] of cards) {
      const games = expected.filter((row) => row["player"] === keyOf(player) && row["game"] !== "");
      const folded = lines.filter((line) => line.line === "game");
      expect(folded.length).toBe(games.length);
      for (const [place, line] of folded.entries()) expect(named(line)).toContain(games[place]?.["game"]);
    }
  }
});

test("RP24 where each card ends, and how many changes nobody has signed", () => {
  const summary = CLUBS.flatMap((club) =>
    [...stateOf(club).cards].map(([player, { handicap, index, lines, unsigned }]) => {
      const games = lines.filter((line) => line.line === "game");
      return {
        club,
        player: keyOf(player),
        handicap: `${handicap}`,
        index: `${index}`,
        games: `${games.length}`,
        moved_index: `${games.filter(({ points }) => points !== 0).length}`,
        unsigned_moves: `${unsigned.length}`,
      };
    }),
  );
  const byName = (a: Record<string, string>, b: Record<string, string>): number =>
    a["player"]! < b["player"]! ? -1 : 1;
  expect(summary.sort(byName)).toEqual(records(demoFiles(), "expected/summary.csv").sort(byName));
});

test("RP22 what each signature said, and whether the card under it is still the same", () => {
  const expected = records(demoFiles(), "expected/signatures.csv");
  const found = CLUBS.flatMap((club) =>
    [...stateOf(club).cards.values()].flatMap(({ player, signatures }) =>
      signatures.map(({ upto, at, handicap, index, lines, standing }) => ({
        club,
        player: keyOf(player),
        upto,
        signed_on: at.slice(0, 10),
        handicap: `${handicap}`,
        index: `${index}`,
        lines: `${lines}`,
        standing,
      })),
    ),
  );
  expect(new Set(found.map((row) => JSON.stringify(row)))).toEqual(new Set(expected.map((row) => JSON.stringify(row))));
  expect(found.length).toBe(expected.length);
});

test("nothing anybody wrote is uncounted", () => {
  for (const { ledger } of books.values()) expect([...ledger.state().uncounted]).toEqual([]);
});

test("RP25 RP26 RP27 RP28 RP30 what the story's handicappers are asked, and nothing more", () => {
  const asked = (slug: string): string[] =>
    stateOf(slug).questions.map((question: Question) => {
      const who = "player" in question ? ` ${keyOf(question.player)}` : "";
      const slot = "match" in question ? (stateOf(slug).matches.get(question.match)?.slot ?? null) : null;
      return `${question.about}${who}${slot === null ? "" : ` slot ${slot.number}`}`;
    });
  const lastFixture = [7, 8, 9, 10].map((slot) => `one-report slot ${slot}`);
  expect(asked("ferncombe").sort()).toEqual(
    [
      "disputed-match slot 4",
      "touched-signature clemency-s",
      "touched-signature silas-u",
      "unsigned-change clemency-s",
      "unsigned-change tabitha-c",
      ...lastFixture,
    ].sort(),
  );
  expect(asked("winterbeck").sort()).toEqual(
    ["disputed-match slot 4", "played-off kezia-m", "unsigned-change nikhil-b", ...lastFixture].sort(),
  );
  expect(asked("magpie-reach")).toEqual(["unsigned-change jarrah-t"]);
  expect(asked("beck-and-combe").sort()).toEqual(["disputed-match slot 4", ...lastFixture].sort());
});

test("RP1 the same entries from the last to the first give the same cards", () => {
  for (const { ledger, arrivals } of books.values()) {
    const backwards = createLedger(ledger.book);
    for (const arrival of [...arrivals].reverse()) backwards.add([arrival]);
    expect([...backwards.state().cards].sort()).toEqual([...ledger.state().cards].sort());
    expect(backwards.state().questions).toEqual(ledger.state().questions);
  }
});

test("the comparison notices one hoop in one game", () => {
  const [before, after] = ["edwin-f -1,imogen-t 8,7-5", "edwin-f -1,imogen-t 8,5-7"];
  const { cards } = stateOf("ferncombe", booksFrom(changed("clubs/ferncombe/games.csv", before, after)));
  const lines = cards.get(demoPlayer("edwin-f"))?.lines.map((line) => rowOf("edwin-f", line));
  const expected = records(demoFiles(), "expected/ferncombe.csv").filter(({ player }) => player === "edwin-f");
  expect(lines).not.toEqual(expected.map(withoutGame));
});
