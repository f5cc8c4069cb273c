/** The name of a person as it is typed, and as the roster keeps it. Pure. */
import type { RosterRecord } from "../book/roster.ts";
import { nameWords } from "./words/names.ts";

export interface NameForm {
  readonly name: string;
  readonly short: string;
  readonly junior: boolean;
}

export interface NameFormFaults {
  readonly name: string | null;
}

const tidy = (text: string): string => text.trim().replaceAll(/\s+/g, " ");

export function nameFaults({ name }: NameForm): NameFormFaults | null {
  return tidy(name) === "" ? { name: nameWords.missing } : null;
}

/** "Ada Wren" is "Ada W." where space or discretion asks for it; a single word stays. */
export function shortened(name: string): string {
  const parts = tidy(name).split(" ");
  const [first = ""] = parts;
  const last = parts.length > 1 ? (parts.at(-1) ?? "") : "";
  const initial = [...last][0];
  return initial === undefined ? first : `${first} ${initial.toLocaleUpperCase()}.`;
}

export function recordOf({ name, short, junior }: NameForm): RosterRecord {
  const full = tidy(name).slice(0, 80);
  const brief = tidy(short) === "" ? shortened(full) : tidy(short);
  return { name: full, short: brief.slice(0, 40), ...(junior ? { junior } : {}) };
}
