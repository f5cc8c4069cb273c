/** How wide a drawing may be, and how large its reader has text, so that it is drawn at its real size and its words fit. */
import type { RefObject } from "preact";
import { useEffect, useRef, useState } from "preact/hooks";

export interface DrawingSize {
  /** CSS pixels. */
  readonly width: number;
  /** 1 where text has the usual 16 pixels. */
  readonly scale: number;
}

/** Without a measured width: on paper. */
const PAPER: DrawingSize = { width: 640, scale: 1 };

export function useSize(most: number): readonly [RefObject<HTMLElement | null>, DrawingSize] {
  const box = useRef<HTMLElement>(null);
  const [size, setSize] = useState(PAPER);
  useEffect(() => {
    const element = box.current;
    if (element === null) return;
    const observer = new ResizeObserver(() => {
      if (element.clientWidth === 0) return;
      const scale = Number.parseFloat(getComputedStyle(document.documentElement).fontSize) / 16;
      setSize({ width: Math.min(element.clientWidth, most * scale), scale });
    });
    observer.observe(element);
    return () => observer.disconnect();
  }, [most]);
  return [box, size];
}
