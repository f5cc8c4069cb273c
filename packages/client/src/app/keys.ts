/**
 * Single keys that do something outside a field, such as `/`, `n`, and `g` followed by a letter. They can be switched off on a device,
 * as WCAG 2.2 asks (Character Key Shortcuts, https://www.w3.org/TR/WCAG22/#character-key-shortcuts): who dictates, or whose hand
 * trembles, would set them off by speaking or by a slip. Keys inside a field or a dialog are its own.
 */
import { signal } from "@preact/signals";
import { useEffect, useLayoutEffect, useRef } from "preact/hooks";

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

/** What keys do, by `KeyboardEvent.key`; two after each other are written `g m`. */
export type KeyMap = Readonly<Record<string, () => void>>;

/** A key and what it does, in words. */
export type KeyHint = readonly [key: string, does: string];

/** Keys of the page that the map of keys lists. */
export const hintsHere = signal<readonly KeyHint[]>([]);

/** How long the first of two keys is waited with, in milliseconds. */
const PATIENCE = 1500;

export interface KeyReader {
  /** What a key means among these maps, the last one asked first; null when it means nothing, or only begins something. */
  press(key: string, now: number, maps: readonly KeyMap[]): (() => void) | "begun" | null;
}

export function createKeyReader(): KeyReader {
  let begun: { readonly key: string; readonly at: number } | null = null;
  return {
    press(key, now, maps) {
      const first = begun !== null && now - begun.at <= PATIENCE ? `${begun.key} ` : "";
      begun = null;
      for (const map of [...maps].reverse()) {
        const act = map[first + key];
        if (act !== undefined) return act;
      }
      if (!maps.some((map) => Object.keys(map).some((keys) => keys.startsWith(`${key} `)))) return null;
      begun = { key, at: now };
      return "begun";
    },
  };
}

const reader = createKeyReader();
const maps: { current: KeyMap }[] = [];

function pressed(event: KeyboardEvent): void {
  if (!mayAct(event)) return;
  const act = reader.press(
    event.key,
    event.timeStamp,
    maps.map(({ current }) => current),
  );
  if (act === null) return;
  event.preventDefault();
  if (act !== "begun") act();
}

/** Makes keys work while a component is on the page. */
export function useKeys(map: KeyMap): void {
  const latest = useRef(map);
  latest.current = map;
  // With the drawing and not after it: a key pressed at once must not fall between two screens.
  useLayoutEffect(() => {
    if (maps.length === 0) addEventListener("keydown", pressed);
    maps.push(latest);
    return () => {
      maps.splice(maps.indexOf(latest), 1);
      if (maps.length === 0) removeEventListener("keydown", pressed);
    };
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

/** Lists keys on the map while a component is on the page. */
export function useHints(keys: readonly KeyHint[]): void {
  const text = JSON.stringify(keys);
  useEffect(() => {
    const own = JSON.parse(text) as readonly KeyHint[];
    hintsHere.value = [...hintsHere.value, ...own];
    return () => {
      hintsHere.value = hintsHere.value.filter((hint) => !own.includes(hint));
    };
  }, [text]);
}
