/** A screen's sheet: its heading, which has the focus when the screen is entered, and its title in the window. */
import type { ComponentChildren } from "preact";
import { useContext, useEffect, useLayoutEffect, useRef } from "preact/hooks";
import { ComesByItself } from "../in-turn.tsx";
import { settleScroll } from "../scroll.ts";
import { inTurn } from "../turns.ts";
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
  const comesByItself = useContext(ComesByItself);
  // Before the effects of what is below, which may bring a line of it into view.
  useLayoutEffect(() => {
    if (entered) {
      const focus = (): void => heading.current?.focus({ preventScroll: true });
      // To give it the focus a browser lays out the whole screen: for nobody who waits for that, in a task of its own.
      if (comesByItself.current) inTurn("rest", () => document.activeElement === document.body && focus());
      else focus();
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
