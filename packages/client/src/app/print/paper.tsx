/**
 * A sheet of paper on the screen: what is printed is what is shown, black on white in either scheme, with the club, the title and the
 * day at its head, and the line on who prevails at its foot. A browser that writes in the margins of a page (Chromium since 131, by
 * the standard's margin boxes) also puts club, title and day below every page, so that loose sheets on a board say what they are.
 * Rejected: making PDF files ourselves (half a megabyte of script for what every browser does).
 */
import type { Day } from "@sward/core";
import type { ComponentChildren } from "preact";
import { useEffect } from "preact/hooks";
import { showDay, showDayLong } from "../dates.ts";
import { useDesk } from "../desk-store.ts";
import { Button } from "../parts/button.tsx";
import { printWords } from "../words/print.ts";
import { words } from "../words.ts";
import "./paper.css";

export interface PaperHeadProps {
  readonly club: string;
  readonly title: string;
  readonly date: Day;
}

/** Above what is printed from a screen that is no sheet itself. Seen on paper only. */
export function PaperHead({ club, title, date }: PaperHeadProps) {
  useMark(club, title, date);
  return (
    <header class="print-only paper-own-head">
      <p>
        <strong>{club}</strong>, {showDayLong(date)}
      </p>
      <p class="paper-title">{title}</p>
    </header>
  );
}

export interface PaperProps {
  readonly title: string;
  /** Below the title, such as what the numbers are as of. */
  readonly lead?: ComponentChildren;
  /** `tall` and `wide` take their size from the paper in the printer. */
  readonly shape?: "tall" | "wide";
  readonly children: ComponentChildren;
}

/** One sheet, or one that flows over several. */
export function Paper({ title, lead, shape = "tall", children }: PaperProps) {
  const desk = useDesk();
  const club = desk.club.state().name;
  const today = desk.today();
  useMark(club, title, today);
  return (
    <Scrolled>
      <article class={`paper paper-${shape}`}>
        <SheetHead club={club} title={title} date={today} lead={lead} />
        {children}
        <p class="paper-foot">{words.prevail}</p>
      </article>
    </Scrolled>
  );
}

export interface ScrolledProps {
  /** Which sheet it is, where there are several. */
  readonly name?: string;
  readonly children: ComponentChildren;
}

/** A sheet wider than the screen is scrolled, from the keyboard too. */
export const Scrolled = ({ name, children }: ScrolledProps) => (
  // biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls must be reached by the keyboard.
  <section class="paper-scroll" tabIndex={0} aria-label={printWords.preview(name)}>
    {children}
  </section>
);

export function SheetHead({ club, title, date, lead }: PaperHeadProps & { readonly lead?: ComponentChildren }) {
  return (
    <header class="paper-head">
      <div>
        <p class="paper-club">{club}</p>
        <h2 class="paper-title">{title}</h2>
        {lead !== undefined && <p>{lead}</p>}
      </div>
      <p class="paper-day">{printWords.printed(date)}</p>
    </header>
  );
}

export const PrintButton = () => (
  <Button look="main" onClick={() => window.print()}>
    {words.print}
  </Button>
);

/** What stands below every page, where the browser can write there. */
export function useMark(club: string, title: string, date: Day): void {
  useEffect(() => {
    const { style } = document.documentElement;
    style.setProperty("--print-mark", JSON.stringify(`${club} · ${title} · ${showDay(date)}`));
    return () => {
      style.removeProperty("--print-mark");
    };
  }, [club, title, date]);
}
