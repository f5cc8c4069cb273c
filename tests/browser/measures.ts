/**
 * What a page looks like, measured in the page itself: what axe does not measure, or measures less strictly than we promise. Every
 * measure answers with the faults it found, in words that lead to the element, so that a red test says what to mend.
 */
import axe from "axe-core";
import type { Page } from "playwright-core";

/** Makes axe and the measures known to the page; once for each document. */
export async function takeMeasures(page: Page): Promise<void> {
  await page.evaluate(axe.source);
  await page.evaluate(inPage);
}

/**
 * Violations by WCAG 2.2 A and AA as axe-core checks them (https://github.com/dequelabs/axe-core), with two rules it leaves off by
 * itself: targets of 24 px or as far apart, and contrast of 7:1. What sticks to an edge is let loose meanwhile: a target half below it
 * comes out when the page is scrolled.
 */
export const axeFaults = (page: Page): Promise<readonly string[]> =>
  page.evaluate(async () => {
    const rules = { "target-size": { enabled: true }, "color-contrast-enhanced": { enabled: true } };
    const fasten = measures().loosen();
    const { violations } = await measures().axe.run(document, { rules, resultTypes: ["violations"] });
    fasten();
    return violations.map(({ id, nodes }) => `${id}: ${nodes.map(({ html }) => html.slice(0, 160)).join(" | ")}`);
  });

/** What makes the page scroll sideways. */
export const sidewaysFaults = (page: Page): Promise<readonly string[]> => page.evaluate(() => measures().sideways());

/** Text that is cut off, runs out of its box, or lies on other text; and what sticks to an edge and covers half the screen. */
export const textFaults = (page: Page): Promise<readonly string[]> => page.evaluate(() => measures().text());

/** Whatever moves, or would when touched. */
export const motionFaults = (page: Page): Promise<readonly string[]> => page.evaluate(() => measures().motion());

/** What can be tapped and is less than `least` px wide or high; `within` is a selector. */
export const targetFaults = (page: Page, within: string, least: number): Promise<readonly string[]> =>
  page.evaluate(([place, px]) => measures().targets(place, px), [within, least] as const);

/** Text of any size whose contrast with its own ground is less than `least`, by WCAG 2.2's formula of relative luminance. */
export const contrastFaults = (page: Page, within: string, least: number): Promise<readonly string[]> =>
  page.evaluate(([place, ratio]) => measures().contrast(place, ratio), [within, least] as const);

/** The browser's own setting for text size, as somebody changes it who needs 200 %: `ratio` 2. */
export async function setTextSize(page: Page, ratio: number): Promise<void> {
  const browser = await page.context().newCDPSession(page);
  await browser.send("Page.enable");
  await browser.send("Page.setFontSizes", { fontSizes: { standard: 16 * ratio, fixed: 13 * ratio } });
}

interface Measures {
  readonly axe: {
    run(
      on: Document,
      options: object,
    ): Promise<{ violations: { readonly id: string; readonly nodes: readonly { readonly html: string }[] }[] }>;
  };
  /** Takes "sticky" off all that has it; the answer gives it back. */
  loosen(): () => void;
  sideways(): string[];
  text(): string[];
  motion(): string[];
  targets(within: string, least: number): string[];
  contrast(within: string, least: number): string[];
}

/** Only in the page, after `takeMeasures`. */
declare const measures: () => Measures;

function inPage(): void {
  const named = (one: Element): string => {
    const said = (one.getAttribute("aria-label") ?? one.textContent ?? "").trim().replaceAll(/\s+/g, " ").slice(0, 60);
    return `${one.tagName.toLowerCase()}.${one.getAttribute("class") ?? ""} “${said}”`;
  };
  const above = (one: Element): Element[] => {
    const all: Element[] = [];
    for (let at: Element | null = one; at !== null; at = at.parentElement) all.push(at);
    return all;
  };
  const seen = (one: Element): boolean =>
    one.checkVisibility({ visibilityProperty: true }) && one.closest(".unseen, .page-head:empty, [hidden]") === null;
  /** Of size 1 by 1: there for those who hear the page. */
  const heardOnly = (one: Element): boolean =>
    above(one).some((at) => getComputedStyle(at).clipPath === "inset(50%)" || at.matches(".skip"));
  const stuck = (one: Element): Element | null =>
    above(one).find((at) => ["sticky", "fixed"].includes(getComputedStyle(at).position)) ?? null;
  const scrolls = (one: Element): boolean =>
    above(one).some((at) => at !== document.documentElement && /auto|scroll/.test(getComputedStyle(at).overflowX));

  function loosen(): () => void {
    const all = [...document.querySelectorAll<HTMLElement>("body *")].filter(
      (one) => getComputedStyle(one).position === "sticky",
    );
    for (const one of all) one.style.position = "static";
    return () => {
      for (const one of all) one.style.position = "";
    };
  }

  interface Piece {
    readonly one: Element;
    readonly text: string;
    readonly box: DOMRect;
  }
  function pieces(): Piece[] {
    const found: Piece[] = [];
    const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
    const top = document.querySelector("dialog[open]");
    for (let node = walker.nextNode(); node !== null; node = walker.nextNode()) {
      const one = node.parentElement;
      const text = node.textContent?.trim() ?? "";
      if (one === null || text === "" || /^(script|style|option|title)$/i.test(one.tagName)) continue;
      if ((top !== null && !top.contains(one)) || !seen(one) || heardOnly(one)) continue;
      const range = document.createRange();
      range.selectNodeContents(node);
      for (const box of range.getClientRects()) if (box.width > 1 && box.height > 1) found.push({ one, text, box });
    }
    return found;
  }

  function sideways(): string[] {
    const page = document.documentElement;
    if (page.scrollWidth <= page.clientWidth) return [];
    const wide = [...document.body.querySelectorAll("*")].filter(
      (one) => one.getBoundingClientRect().right > page.clientWidth + 0.5 && !scrolls(one) && seen(one),
    );
    return [
      `the page is ${page.scrollWidth} px wide of ${page.clientWidth}: ${wide.slice(0, 4).map(named).join(", ")}`,
    ];
  }

  function cutOff({ one, text, box }: Piece): string | null {
    const middle = (box.top + box.bottom) / 2;
    for (const at of above(one)) {
      const style = getComputedStyle(at);
      if (style.display === "inline" || style.display === "contents" || at instanceof SVGElement) continue;
      const room = at.getBoundingClientRect();
      const wide = box.right > room.right + 2 || box.left < room.left - 2;
      const high = middle > room.bottom || middle < room.top;
      if (/auto|scroll/.test(style.overflowX)) return null;
      if (wide || high) return `“${text.slice(0, 40)}” runs out of ${named(at)}`;
      if (style.position === "absolute" || style.position === "fixed") return null;
    }
    return null;
  }

  function overlapping(all: readonly Piece[]): string[] {
    const faults: string[] = [];
    const sorted = all.map((piece) => ({ ...piece, stuck: stuck(piece.one) })).sort((a, b) => a.box.top - b.box.top);
    for (const [at, a] of sorted.entries()) {
      for (const b of sorted.slice(at + 1)) {
        if (b.box.top >= a.box.bottom) break;
        // What sticks lies over what scrolls below it.
        if (a.one === b.one || a.stuck !== b.stuck) continue;
        const wide = Math.min(a.box.right, b.box.right) - Math.max(a.box.left, b.box.left);
        const high = Math.min(a.box.bottom, b.box.bottom) - Math.max(a.box.top, b.box.top);
        // The box of a letter is higher than the letter, so that lines set close touch without meeting.
        if (wide > 2 && high > 0.35 * Math.min(a.box.height, b.box.height)) {
          faults.push(`“${a.text.slice(0, 40)}” lies on “${b.text.slice(0, 40)}”`);
        }
      }
    }
    return faults;
  }

  function covering(): string[] {
    const high = [...document.querySelectorAll("body *")]
      .filter((one) => seen(one) && ["sticky", "fixed"].includes(getComputedStyle(one).position))
      .filter((one) => one.getBoundingClientRect().height > innerHeight / 2);
    return high.map((one) => `${named(one)} covers more than half of the screen`);
  }

  function text(): string[] {
    const all = pieces();
    const cut = all.map(cutOff).filter((one) => one !== null);
    return [...new Set([...cut, ...overlapping(all), ...covering()])];
  }

  function motion(): string[] {
    const running = document.getAnimations().filter(({ playState }) => playState === "running");
    const would = [...document.querySelectorAll("*")].filter((one) => {
      const { transitionDuration, animationName, scrollBehavior } = getComputedStyle(one);
      const moves = transitionDuration.split(", ").some((time) => Number.parseFloat(time) > 0);
      return moves || animationName !== "none" || scrollBehavior === "smooth";
    });
    return [...running.map(() => "an animation is running"), ...would.map(named)];
  }

  /** A box or a radio is tapped on its label too. */
  const tapped = (one: Element): DOMRect => {
    const label = one instanceof HTMLInputElement && /checkbox|radio/.test(one.type) ? one.closest("label") : null;
    return (label ?? one).getBoundingClientRect();
  };

  function targets(within: string, least: number): string[] {
    return [...document.querySelectorAll(within)]
      .flatMap((place) => [...place.querySelectorAll("button, a, summary, input, select, textarea, [role=button]")])
      .filter(seen)
      .map((one) => ({ one, box: tapped(one) }))
      .filter(({ box }) => box.height > 0 && (box.height < least || box.width < least))
      .map(({ one, box }) => `${named(one)} is ${Math.round(box.width)} by ${Math.round(box.height)} px`);
  }

  const rgb = (colour: string): number[] => (colour.match(/[\d.]+/g) ?? []).map(Number);
  const light = ([r = 0, g = 0, b = 0]: number[]): number => {
    const part = (value: number): number =>
      value / 255 <= 0.04045 ? value / 255 / 12.92 : ((value / 255 + 0.055) / 1.055) ** 2.4;
    return 0.2126 * part(r) + 0.7152 * part(g) + 0.0722 * part(b);
  };
  const groundOf = (one: Element | null): number[] => {
    if (one === null) return [255, 255, 255];
    const [r = 0, g = 0, b = 0, alpha = 1] = rgb(getComputedStyle(one).backgroundColor);
    return alpha === 0 ? groundOf(one.parentElement) : [r, g, b];
  };

  function contrast(within: string, least: number): string[] {
    return [...document.querySelectorAll(within)]
      .flatMap((place) => [...place.querySelectorAll("*")])
      .filter(seen)
      .filter((one) => [...one.childNodes].some((node) => node.nodeType === 3 && node.textContent?.trim() !== ""))
      .map((one) => {
        const [a, b] = [light(rgb(getComputedStyle(one).color)), light(groundOf(one))];
        return { one, ratio: (Math.max(a, b) + 0.05) / (Math.min(a, b) + 0.05) };
      })
      .filter(({ ratio }) => ratio < least)
      .map(({ one, ratio }) => `${named(one)} has ${ratio.toFixed(1)}:1`);
  }

  const { axe: auditor } = window as unknown as Pick<Measures, "axe">;
  const made: Measures = { axe: auditor, loosen, sideways, text, motion, targets, contrast };
  Object.assign(window, { measures: () => made });
}
