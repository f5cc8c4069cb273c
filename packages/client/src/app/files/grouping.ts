/**
 * Lines that are one match: those that name the same day, players, play, length and number of match. Their games must be numbered
 * through, and they must agree in everything but the score; else it cannot be told what was played. A line that names no number is a
 * match of its own.
 */
import type { Game, MatchReported, PlayerId } from "@sward/core";
import { byCodeUnits, byNumber, differences } from "@sward/core";
import type { LineFault } from "./faults.ts";
import type { FieldName } from "./fields.ts";
import type { LineReading, ToldLine } from "./lines.ts";
import { factsOf, pairingKey } from "./recorded.ts";

export interface GroupedLine {
  readonly line: number;
  readonly doubts: readonly LineFault[];
  /** What a fault found later says stood there: only the place of the line in its match. */
  text(field: FieldName): string;
}

export interface TellingGroup {
  readonly lines: readonly GroupedLine[];
  /** With all games of the match, own side as in the first line. */
  readonly body: MatchReported;
  /** The number the file gives the match; null when it gives none. */
  readonly place: number | null;
  readonly filled: ReadonlySet<PlayerId>;
  readonly fault: "game-twice" | "games-missing" | "match-disagrees" | null;
}

interface Telling extends LineReading {
  readonly told: ToldLine;
}

/** In the order in which the file first names them. */
export function groupLines(readings: readonly LineReading[]): readonly TellingGroup[] {
  const groups = new Map<string, Telling[]>();
  for (const reading of readings) {
    const { line, told } = reading;
    if (told === null) continue;
    const { place, body } = told;
    const key = place === null ? `line ${line}` : `${pairingKey(factsOf(body))}|${place.match}`;
    const held = groups.get(key);
    if (held === undefined) groups.set(key, [{ ...reading, told }]);
    else held.push({ ...reading, told });
  }
  return [...groups.values()].flatMap((lines) => {
    const [first] = lines;
    return first === undefined ? [] : [together(first, lines)];
  });
}

function together(first: Telling, lines: readonly Telling[]): TellingGroup {
  const numbered = [...lines].sort((a, b) => byNumber(gameNumber(a), gameNumber(b)));
  const games = numbered.flatMap((one) => turnedLike(first, one));
  const starts = lines.flatMap(({ told }) => told.body.start ?? []).sort(byCodeUnits);
  const body: MatchReported = { ...first.told.body, ...(starts[0] === undefined ? {} : { start: starts[0] }), games };
  return {
    lines: lines.map(({ line, doubts, told }) => ({ line, doubts, text: (field) => textOf(told, field) })),
    body,
    place: first.told.place?.match ?? null,
    filled: new Set(lines.flatMap(({ told }) => [...told.filled])),
    fault: faultOf(first, numbered),
  };
}

const gameNumber = ({ told }: Telling): number => told.place?.game ?? 1;

function faultOf(first: Telling, numbered: readonly Telling[]): TellingGroup["fault"] {
  if (numbered.some((one, at) => at > 0 && gameNumber(one) === gameNumber(numbered[at - 1] ?? one)))
    return "game-twice";
  if (numbered.some((one, at) => gameNumber(one) !== at + 1)) return "games-missing";
  const facts = { ...factsOf(first.told.body), games: [] };
  const agrees = ({ told }: Telling): boolean => differences(facts, { ...factsOf(told.body), games: [] }).length === 0;
  return numbered.every(agrees) ? null : "match-disagrees";
}

/** The line's game with the scores in the order of the first line's sides. */
function turnedLike(first: Telling, { told }: Telling): readonly Game[] {
  const own = new Set(first.told.body.sides[0].map(({ player }) => player));
  const turned = !told.body.sides[0].some(({ player }) => own.has(player));
  return told.body.games.map((game) => (turned ? { ...game, score: [game.score[1], game.score[0]] } : game));
}

function textOf({ place, body }: ToldLine, field: FieldName): string {
  if (field === "game") return String(place?.game ?? "");
  return field === "date" ? body.date : "";
}
