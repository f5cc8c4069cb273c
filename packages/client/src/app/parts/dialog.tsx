/** A question over the page. The browser's own dialog: it holds the focus, Esc backs out, and the focus goes back afterwards. */
import type { ComponentChildren } from "preact";
import { useEffect, useId, useRef } from "preact/hooks";

export interface DialogProps {
  readonly title: ComponentChildren;
  readonly onClose: () => void;
  readonly children: ComponentChildren;
}

export function Dialog({ title, onClose, children }: DialogProps) {
  const dialog = useRef<HTMLDialogElement>(null);
  const id = useId();
  useEffect(() => {
    const before = document.activeElement;
    dialog.current?.showModal();
    return () => {
      if (before instanceof HTMLElement) before.focus();
    };
  }, []);
  return (
    <dialog
      ref={dialog}
      aria-labelledby={id}
      onCancel={(event) => {
        event.preventDefault();
        onClose();
      }}
    >
      <h2 id={id}>{title}</h2>
      {children}
    </dialog>
  );
}
