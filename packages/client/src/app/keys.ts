/**
 * Single keys that do something outside a field, such as `/` and `n`. They can be switched off on a device, as WCAG 2.2 asks
 * (Character Key Shortcuts, https://www.w3.org/TR/WCAG22/#character-key-shortcuts): who dictates, or whose hand trembles, would
 * set them off by speaking or by a slip. Keys inside a dialog or a field are that field's own.
 */
import { signal } from "@preact/signals";
import { useEffect, useRef } from "preact/hooks";

const STORE_KEY = "sward/single-keys";

/** Whether single keys work on this device. */
export const singleKeys = signal(readSwitch());

function readSwitch(): boolean {
  try {
    return localStorage.getItem(STORE_KEY) !== "off";
  } catch {
    // A browser that gives no storage says so elsewhere; keys work all the same.
    return true;
  }
}

export function switchSingleKeys(on: boolean): void {
  singleKeys.value = on;
  if (on) localStorage.removeItem(STORE_KEY);
  else localStorage.setItem(STORE_KEY, "off");
}

export type KeyMap = Readonly<Record<string, () => void>>;

/** Keys by their `KeyboardEvent.key`. Two maps on a page must not name the same key. */
export function useKeys(map: KeyMap): void {
  const latest = useRef(map);
  latest.current = map;
  useEffect(() => {
    const pressed = (event: KeyboardEvent): void => {
      if (!mayAct(event)) return;
      const act = latest.current[event.key];
      if (act === undefined) return;
      event.preventDefault();
      act();
    };
    addEventListener("keydown", pressed);
    return () => removeEventListener("keydown", pressed);
  }, []);
}

/** Not in a field, not over a question, not together with a key of the browser's. */
function mayAct(event: KeyboardEvent): boolean {
  if (!singleKeys.value || event.defaultPrevented) return false;
  if (event.ctrlKey || event.metaKey || event.altKey) return false;
  if (document.querySelector("dialog[open]") !== null) return false;
  const target = event.target instanceof Element ? event.target : null;
  return target?.closest("input, select, textarea, [contenteditable]") == null;
}

/** What `KeyHints` on the page say, for the map of keys. */
export const hintsHere = signal<readonly KeyHint[]>([]);

export type KeyHint = readonly [key: string, does: string];
