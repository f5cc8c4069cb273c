/** What a line of a club's games and a line of a league's reports have in common: who played, how, and with what score. */
import type { Game, Kind, Lineup, MatchReported, PlayerId } from "@sward/core";
import { checkMatch, mayMake } from "@sward/core";
import * as forms from "./forms.ts";
import type { Line } from "./table.ts";
import type { DemoDevice } from "./world.ts";

export const MATCH_COLUMNS = [
  "id",
  "date",
  "start",
  "play",
  "format",
  "side_a",
  "side_b",
  "scores",
  "ended",
  "device",
  "entered_on",
  "replaces",
];

/** The match as far as both kinds of line tell it. */
export type Told = Pick<MatchReported, "date" | "play" | "format" | "sides" | "games"> & { readonly start?: string };

export function readTold(line: Line, people: ReadonlyMap<string, { readonly player: PlayerId }>): Told {
  const start = line.maybe("start", forms.startTime);
  return {
    date: line.read("date", forms.day),
    ...(start === undefined ? {} : { start }),
    play: line.read("play", forms.play),
    format: line.read("format", forms.format),
    sides: [readSide(line, "side_a", people), readSide(line, "side_b", people)],
    games: readGames(line),
  };
}

function readSide(line: Line, column: string, people: ReadonlyMap<string, { readonly player: PlayerId }>): Lineup[] {
  return line.read(column, forms.side).flatMap(({ key, off }) => {
    const person = people.get(key);
    if (person === undefined) line.blame({ type: "demo-unknown", ...line.place(column), what: "player", key });
    return person === undefined ? [] : [{ player: person.player, off }];
  });
}

/** `ended` tells how the last game of the match ended; those before it were played out. */
function readGames(line: Line): Game[] {
  const ended = line.maybe("ended", forms.ended);
  const scores = line.read("scores", forms.scores);
  return scores.map(([a, b], place) => ({
    score: [a, b],
    ...(ended !== undefined && place === scores.length - 1 ? { ended } : {}),
  }));
}

/** Notes what no real match can be. Only for a line that was read without a fault: stand-ins would be blamed. */
export function checkTold(line: Line, body: MatchReported): void {
  const fault = checkMatch(body);
  if (fault === null) return;
  const column = fault.type === "score-cannot-be" ? "scores" : "side_b";
  line.blame({ type: "demo-match-cannot-be", ...line.place(column), fault });
}

/** The device that wrote a line, if it may write such an entry. */
export function readWriter(
  line: Line,
  devices: ReadonlyMap<string, DemoDevice>,
  kind: Kind,
  book: "club" | "league",
): DemoDevice | undefined {
  const device = line.find("device", "device", devices);
  if (device === undefined || device.role === "root") return undefined;
  if (mayMake({ kind, body: {} }, device.role, book, false) === "yes") return device;
  line.blame({ type: "demo-may-not-write", ...line.place("device"), device: line.raw("device") });
  return undefined;
}

/** The day of a column, no earlier than another day it follows. */
export function readDayAfter(line: Line, column: string, than: string): string {
  const day = line.read(column, forms.day);
  if (day < than) line.blame({ type: "demo-too-early", ...line.place(column), than });
  return day;
}
