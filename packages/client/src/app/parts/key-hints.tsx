/** Keys that work here, on screens wide enough to have a keyboard: `<KeyHints keys={[["Enter", "saves"]]} />`. */
export interface KeyHintsProps {
  readonly keys: readonly (readonly [key: string, does: string])[];
}

export const KeyHints = ({ keys }: KeyHintsProps) => (
  <div class="key-hints no-print">
    {keys.map(([key, does]) => (
      <span key={key}>
        <kbd>{key}</kbd> {does}
      </span>
    ))}
  </div>
);
