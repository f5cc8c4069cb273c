/**
 * How wide a drawing may be, and how large its reader has text, so that it is drawn at its real size and its words fit. Where text is
 * so large that they would not, it is drawn wider than its box, which scrolls: a drawing that is squeezed says nothing.
 */
import type { RefObject } from "preact";
import { useEffect, useRef, useState } from "preact/hooks";

export interface DrawingSize {
  /** CSS pixels. */
  readonly width: number;
  /** 1 where text has the usual 16 pixels. */
  readonly scale: number;
  /** Whether its box is narrower. */
  readonly scrolls: boolean;
}

/** Without a measured width: on paper. */
const PAPER: DrawingSize = { width: 640, scale: 1, scrolls: false };

/** What was measured last, by what was asked: most likely what the next one will be, so that it is drawn once. */
const measured = new Map<string, DrawingSize>();

/** `most` and `least`: how wide it may be and must be, in pixels where text has 16. */
export function useSize(most: number, least: number): readonly [RefObject<HTMLElement | null>, DrawingSize] {
  const box = useRef<HTMLElement>(null);
  const asked = `${most} ${least}`;
  const [size, setSize] = useState(measured.get(asked) ?? PAPER);
  useEffect(() => {
    const element = box.current;
    if (element === null) return;
    const observer = new ResizeObserver(() => {
      const room = element.clientWidth;
      if (room === 0) return;
      const scale = Number.parseFloat(getComputedStyle(document.documentElement).fontSize) / 16;
      const width = Math.max(Math.min(room, most * scale), least * scale);
      const now = { width, scale, scrolls: width > room };
      const before = measured.get(asked);
      const isSame = before?.width === width && before.scale === scale && before.scrolls === now.scrolls;
      if (!isSame) measured.set(asked, now);
      setSize(isSame ? before : now);
    });
    observer.observe(element);
    return () => observer.disconnect();
  }, [most, least]);
  return [box, size];
}

/** What the box of a drawing needs so that who cannot see all of it can scroll, by keyboard too. */
export const scrollable = ({ scrolls }: DrawingSize): { readonly tabIndex?: 0 } => (scrolls ? { tabIndex: 0 } : {});
