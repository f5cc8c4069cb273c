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
    const own = dialog.current;
    own?.showModal();
    return () => {
      const now = document.activeElement;
      // Not where a screen has come meanwhile and taken it.
      const free = now === null || now === document.body || own?.contains(now) === true;
      if (free && before instanceof HTMLElement) before.focus();
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
