/**
 * What can be taken out of the record as a table: members, results (a line for each game), cards (a line for each line). The results
 * are headed as the screen reads them, and a file that is brought in again finds every line in the record. Numbers stay numbers.
 *
 * Names leave the club with a file. A junior is written by the short name unless somebody asks for the full one, and two people who
 * would be written alike get the beginning of their id behind the name, so that a reader can tell them apart and so can we.
 */
import type { BookState, Card, CardLine, Day, EventId, Match, MatchFacts, PlayerId } from "@sward/core";
import { byCodeUnits, byNumber, handicapInForce } from "@sward/core";
import { playLetter } from "../words/play.ts";
import { reasonWords } from "../words.ts";
import { headings } from "./fields.ts";
import { nameKey } from "./people.ts";

export type SheetName = "members" | "results" | "cards";

export type CellValue = string | number | null;

export interface Sheet {
  readonly sheet: SheetName;
  readonly columns: readonly string[];
  readonly rows: readonly (readonly CellValue[])[];
}

export interface ExportSource {
  readonly state: Pick<BookState, "players" | "cards" | "matches" | "events">;
  /** Null for a player nobody has named. */
  named(player: PlayerId): { readonly name: string; readonly short: string; readonly junior: boolean } | null;
  /** What is written for such a player. */
  unnamed(code: string): string;
  readonly today: Day;
}

/** Every player's name as the files write it. */
export type Labels = (player: PlayerId) => string;

export function createLabels(source: ExportSource, juniorsInFull: boolean): Labels {
  const players = [...playersIn(source)].sort(byCodeUnits);
  const owners = new Map<string, Set<PlayerId>>();
  for (const player of players) {
    const known = source.named(player);
    for (const name of known === null ? [] : [known.name, known.short]) {
      const key = nameKey(name);
      owners.set(key, (owners.get(key) ?? new Set()).add(player));
    }
  }
  const labels = new Map<PlayerId, string>();
  for (const player of players) {
    const known = source.named(player);
    if (known === null) {
      labels.set(player, source.unnamed(player));
      continue;
    }
    const name = known.junior && !juniorsInFull ? known.short : known.name;
    const sharers = owners.get(nameKey(name)) ?? new Set();
    labels.set(player, sharers.size > 1 ? `${name} (${codeAmong(player, sharers)})` : name);
  }
  return (player) => labels.get(player) ?? source.unnamed(player);
}

/** As much of the id as the others do not begin with. */
function codeAmong(player: PlayerId, others: ReadonlySet<PlayerId>): string {
  let length = 4;
  while (length < player.length && [...others].filter((one) => one.startsWith(player.slice(0, length))).length > 1)
    length += 1;
  return player.slice(0, length);
}

const playersIn = ({ state }: ExportSource): ReadonlySet<PlayerId> => {
  const players = new Set<PlayerId>(state.players.keys());
  for (const match of state.matches.values())
    for (const { player } of factsToShow(match).sides.flat()) players.add(player);
  return players;
};

/** The facts that count, or what was reported first while none does. */
const factsToShow = ({ facts, reports }: Match): MatchFacts => {
  const told = facts ?? reports[0]?.facts;
  if (told === undefined) throw new Error("a match has no report");
  return told;
};

export function membersSheet({ state, today }: ExportSource, label: Labels): Sheet {
  const games = gamesPlayed(state);
  const rows = [...state.players.values()].map(({ player, standing, home }): readonly CellValue[] => {
    const card = state.cards.get(player);
    const handicap = card === undefined ? null : handicapInForce(card, today).handicap;
    return [label(player), standing, home?.club ?? null, handicap, card?.index ?? null, games.get(player) ?? 0];
  });
  return {
    sheet: "members",
    columns: ["name", "standing", "home club", "handicap", "index", "games"],
    rows: rows.sort((a, b) => byCodeUnits(String(a[1]), String(b[1])) || byCodeUnits(String(a[0]), String(b[0]))),
  };
}

export const RESULT_COLUMNS: readonly string[] = [
  headings.date,
  headings.start,
  headings.player,
  headings.handicap,
  headings.partner,
  headings.partnerHandicap,
  headings.opponent,
  headings.opponentHandicap,
  headings.opponentPartner,
  headings.opponentPartnerHandicap,
  headings.hoops,
  headings.opponentHoops,
  headings.ended,
  headings.play,
  headings.format,
  headings.occasion,
  headings.event,
  headings.counts,
  headings.match,
  headings.game,
  "standing",
];

/** By day, then as they were played as far as anybody said. */
export function resultsSheet({ state }: ExportSource, label: Labels): Sheet {
  const rows = [...state.matches.values()].sort(byDayAndStart).flatMap((match) => {
    const facts = factsToShow(match);
    const [own, other] = facts.sides;
    const seats = [own[0], own[1], other[0], other[1]].flatMap((seat): CellValue[] =>
      seat === undefined ? [null, null] : [label(seat.player), seat.off],
    );
    return facts.games.map(({ score, ended }, game): readonly CellValue[] => [
      facts.date,
      match.start,
      ...seats,
      score[0],
      score[1],
      ended ?? null,
      playLetter[facts.play],
      facts.format,
      facts.occasion,
      titleOf(state, match.event),
      facts.excluded ? "no" : "yes",
      // A fixture numbers its own matches: beside the day's other games of the two that number would mean another match.
      match.slot === null ? match.n : null,
      match.slot === null ? game + 1 : null,
      match.status,
    ]);
  });
  return { sheet: "results", columns: RESULT_COLUMNS, rows };
}

const CARD_COLUMNS: readonly string[] = [
  "player",
  "line",
  "date",
  "play",
  "points in a game",
  "occasion",
  "event",
  "handicap played off",
  "partner",
  "opponent",
  "opponent handicap",
  "opponent partner",
  "opponent partner handicap",
  "hoops",
  "opponent hoops",
  "points",
  "index",
  "handicap",
  "handicap changed from",
  "why",
  "rules",
];

/** Card by card in the order of the names; the lines as they stand on each. */
export function cardsSheet({ state }: ExportSource, label: Labels): Sheet {
  const cards = [...state.cards.values()].sort((a, b) => byCodeUnits(label(a.player), label(b.player)));
  return { sheet: "cards", columns: CARD_COLUMNS, rows: cards.flatMap((card) => cardRows(card, state, label)) };
}

const cardRows = ({ player, lines }: Card, state: ExportSource["state"], label: Labels): (readonly CellValue[])[] =>
  lines.map((line, at) => {
    const after = [line.index, line.handicap, line.moved?.from ?? null, whyOf(line)];
    if (line.line === "set") return [label(player), at + 1, line.date, ...nothing(13), ...after, null];
    const { play, format, occasion, event, off, partner, opponents, score, points, rules } = line;
    const [one, two] = opponents;
    return [
      label(player),
      at + 1,
      line.date,
      playLetter[play],
      format,
      occasion,
      titleOf(state, event),
      off,
      partner === null ? null : label(partner.player),
      one === undefined ? null : label(one.player),
      one?.off ?? null,
      two === undefined ? null : label(two.player),
      two?.off ?? null,
      score[0],
      score[1],
      points,
      ...after,
      rules,
    ];
  });

const nothing = (cells: number): readonly null[] => Array.from({ length: cells }, () => null);

const whyOf = (line: CardLine): string =>
  line.line === "set" ? `${reasonWords[line.reason]}: ${line.why}` : reasonWords[line.reason];

const titleOf = ({ events }: ExportSource["state"], event: EventId | null): string | null =>
  event === null ? null : (events.get(event)?.title ?? null);

const byDayAndStart = (a: Match, b: Match): number =>
  byCodeUnits(factsToShow(a).date, factsToShow(b).date) ||
  byCodeUnits(a.start ?? "", b.start ?? "") ||
  byNumber(a.n, b.n) ||
  byCodeUnits(a.key, b.key);

function gamesPlayed({ matches }: ExportSource["state"]): ReadonlyMap<PlayerId, number> {
  const games = new Map<PlayerId, number>();
  for (const { facts } of matches.values()) {
    for (const { player } of facts?.sides.flat() ?? [])
      games.set(player, (games.get(player) ?? 0) + (facts?.games.length ?? 0));
  }
  return games;
}
