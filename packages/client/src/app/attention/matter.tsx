/** One thing to do: what it is, the evidence, and what can be done about it. */
import type { ComponentChildren } from "preact";
import { useId } from "preact/hooks";

export interface MatterBoxProps {
  readonly title: ComponentChildren;
  readonly children: ComponentChildren;
  /** Buttons, and words for what this device may not do. */
  readonly actions?: ComponentChildren;
}

export function MatterBox({ title, children, actions }: MatterBoxProps) {
  const id = useId();
  return (
    <li>
      <article class="matter" aria-labelledby={id}>
        <h3 id={id} tabIndex={-1}>
          {title}
        </h3>
        {children}
        {actions !== undefined && <div class="row matter-actions">{actions}</div>}
      </article>
    </li>
  );
}

/**
 * Where the focus goes when a matter is settled and its box goes away: to the next one, or to the heading of the page. Called before
 * saving; call what it returns afterwards.
 */
export function focusAfter(button: Element): () => void {
  const item = button.closest("li");
  const next = item?.nextElementSibling ?? item?.previousElementSibling;
  const heading = next?.querySelector<HTMLElement>("h3") ?? null;
  // The list is drawn anew a moment after saving.
  return () => {
    setTimeout(() => {
      const target = heading?.isConnected === true ? heading : document.querySelector<HTMLElement>(".page h1");
      target?.focus();
    }, 50);
  };
}
