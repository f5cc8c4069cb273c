/** The forms a cell can have: what it should be, how it is read, and what stands in for it when it cannot be. */

import type { Game } from "@sward/core";
import { Day, Format, Handicap, Index, Occasion, Play, StartTime } from "@sward/core";
import type { Wanted } from "./faults.ts";

export interface Form<T> {
  readonly wanted: Wanted;
  /** Undefined when the text does not have the form. */
  readonly parse: (text: string) => T | undefined;
  readonly standIn: T;
}

interface Schema<T> {
  readonly safeParse: (value: unknown) => { readonly success: true; readonly data: T } | { readonly success: false };
}

const shaped = <T>(wanted: Wanted, schema: Schema<T>, standIn: T): Form<T> => ({
  wanted,
  parse: (text) => parsed(schema, text),
  standIn,
});

const whole = <T extends number>(wanted: Wanted, schema: Schema<T>, standIn: T): Form<T> => ({
  wanted,
  parse: (text) => (/^-?\d+$/.test(text) ? parsed(schema, Number(text)) : undefined),
  standIn,
});

function parsed<T>(schema: Schema<T>, value: unknown): T | undefined {
  const result = schema.safeParse(value);
  return result.success ? result.data : undefined;
}

export const KEY = /^[a-z0-9]+(?:-[a-z0-9]+)*$/;

export const key: Form<string> = { wanted: "key", parse: (text) => (KEY.test(text) ? text : undefined), standIn: "-" };
export const text: Form<string> = {
  wanted: "text",
  parse: (value) => (value === "" ? undefined : value),
  standIn: "-",
};
export const day: Form<Day> = shaped("day", Day(), "2000-01-01");
export const startTime: Form<string> = shaped("start-time", StartTime(), "00:00");
export const handicap: Form<number> = whole("handicap", Handicap(), 0);
export const index: Form<number> = whole("index", Index(), 0);
export const play: Form<Play> = shaped("play", Play(), "handicap");
export const format: Form<Format> = whole("format", Format(), 13);
export const occasion: Form<Occasion> = shaped("occasion", Occasion(), "ad-hoc");
export const number: Form<number> = {
  wanted: "number",
  parse: (value) => (/^[1-9]\d?$/.test(value) ? Number(value) : undefined),
  standIn: 1,
};
export const yes: Form<boolean> = {
  wanted: "yes-or-empty",
  parse: (value) => (value === "yes" ? true : value === "" ? false : undefined),
  standIn: false,
};
export const standing: Form<"member" | "visitor"> = {
  wanted: "standing",
  parse: (value) => (value === "member" || value === "visitor" ? value : undefined),
  standIn: "member",
};

export type Ended = NonNullable<Game["ended"]>;

export const ended: Form<Ended> = {
  wanted: "ended",
  parse: (value) => (value === "time" || value === "abandoned" || value === "walkover" ? value : undefined),
  standIn: "time",
};

/** `ada-w 7` or, for a pair, `ada-w 7 + dev-m 2`: each player's key and the handicap played off. */
export const side: Form<readonly { readonly key: string; readonly off: number }[]> = {
  wanted: "side",
  parse(value) {
    const parts = value.split(" + ").map((part) => /^(\S+) (-?\d+)$/.exec(part));
    if (parts.length > 2) return undefined;
    const players = parts.flatMap((part) => {
      const off = part === null ? undefined : handicap.parse(part[2] ?? "");
      return part?.[1] === undefined || off === undefined ? [] : [{ key: part[1], off }];
    });
    return players.length === parts.length ? players : undefined;
  },
  standIn: [],
};

/** `7-4`, or several of a match: `7-4 5-7 7-6`, side A first. */
export const scores: Form<readonly (readonly [number, number])[]> = {
  wanted: "scores",
  parse(value) {
    const games = value.split(" ").map((score) => /^(\d{1,2})-(\d{1,2})$/.exec(score));
    const read = games.flatMap((game) => (game === null ? [] : [[Number(game[1]), Number(game[2])] as const]));
    return read.length === games.length && read.length <= 9 ? read : undefined;
  },
  standIn: [],
};

export interface Slot {
  readonly discipline: "singles" | "doubles";
  readonly play: Play;
  readonly format: Format;
}

/** `8 singles handicap 13; 2 doubles level 13`: the slots of a fixture in order, numbered from 1. */
export const slots: Form<readonly Slot[]> = {
  wanted: "slots",
  parse(value) {
    const found: Slot[] = [];
    for (const part of value.split("; ")) {
      const [count, discipline, kind, length, ...rest] = part.split(" ");
      const times = number.parse(count ?? "");
      const how = play.parse(kind ?? "");
      const points = format.parse(length ?? "");
      if (rest.length > 0 || times === undefined || how === undefined || points === undefined) return undefined;
      if (discipline !== "singles" && discipline !== "doubles") return undefined;
      for (let slot = 0; slot < times; slot++) found.push({ discipline, play: how, format: points });
    }
    return found;
  },
  standIn: [],
};
