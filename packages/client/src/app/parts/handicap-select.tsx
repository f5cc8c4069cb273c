/** Chooses a handicap of the table, with its trigger point beside it. */
import type { RuleSet } from "@sward/core";
import { number } from "../words.ts";
import type { Control } from "./field.tsx";

interface Common {
  readonly control: Control;
  readonly rules: RuleSet | undefined;
}

export type HandicapSelectProps = Common &
  (
    | { readonly value: number; readonly choose: (handicap: number) => void; readonly none?: never }
    /** `none`: words for choosing none. */
    | { readonly value: number | null; readonly choose: (handicap: number | null) => void; readonly none: string }
  );

export function HandicapSelect({ control, rules, value, choose, none }: HandicapSelectProps) {
  const rows = rules?.triggers ?? [];
  const unlisted = value !== null && !rows.some(({ handicap }) => handicap === value);
  const chosen = (text: string): void => {
    // The option for none is there only when the caller takes null.
    (choose as (handicap: number | null) => void)(text === "" ? null : Number(text));
  };
  return (
    <select
      {...control}
      value={value === null ? "" : String(value)}
      onChange={(event) => chosen(event.currentTarget.value)}
    >
      {none !== undefined && <option value="">{none}</option>}
      {unlisted && <option value={String(value)}>{number(value)}</option>}
      {rows.map(({ handicap, trigger }) => (
        <option key={handicap} value={String(handicap)}>
          {number(handicap)} ({number(trigger)})
        </option>
      ))}
    </select>
  );
}
