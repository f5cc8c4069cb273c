/** Keys that work here, on screens wide enough to have a keyboard: `<KeyHints keys={[["Enter", "saves"]]} />`. */
import type { KeyHint } from "../keys.ts";
import { useHints } from "../keys.ts";

export interface KeyHintsProps {
  readonly keys: readonly KeyHint[];
}

export function KeyHints({ keys }: KeyHintsProps) {
  useHints(keys);
  return (
    <div class="key-hints no-print">
      {keys.map(([key, does]) => (
        <span key={key}>
          <kbd>{key}</kbd> {does}
        </span>
      ))}
    </div>
  );
}
