/** A message on the page. `live` has a screen reader speak it when it appears. */
import type { ComponentChildren } from "preact";
import type { Tone } from "./tone.ts";
import { toneMark } from "./tone.ts";

export interface NoticeProps {
  readonly tone: Tone;
  readonly title: ComponentChildren;
  readonly live?: boolean;
  readonly children?: ComponentChildren;
}

export const Notice = ({ tone, title, live = false, children }: NoticeProps) => (
  <div class={`notice tone-${tone}`} role={live ? (tone === "bad" ? "alert" : "status") : undefined}>
    <p class="notice-title">
      <span aria-hidden="true">{toneMark[tone]} </span>
      {title}
    </p>
    {children}
  </div>
);
