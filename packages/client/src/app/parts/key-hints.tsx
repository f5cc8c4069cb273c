/** Keys that work here, on screens wide enough to have a keyboard: `<KeyHints keys={[["Enter", "saves"]]} />`. */
import { useEffect } from "preact/hooks";
import type { KeyHint } from "../keys.ts";
import { hintsHere } from "../keys.ts";

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

/** The map of keys lists what the page hints at. */
function useHints(keys: readonly KeyHint[]): void {
  const text = JSON.stringify(keys);
  useEffect(() => {
    const own = JSON.parse(text) as readonly KeyHint[];
    hintsHere.value = [...hintsHere.value, ...own];
    return () => {
      hintsHere.value = hintsHere.value.filter((hint) => !own.includes(hint));
    };
  }, [text]);
}
