/**
 * What is below the part of a screen that can be seen. It is drawn when that part has been: a card of ten years is three times as much to
 * lay out and to paint as its front, and a phone would keep somebody waiting for what is not on its screen. Nothing that can be seen is
 * ever late: where the place is in sight, or a page is gone back to, all is drawn at once, and what comes into sight is brought up to
 * date before the next frame. Paper and the browser's search find it a moment later.
 *
 * Rejected: `content-visibility`, which takes two and a half screens for what can be seen, does nothing for the parts of a table, and
 * leaves all of it to be made and compared.
 */
import { untracked } from "@preact/signals";
import type { ComponentChildren, RefObject } from "preact";
import { useEffect, useLayoutEffect, useRef, useState } from "preact/hooks";
import "./below.css";
import { onceDrawn } from "../../desk/once-drawn.ts";
import { isGoingBack } from "../scroll.ts";

export interface BelowProps {
  /** Something of it is asked for. */
  readonly atOnce: boolean;
  readonly children: ComponentChildren;
}

/** Drawn for the first time after what stands above it. */
export function Below({ atOnce, children }: BelowProps) {
  const place = useRef<HTMLDivElement>(null);
  const [come, setCome] = useState(() => atOnce || isGoingBack());
  useLayoutEffect(() => {
    if (come || place.current === null) return;
    let left = false;
    const draw = (): void => {
      if (!left) setCome(true);
    };
    // A page begins at its top, to which it may not have been brought yet.
    if (place.current.getBoundingClientRect().top + scrollY < innerHeight) draw();
    else onceDrawn(draw);
    return () => {
      left = true;
    };
  }, []);
  // As tall as a screen, so that the scroll bar does not come and go.
  return come ? children : <div ref={place} class="below" />;
}

/** How far from what can be seen, as a part of its height. */
const NEAR = "10% 0px";

/**
 * What the part at `place` is to be drawn from: `now` where it can be seen, and else what it was, until the rest has been drawn. What is
 * drawn from it asks for nothing that changes by itself (`untold`).
 */
export function useOutOfSight<T>(now: T): { readonly place: RefObject<HTMLElement | null>; readonly shown: T } {
  const place = useRef<HTMLElement>(null);
  const seen = useRef(true);
  const latest = useRef(now);
  const shown = useRef(now);
  const [, again] = useState(0);
  latest.current = now;
  if (seen.current) shown.current = now;
  const catchUp = (): void => {
    if (place.current === null || shown.current === latest.current) return;
    shown.current = latest.current;
    again((times) => times + 1);
  };
  useEffect(() => {
    if (place.current === null) return;
    const observer = new IntersectionObserver(
      (looks) => {
        seen.current = looks.at(-1)?.isIntersecting !== false;
        if (seen.current) catchUp();
      },
      { rootMargin: NEAR },
    );
    observer.observe(place.current);
    return () => observer.disconnect();
  }, []);
  useLayoutEffect(() => {
    if (shown.current !== now) onceDrawn(catchUp);
  }, [now]);
  return { place, shown: shown.current };
}

/** What this reads is not drawn again when it changes: whoever draws it says when. */
export const untold: <T>(read: () => T) => T = untracked;
