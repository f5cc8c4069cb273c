/** The people of a line with what each was played off: from four columns, or two with pairs in one cell. */
import type { Day, Lineup, PlayerId } from "@sward/core";
import { Handicap } from "@sward/core";
import { readWhole } from "../entry/check.ts";
import type { LineFault } from "./faults.ts";
import type { FieldName } from "./fields.ts";
import type { NameMatch } from "./people.ts";
import { peopleInCell } from "./people.ts";

export interface SeatSetup {
  who(text: string): NameMatch;
  /** The handicap a player was off on a day, as far as the record knows; null where it does not. */
  advise(player: PlayerId, day: Day): number | null;
}

export interface ReadSeats {
  readonly sides: readonly [readonly Lineup[], readonly Lineup[]];
  /** Those whose handicap the file does not have: it was taken from the record. */
  readonly filled: ReadonlySet<PlayerId>;
  readonly faults: readonly LineFault[];
}

/** As long as a roster's name may be. */
export const LONGEST_NAME = 80;

/** @param day null while it cannot be read: no handicap can be looked up then */
export function readSeats(value: (field: FieldName) => string, day: Day | null, setup: SeatSetup): ReadSeats {
  const faults: LineFault[] = [];
  const filled = new Set<PlayerId>();
  const side = (parts: readonly Part[]): readonly Lineup[] =>
    parts.flatMap((part) => {
      const player = readPlayer(part, setup, faults);
      const off = readOff(part, player, day, setup, faults);
      if (player === null || off === null) return [];
      if (off.filled) filled.add(player);
      return [{ player, off: off.off }];
    });
  const own = partsOfSide(["player", "handicap"], ["partner", "partnerHandicap"], value, setup, faults);
  const other = partsOfSide(
    ["opponent", "opponentHandicap"],
    ["opponentPartner", "opponentPartnerHandicap"],
    value,
    setup,
    faults,
  );
  const sides = [side(own), side(other)] as const;
  if (faults.length === 0 && own.length !== other.length) {
    const field = own.length > other.length ? "opponentPartner" : "partner";
    faults.push({ type: "uneven-sides", field, text: value(field) });
  }
  return { sides, filled, faults };
}

interface Part {
  readonly text: string;
  /** The handicap as written, empty when it is not. */
  readonly off: string;
  readonly name: FieldName;
  readonly handicap: FieldName;
}

type SeatField = readonly [name: FieldName, handicap: FieldName];

function partsOfSide(
  first: SeatField,
  second: SeatField,
  value: (field: FieldName) => string,
  { who }: SeatSetup,
  faults: LineFault[],
): readonly Part[] {
  const isKnown = (text: string): boolean => who(text).type === "known";
  const inCell = (field: SeatField, offs: readonly string[]): readonly Part[] =>
    peopleInCell(value(field[0]), isKnown).map(({ text, off }, at) => ({
      text,
      off: (offs[at] ?? "") || off,
      name: field[0],
      handicap: field[1],
    }));
  const pair = /^([-−–]?\d{1,2})\s*[/&,;+]\s*([-−–]?\d{1,2})$/.exec(value(first[1]));
  const offs = pair === null ? [value(first[1])] : [pair[1] ?? "", pair[2] ?? ""];
  const parts = [...inCell(first, offs), ...inCell(second, [value(second[1])])];
  if (value(first[0]) === "") faults.push({ type: "no-name", field: first[0], text: "" });
  if (parts.length > 2) faults.push({ type: "three-in-a-cell", field: second[0], text: value(second[0]) });
  return parts;
}

function readPlayer({ text, name }: Part, { who }: SeatSetup, faults: LineFault[]): PlayerId | null {
  const match = who(text);
  if (match.type === "known") return match.player;
  const at = { field: name, text };
  if (match.type === "several") faults.push({ ...at, type: "name-of-several", offers: match.offers });
  else if (text.length > LONGEST_NAME) faults.push({ ...at, type: "name-too-long" });
  else faults.push({ ...at, type: "name-unknown", offers: match.offers });
  return null;
}

function readOff(
  part: Part,
  player: PlayerId | null,
  day: Day | null,
  { advise }: SeatSetup,
  faults: LineFault[],
): { readonly off: number; readonly filled: boolean } | null {
  const { off: text, handicap: field } = part;
  if (text !== "") {
    const read = Handicap().safeParse(readWhole(text));
    if (read.success) return { off: read.data, filled: false };
    faults.push({ type: "not-a-handicap", field, text });
    return null;
  }
  if (player === null || day === null) return null;
  const advised = advise(player, day);
  if (advised !== null) return { off: advised, filled: true };
  faults.push({ type: "no-handicap", field, text: part.text });
  return null;
}
