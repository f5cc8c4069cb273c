/** A screen's sheet: its heading, which has the focus when the screen is entered, and its title in the window. */
import type { ComponentChildren } from "preact";
import { useEffect, useLayoutEffect, useRef } from "preact/hooks";
import { settleScroll } from "../scroll.ts";
import { words } from "../words.ts";

export interface PageProps {
  readonly title: string;
  readonly lead?: ComponentChildren;
  /** Buttons beside the heading. */
  readonly actions?: ComponentChildren;
  readonly children: ComponentChildren;
}

/** The first screen after loading leaves the focus where the browser put it. */
let entered = false;

export function Page({ title, lead, actions, children }: PageProps) {
  const heading = useRef<HTMLHeadingElement>(null);
  // Before the effects of what is below, which may bring a line of it into view.
  useLayoutEffect(() => {
    if (entered) {
      heading.current?.focus({ preventScroll: true });
      settleScroll();
    }
    entered = true;
  }, []);
  useEffect(() => {
    document.title = `${title} · ${words.appName}`;
  }, [title]);
  return (
    <section class="page">
      <header class="page-head">
        <div>
          <h1 ref={heading} tabIndex={-1}>
            {title}
          </h1>
          {lead !== undefined && <p class="quiet">{lead}</p>}
        </div>
        {actions !== undefined && <div class="row no-print">{actions}</div>}
      </header>
      {children}
    </section>
  );
}
