/** Finding by pointer, in the header; and the keys and questions of every screen, which come after the first view. */
import { useEffect, useState } from "preact/hooks";
import { lazyPart } from "../lazy.tsx";
import { words } from "../words.ts";
import { over } from "./search-state.ts";

const Everywhere = lazyPart(() => import("./everywhere.tsx"), "Everywhere");

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

/** Outside the header, whose colours a question does not have. Where the script cannot be fetched, that is said to who asks for it. */
export function Over() {
  const [here, setHere] = useState(false);
  useEffect(() => {
    Everywhere.fetch().then(
      () => setHere(true),
      () => undefined,
    );
  }, []);
  return here || over.value !== null ? <Everywhere /> : null;
}
