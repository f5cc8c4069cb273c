/**
 * Whether the page is on its way to paper: what is for paper alone, or whole only there, is drawn then and not kept up with every game
 * that is entered meanwhile.
 */
import { options } from "preact";
import { useEffect, useState } from "preact/hooks";

/** True from the moment the page is asked for on paper, drawn before the browser takes its picture of it. */
export function usePrinting(): boolean {
  const [printing, setPrinting] = useState(false);
  useEffect(() => {
    const paper = matchMedia("print");
    const to = (value: () => boolean) => () => atOnce(() => setPrinting(value()));
    const [begin, end, turn] = [to(() => true), to(() => false), to(() => paper.matches)];
    window.addEventListener("beforeprint", begin);
    window.addEventListener("afterprint", end);
    // A page can be looked at as paper without being printed.
    paper.addEventListener("change", turn);
    if (paper.matches) turn();
    return () => {
      window.removeEventListener("beforeprint", begin);
      window.removeEventListener("afterprint", end);
      paper.removeEventListener("change", turn);
    };
  }, []);
  return printing;
}

/** What this changes is drawn before it returns, where Preact would wait for the end of the task. */
function atOnce(change: () => void): void {
  const before = options.debounceRendering;
  options.debounceRendering = (draw) => draw();
  change();
  if (before === undefined) delete options.debounceRendering;
  else options.debounceRendering = before;
}
