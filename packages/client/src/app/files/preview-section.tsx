/** Every line with what it would do, some at a time; a faulty one with what is wrong, a field to type it anew, and the way out. */
import { useState } from "preact/hooks";
import { Button } from "../parts/button.tsx";
import { filesWords, standingWords } from "../words/files.ts";
import type { Importing } from "./importing.ts";
import type { Standing } from "./judging.ts";
import { LineItem } from "./line-item.tsx";

type Shown = Standing | "all";

const SHOWN: readonly Shown[] = ["faulty", "differs", "new", "recorded", "left-out", "all"];
const A_PAGE = 25;

export function PreviewSection({ importing }: { readonly importing: Importing }) {
  const [chosen, setChosen] = useState<Shown | null>(null);
  const [page, setPage] = useState(0);
  const outcome = importing.outcome.value;
  if (outcome === null) return null;
  const { lines, counts } = outcome;
  // Until somebody chooses, what is wrong comes first.
  const shown = chosen ?? (counts.faulty > 0 ? "faulty" : counts.differs > 0 ? "differs" : "all");
  const many = (one: Shown): number => (one === "all" ? lines.length : counts[one]);
  const listed = shown === "all" ? lines : lines.filter(({ standing }) => standing === shown);
  const pages = Math.max(1, Math.ceil(listed.length / A_PAGE));
  const here = Math.min(page, pages - 1);
  const words = filesWords.preview;
  const show = (one: Shown): void => {
    setChosen(one);
    setPage(0);
  };
  return (
    <section aria-labelledby="files-lines">
      <h3 id="files-lines">{words.title}</h3>
      <fieldset class="files-counts" aria-label={words.show}>
        {SHOWN.map((one) => (
          <button
            key={one}
            type="button"
            class={`files-count files-count-${one}`}
            aria-pressed={shown === one}
            onClick={() => show(one)}
          >
            <strong>{many(one)}</strong> {one === "all" ? words.all : standingWords[one]}
          </button>
        ))}
      </fieldset>
      {listed.length === 0 ? (
        <p class="quiet">{words.none}</p>
      ) : (
        <ul class="files-lines">
          {listed.slice(here * A_PAGE, (here + 1) * A_PAGE).map((judged) => (
            <LineItem key={judged.line} importing={importing} judged={judged} />
          ))}
        </ul>
      )}
      {pages > 1 && (
        <nav class="row" aria-label={words.pages}>
          <Button disabled={here === 0} onClick={() => setPage(here - 1)}>
            {words.before}
          </Button>
          <span>{words.page(here + 1, pages)}</span>
          <Button disabled={here === pages - 1} onClick={() => setPage(here + 1)}>
            {words.after}
          </Button>
        </nav>
      )}
    </section>
  );
}
