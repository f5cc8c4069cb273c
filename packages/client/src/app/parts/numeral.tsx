/** A handicap as it stands on the front of a card. */
import type { ComponentChildren } from "preact";
import { number, words } from "../words.ts";

export interface NumeralProps {
  readonly value: number;
  readonly large?: boolean;
  /** Below the number, such as "in force today". */
  readonly label?: ComponentChildren;
}

export const Numeral = ({ value, large = false, label }: NumeralProps) => (
  <span class={large ? "numeral large" : "numeral"}>
    <span class="numeral-value">
      <span aria-hidden="true">{number(value)}</span>
      <span class="unseen">{words.handicapSpoken(value)}</span>
    </span>
    {label !== undefined && <span class="numeral-label">{label}</span>}
  </span>
);
