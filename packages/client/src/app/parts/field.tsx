/**
 * A labelled field with its hint and its error where the eye already is. The child is a function of the attributes a control needs
 * to belong to its label: `<Field label="Name">{(control) => <input {...control} />}</Field>`.
 */
import type { ComponentChildren } from "preact";
import { useId } from "preact/hooks";

export interface Control {
  readonly id: string;
  readonly "aria-describedby": string | undefined;
  readonly "aria-invalid": "true" | undefined;
}

export interface FieldProps {
  readonly label: ComponentChildren;
  readonly hint?: ComponentChildren;
  /** In words: what is wrong and what to write. Null or absent when all is well. */
  readonly error?: string | null | undefined;
  readonly children: (control: Control) => ComponentChildren;
}

export function Field({ label, hint, error, children }: FieldProps) {
  const id = useId();
  const hintId = hint === undefined ? "" : `${id}-hint`;
  const errorId = error ? `${id}-error` : "";
  const described = `${hintId} ${errorId}`.trim();
  return (
    <div class="field">
      <label for={id}>{label}</label>
      {hint !== undefined && (
        <div class="hint" id={hintId}>
          {hint}
        </div>
      )}
      {children({
        id,
        "aria-describedby": described === "" ? undefined : described,
        "aria-invalid": error ? "true" : undefined,
      })}
      <div aria-live="polite">
        {error ? (
          <div class="error" id={errorId}>
            {error}
          </div>
        ) : null}
      </div>
    </div>
  );
}
