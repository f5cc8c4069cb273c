/**
 * What each line of a file would do to the record: a new game, one the record has already, one it has differently, or nothing because
 * something is wrong. Lines that agree with the record find their match first, whatever their order; what is left over of the same
 * players and day then differs, or is one more game. So a file that is brought in twice changes nothing, and a list kept in another
 * order than the record does not either.
 *
 * A line is one match of one game unless the file numbers matches and games; then its lines are put together as the record has them.
 */
import type { Day, FactName, MatchFacts, MatchReported, PlayerId } from "@sward/core";
import { differences } from "@sward/core";
import type { LineFault, PlainFaultType } from "./faults.ts";
import type { FieldName } from "./fields.ts";
import { seatFields } from "./fields.ts";
import type { TellingGroup } from "./grouping.ts";
import { groupLines } from "./grouping.ts";
import type { LineReading } from "./lines.ts";
import type { RecordedMatch, RecordIndex } from "./recorded.ts";
import { factsOf, pairingKey } from "./recorded.ts";

export type Standing = "new" | "recorded" | "differs" | "faulty" | "left-out";

export interface JudgedLine {
  readonly line: number;
  readonly standing: Standing;
  readonly faults: readonly LineFault[];
  /** What the line says; null when it cannot be read. */
  readonly body: MatchReported | null;
  /** Of a line that differs: what the record has, and in which facts. */
  readonly recorded: { readonly facts: MatchFacts; readonly differs: readonly FactName[] } | null;
  /** An earlier line that says the very same. */
  readonly twin: number | null;
  /** Handicaps that were taken from the record. */
  readonly filled: ReadonlySet<PlayerId>;
}

export interface Judgement {
  readonly lines: readonly JudgedLine[];
  /** New and without fault, in the order of the file. */
  readonly matches: readonly MatchReported[];
}

export interface Choices {
  readonly leftOut: ReadonlySet<number>;
  /** Lines that differ from the record and are one more game all the same. */
  readonly further: ReadonlySet<number>;
}

const MOST_A_DAY = 50;

export function judgeLines(
  readings: readonly LineReading[],
  record: RecordIndex,
  { leftOut, further }: Choices,
): Judgement {
  const judged = new Map<number, JudgedLine>();
  for (const { line, told, faults } of readings) {
    const body = told?.body ?? null;
    const plain = { line, faults, body, recorded: null, twin: null, filled: told?.filled ?? new Set<PlayerId>() };
    if (leftOut.has(line)) judged.set(line, { ...plain, standing: "left-out", faults: [] });
    else judged.set(line, { ...plain, standing: told === null ? "faulty" : "new" });
  }
  const set = (line: number, change: Partial<JudgedLine>): void => {
    const held = judged.get(line);
    if (held !== undefined) judged.set(line, { ...held, ...change });
  };
  const blame = ({ lines }: TellingGroup, type: PlainFaultType, field: FieldName): void => {
    for (const { line, text } of lines) set(line, { standing: "faulty", faults: [{ type, field, text: text(field) }] });
  };

  const groups = groupLines(readings.filter(({ line }) => !leftOut.has(line)));
  for (const group of groups) if (group.fault !== null) blame(group, group.fault, "game");
  const sound = groups.filter(({ fault }) => fault === null);

  const taken = createTaking(record);
  // Those that name their match first: another line of the same score must not find it before them.
  const agreeing = new Set([...sound].sort(placedFirst).filter((group) => taken.agreeing(group)));
  for (const { lines } of agreeing) for (const { line } of lines) set(line, { standing: "recorded", faults: [] });
  const open = sound.filter((group) => !agreeing.has(group));
  const fresh: TellingGroup[] = [];
  for (const group of open) {
    const other = group.lines.some(({ line }) => further.has(line)) ? null : taken.rival(group);
    if (other === null) fresh.push(group);
    else for (const { line } of group.lines) set(line, { standing: "differs", recorded: other });
  }

  const moving = firstDays(fresh);
  const matches: MatchReported[] = [];
  const said = new Map<string, number>();
  const numbers = createNumbers(record, fresh, further);
  for (const group of fresh) {
    const n = numbers(group);
    const doubts = group.lines.flatMap(({ line, doubts: found }) => found.map((fault) => ({ line, fault })));
    const early = [...group.filled].find((player) => (moving.get(player) ?? "9") < group.body.date);
    if (n > MOST_A_DAY) blame(group, "too-many-that-day", "date");
    else if (early !== undefined) blame(group, "handicap-moves", handicapField(group.body, early));
    else if (doubts.length > 0) {
      for (const { line } of group.lines) {
        const own = doubts.filter((doubt) => doubt.line === line).map(({ fault }) => fault);
        // A match is saved whole or not at all: its other lines wait for the one in doubt.
        set(line, { standing: "faulty", faults: own.length > 0 ? own : doubts.slice(0, 1).map(({ fault }) => fault) });
      }
    } else {
      const same = JSON.stringify([group.body, group.place]);
      for (const { line } of group.lines) set(line, { twin: said.get(same) ?? null });
      said.set(same, said.get(same) ?? group.lines[0]?.line ?? 0);
      matches.push({ ...group.body, n });
    }
  }
  return { lines: readings.flatMap(({ line }) => judged.get(line) ?? []), matches };
}

const placedFirst = (a: TellingGroup, b: TellingGroup): number => Number(a.place === null) - Number(b.place === null);

/** The field of a player's handicap. */
function handicapField({ sides }: MatchReported, player: PlayerId): FieldName {
  const seat = sides.flatMap((side, s) => side.flatMap((one, p) => (one.player === player ? [s * 2 + p] : [])))[0];
  return seatFields[seat ?? 0]?.[1] ?? "handicap";
}

/** The record's games, each found by one line only. */
function createTaking(record: RecordIndex) {
  const used = new Set<string>();
  const games = ({ key, accounts }: RecordedMatch): readonly string[] =>
    accounts[0].games.map((_, game) => `${key}#${game}`);
  const free = (group: TellingGroup): readonly RecordedMatch[] => record.get(pairingKey(factsOf(group.body))) ?? [];

  /** The record has it: its games are taken. */
  function agreeing(group: TellingGroup): boolean {
    const own = factsOf(group.body);
    for (const match of free(group)) {
      const names = games(match);
      if (group.place !== null || own.games.length > 1) {
        if (
          names.some((name) => used.has(name)) ||
          !match.accounts.some((account) => differ(own, account, group).length === 0)
        ) {
          continue;
        }
        for (const name of names) used.add(name);
        return true;
      }
      for (const [game, name] of names.entries()) {
        if (used.has(name)) continue;
        const agrees = match.accounts.some((account) => differ(own, onlyGame(account, game), group).length === 0);
        if (!agrees) continue;
        used.add(name);
        return true;
      }
    }
    return false;
  }

  /** What the record has in its place: the match of that number, or else the next that no line has found. */
  function rival(group: TellingGroup): JudgedLine["recorded"] {
    const own = factsOf(group.body);
    for (const match of free(group)) {
      const names = games(match);
      const game = names.findIndex((name) => !used.has(name));
      if (game === -1 || (group.place !== null && match.n !== group.place)) continue;
      const facts = group.place === null ? onlyGame(match.accounts[0], game) : match.accounts[0];
      for (const name of group.place === null ? names.slice(game, game + 1) : names) used.add(name);
      return { facts, differs: differ(own, facts, group) };
    }
    return null;
  }

  return { agreeing, rival };
}

const onlyGame = (facts: MatchFacts, game: number): MatchFacts => ({
  ...facts,
  games: facts.games.slice(game, game + 1),
});

/** Facts in which a line and the record differ; a handicap the line does not have is no difference. */
function differ(own: MatchFacts, account: MatchFacts, { filled }: TellingGroup): readonly FactName[] {
  const recorded = new Map(account.sides.flat().map(({ player, off }) => [player, off]));
  const lent = (side: MatchFacts["sides"][0]) =>
    side.map(({ player, off }) => ({ player, off: filled.has(player) ? (recorded.get(player) ?? off) : off }));
  return differences({ ...own, sides: [lent(own.sides[0]), lent(own.sides[1])] }, account);
}

/** Of each player the first day with a new game: handicaps after it may be other ones than the record has now. */
function firstDays(groups: readonly TellingGroup[]): ReadonlyMap<PlayerId, Day> {
  const first = new Map<PlayerId, Day>();
  for (const { body } of groups) {
    for (const { player } of body.sides.flat()) {
      const day = first.get(player);
      if (day === undefined || body.date < day) first.set(player, body.date);
    }
  }
  return first;
}

/** The numbers new matches get: what the file says where it says so, else the lowest that is free, in the order of the file. */
function createNumbers(record: RecordIndex, groups: readonly TellingGroup[], further: ReadonlySet<number>) {
  const taken = new Map<string, Set<number>>();
  const of = (group: TellingGroup): Set<number> => {
    const key = pairingKey(factsOf(group.body));
    const held =
      taken.get(key) ?? new Set((record.get(key) ?? []).filter(({ ofLeague }) => !ofLeague).map(({ n }) => n));
    taken.set(key, held);
    return held;
  };
  const said = new Map<TellingGroup, number>();
  for (const group of groups) {
    const { place } = group;
    if (place === null || group.lines.some(({ line }) => further.has(line)) || of(group).has(place)) continue;
    of(group).add(place);
    said.set(group, place);
  }
  return (group: TellingGroup): number => {
    const own = said.get(group);
    if (own !== undefined) return own;
    let n = 1;
    while (of(group).has(n)) n += 1;
    of(group).add(n);
    return n;
  };
}
