/**
 * A card's lines as a person reads them: together with what they were played in, an event or a day. A line keeps its place on the
 * card, which signatures and questions count by.
 */
import type { BookState, CardLine, Day, EventId, GameLine } from "@sward/core";

export interface PlacedLine {
  /** From 0 on the card. */
  readonly place: number;
  readonly line: CardLine;
}

export interface LineGroup {
  readonly key: string;
  /** Null for games outside an event, and for what was set. */
  readonly event: { readonly title: string; readonly from: Day; readonly to: Day } | null;
  readonly date: Day;
  readonly lines: readonly PlacedLine[];
}

export type CardOrder = "newest-first" | "oldest-first";

/** @returns groups, and the lines within each, in the order asked for */
export function groupLines(
  lines: readonly CardLine[],
  events: BookState["events"],
  order: CardOrder,
): readonly LineGroup[] {
  const groups: { key: string; event: LineGroup["event"]; date: Day; lines: PlacedLine[] }[] = [];
  for (const [place, line] of lines.entries()) {
    const key = keyOf(line);
    const open = groups.at(-1);
    if (open?.key === key) open.lines.push({ place, line });
    else groups.push({ key, event: eventOf(line, events), date: line.date, lines: [{ place, line }] });
  }
  if (order === "oldest-first") return groups;
  return groups.reverse().map((group) => ({ ...group, lines: group.lines.reverse() }));
}

export interface ShownGroups {
  readonly groups: readonly LineGroup[];
  /** Lines that are left out. */
  readonly rest: number;
}

/**
 * The first groups, until they have so many lines: a card of many years has hundreds, which nobody reads at once and a phone takes
 * seconds to draw. No group is cut, and a line that is asked for is there with all before it.
 * @param show a line's place on the card
 */
export function firstGroups(groups: readonly LineGroup[], most: number, show: number | null): ShownGroups {
  const wanted = groups.findIndex(({ lines }) => lines.some(({ place }) => place === show));
  let lines = 0;
  const enough = groups.findIndex((group) => {
    lines += group.lines.length;
    return lines >= most;
  });
  const end = enough === -1 ? groups.length : Math.max(enough, wanted) + 1;
  const rest = groups.slice(end).reduce((sum, group) => sum + group.lines.length, 0);
  return { groups: groups.slice(0, end), rest };
}

const keyOf = (line: CardLine): string =>
  line.line === "set" ? `set ${line.entry}` : line.event === null ? `day ${line.date}` : `event ${line.event}`;

/** The same for the same line wherever it is: a game told late moves all after it, and they need not be drawn anew for that. */
export const lineKey = (line: CardLine): string => (line.line === "set" ? line.entry : `${line.match} ${line.game}`);

function eventOf(line: CardLine, events: BookState["events"]): LineGroup["event"] {
  const event = line.line === "game" ? (line.event as EventId | null) : null;
  return event === null ? null : (events.get(event) ?? null);
}

/** Won, lost or level, as the score says. */
export function outcomeOf({ score: [own, other] }: GameLine): "won" | "lost" | "level" {
  return own > other ? "won" : own < other ? "lost" : "level";
}

/** Every change of handicap on the card, first the starting one. */
export interface Change {
  readonly place: number;
  readonly date: Day;
  readonly from: number | null;
  readonly to: number;
  readonly index: number;
  readonly line: CardLine;
  /** Last day of the window it waits for: in force from the day after. Null: at once. */
  readonly after: Day | null;
}

export function changesOf(lines: readonly CardLine[]): readonly Change[] {
  return lines.flatMap((line, place): Change[] => {
    if (line.moved === null) return [];
    const { from, to } = line.moved;
    const after = line.line === "game" ? line.moved.after : null;
    return [{ place, date: line.date, from, to, index: line.index, line, after }];
  });
}
