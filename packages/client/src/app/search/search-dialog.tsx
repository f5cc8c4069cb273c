/** One field that finds everything: what is typed narrows the list, the arrows choose, Enter goes there. */
import { useEffect, useId, useRef, useState } from "preact/hooks";
import { useLocation } from "preact-iso";
import "./search.css";
import { Dialog } from "../parts/dialog.tsx";
import { KeyHints } from "../parts/key-hints.tsx";
import { useHref } from "../place.ts";
import { keyWords } from "../words/keys.ts";
import { searchWords } from "../words/search.ts";
import type { Thing } from "./find.ts";
import { findThings } from "./find.ts";
import { useThings } from "./use-things.ts";

/** As many as fit a screen without scrolling for long. */
const MOST = 12;

export function SearchDialog({ onClose }: { readonly onClose: () => void }) {
  const things = useThings();
  const { route } = useLocation();
  const href = useHref();
  const [typed, setTyped] = useState("");
  const [at, setAt] = useState(0);
  const field = useRef<HTMLInputElement>(null);
  const id = useId();
  const found = findThings(things, typed, MOST);
  const chosen = found[Math.min(at, found.length - 1)];
  const optionId = (place: number): string => `${id}-${place}`;
  useEffect(() => field.current?.focus(), []);
  useEffect(() => {
    document.getElementById(optionId(at))?.scrollIntoView({ block: "nearest" });
  }, [at]);

  const go = (thing: Thing | undefined): void => {
    if (thing === undefined) return;
    onClose();
    const { goes } = thing;
    // The question is gone before anything else happens: an act may ask one of its own, or print the page.
    setTimeout(() => {
      if (goes.to === "act") goes.act();
      else route(href(goes.place, goes.query));
    });
  };
  const key = (event: KeyboardEvent): void => {
    const step = { ArrowDown: 1, ArrowUp: -1 }[event.key];
    if (step === undefined || found.length === 0) return;
    event.preventDefault();
    setAt((Math.min(at, found.length - 1) + step + found.length) % found.length);
  };

  return (
    <Dialog title={searchWords.title} onClose={onClose}>
      <search>
        <form
          onSubmit={(event) => {
            event.preventDefault();
            go(chosen);
          }}
        >
          <label for={`${id}-field`}>{searchWords.label}</label>
          <input
            id={`${id}-field`}
            class="search-field"
            ref={field}
            role="combobox"
            aria-expanded={found.length > 0}
            aria-controls={`${id}-list`}
            aria-autocomplete="list"
            aria-describedby={`${id}-hint`}
            aria-activedescendant={chosen === undefined ? undefined : optionId(found.indexOf(chosen))}
            autoComplete="off"
            autocapitalize="off"
            spellcheck={false}
            enterkeyhint="go"
            value={typed}
            onKeyDown={key}
            onInput={(event) => {
              setTyped(event.currentTarget.value);
              setAt(0);
            }}
          />
          <p class="quiet small" id={`${id}-hint`}>
            {searchWords.hint}
          </p>
        </form>
      </search>
      <p class="unseen" role="status">
        {typed.trim() === "" ? "" : searchWords.found(found.length)}
      </p>
      {found.length === 0 && (
        <div class="search-nothing">
          <p>{searchWords.nothing(typed.trim())}</p>
          <p class="quiet">{searchWords.nothingMore}</p>
        </div>
      )}
      <div role="listbox" id={`${id}-list`} aria-label={searchWords.results} class="search-found">
        {found.map((thing, place) => (
          // The field keeps the focus and has the keys; a pointer presses the row.
          <div
            key={`${thing.kind} ${thing.key}`}
            id={optionId(place)}
            role="option"
            tabIndex={-1}
            aria-selected={thing === chosen}
            class="search-option"
            onClick={() => go(thing)}
            onKeyDown={(event) => {
              if (event.key === "Enter") go(thing);
            }}
          >
            <span class="search-title">{thing.title}</span> <span class="quiet search-detail">{thing.detail}</span>{" "}
            <span class="search-kind">{searchWords.kinds[thing.kind]}</span>
          </div>
        ))}
      </div>
      <KeyHints
        keys={[
          ["↑ ↓", keyWords.chooses],
          ["Enter", keyWords.opens],
          ["Esc", keyWords.backsOut],
        ]}
      />
    </Dialog>
  );
}
