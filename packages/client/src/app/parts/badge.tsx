/** One or two words about a state, with a mark of its own shape. */
import type { ComponentChildren } from "preact";
import type { Tone } from "./tone.ts";
import { toneMark } from "./tone.ts";

export interface BadgeProps {
  readonly tone?: Tone;
  readonly children: ComponentChildren;
}

export const Badge = ({ tone = "plain", children }: BadgeProps) => (
  <span class={`badge tone-${tone}`}>
    <span aria-hidden="true">{toneMark[tone]}</span>
    <span>{children}</span>
  </span>
);
