/** What stands where nothing is yet: says what would be here and how it comes. */
import type { ComponentChildren } from "preact";

export interface EmptyProps {
  readonly title: ComponentChildren;
  readonly children?: ComponentChildren;
}

export const Empty = ({ title, children }: EmptyProps) => (
  <div class="empty">
    <h2>{title}</h2>
    {children}
  </div>
);
