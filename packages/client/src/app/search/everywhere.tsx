/** The button and the keys that work on every screen: find, the map of keys, and going from screen to screen. */
import { useLocation } from "preact-iso";
import { useKeys } from "../keys.ts";
import { lazyPart } from "../lazy.tsx";
import { useHref } from "../place.ts";
import { words } from "../words.ts";
import { goKeys } from "./go-keys.ts";
import { over } from "./search-state.ts";

const SearchDialog = lazyPart(() => import("./search-dialog.tsx"), "SearchDialog");
const KeysDialog = lazyPart(() => import("./keys-dialog.tsx"), "KeysDialog");

/** In the header: finding by pointer. */
export const FindButton = () => (
  <button
    type="button"
    class="find-button"
    aria-keyshortcuts="/"
    onClick={() => {
      over.value = "search";
    }}
  >
    <svg viewBox="0 0 24 24" class="tab-icon" aria-hidden="true" focusable="false">
      <path
        d="M10.5 17a6.5 6.5 0 1 0 0-13 6.5 6.5 0 0 0 0 13ZM15.5 15.5 21 21"
        fill="none"
        stroke="currentColor"
        stroke-width="2"
        stroke-linecap="round"
      />
    </svg>
    <span class="find-word">{words.nav.find}</span>
  </button>
);

/** Outside the header, whose colours a question does not have. */
export function Everywhere() {
  const { route } = useLocation();
  const href = useHref();
  const going = Object.entries(goKeys).map(([letter, place]) => [`g ${letter}`, () => route(href(place))] as const);
  useKeys({
    ...Object.fromEntries(going),
    "/": () => {
      over.value = "search";
    },
    "?": () => {
      over.value = "keys";
    },
  });
  const close = (): void => {
    over.value = null;
  };
  return (
    <>
      {over.value === "search" && <SearchDialog onClose={close} />}
      {over.value === "keys" && <KeysDialog onClose={close} />}
    </>
  );
}
