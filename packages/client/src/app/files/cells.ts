/** One cell at a time: a text becomes what it means, or says why it does not. */
import type { Format, Game, Occasion, Play, Result } from "@sward/core";
import { fail, Occasion as OccasionShape, ok, StartTime } from "@sward/core";
import { readWhole } from "../entry/check.ts";
import { occasionWords } from "../words/play.ts";

export type ScoreFaultType = "not-a-score" | "score-is-a-date";

export const MOST_HOOPS = 19;

/** Own hoops first, such as "7-4". A spreadsheet may have made a day of it, and which one depends on the country: nothing is guessed. */
export function readScore(text: string): Result<readonly [number, number], ScoreFaultType> {
  const found = /^(\d{1,2})\s*[-–−:]\s*(\d{1,2})$/.exec(text.trim());
  if (found === null) return fail(isMadeADate(text.trim()) ? "score-is-a-date" : "not-a-score");
  const [own, other] = [Number(found[1]), Number(found[2])];
  return own > MOST_HOOPS || other > MOST_HOOPS ? fail("not-a-score") : ok([own, other]);
}

const isMadeADate = (text: string): boolean =>
  /^\d{1,2}[-\s][A-Za-z]{3,9}(?:[-\s]\d{2,4})?$/.test(text) ||
  /^[A-Za-z]{3,9}[-\s]\d{1,2}(?:[-\s]\d{2,4})?$/.test(text) ||
  /^\d{1,2}[/.]\d{1,2}[/.]\d{2,4}$/.test(text) ||
  /^\d{4}-\d{2}-\d{2}$/.test(text);

export function readHoops(text: string): number | null {
  const hoops = readWhole(text);
  return hoops === null || hoops < 0 || hoops > MOST_HOOPS ? null : hoops;
}

const plays: ReadonlyMap<string, Play> = new Map([
  ["h", "handicap"],
  ["handicap", "handicap"],
  ["handicap play", "handicap"],
  ["l", "level"],
  ["level", "level"],
  ["level play", "level"],
]);

export const readPlay = (text: string): Play | undefined => plays.get(plain(text));

export function readFormat(text: string): Format | undefined {
  const found = /^(7|13|19)(?:\s*-?\s*(?:points?|pts?\.?))?$/.exec(plain(text));
  return found === null ? undefined : (Number(found[1]) as Format);
}

const occasions: ReadonlyMap<string, Occasion> = new Map(
  OccasionShape().options.flatMap((occasion) => [
    [occasion, occasion] as const,
    [occasion.replaceAll("-", " "), occasion] as const,
    [occasionWords[occasion], occasion] as const,
  ]),
);

export const readOccasion = (text: string): Occasion | undefined => occasions.get(plain(text));

const endings: ReadonlyMap<string, Game["ended"] | "played-out"> = new Map([
  ["", "played-out"],
  ["played out", "played-out"],
  ["finished", "played-out"],
  ["time", "time"],
  ["on time", "time"],
  ["abandoned", "abandoned"],
  ["walkover", "walkover"],
  ["w/o", "walkover"],
]);

export const readEnding = (text: string): NonNullable<Game["ended"]> | "played-out" | undefined =>
  endings.get(plain(text));

const yesNo: ReadonlyMap<string, boolean> = new Map([
  ["", true],
  ["yes", true],
  ["y", true],
  ["no", false],
  ["n", false],
]);

/** Whether the game counts; "no" means that both sides agreed so beforehand. */
export const readCounts = (text: string): boolean | undefined => yesNo.get(plain(text));

/** As 14:30; also 9.30 and 09:30:00. */
export function readStart(text: string): string | undefined {
  const found = /^(\d{1,2})[:.](\d{2})(?::00)?$/.exec(text.trim());
  if (found === null) return undefined;
  const time = `${(found[1] ?? "").padStart(2, "0")}:${found[2]}`;
  return StartTime().safeParse(time).success ? time : undefined;
}

const plain = (text: string): string => text.trim().toLowerCase().replace(/\s+/g, " ");
