/** The keys that work on every screen: find, the map of keys, and going from screen to screen. */
import { useLocation } from "preact-iso";
import { useKeys } from "../keys.ts";
import { lazyPart } from "../lazy.tsx";
import { useHref } from "../place.ts";
import { goKeys } from "./go-keys.ts";
import { over } from "./search-state.ts";

const SearchDialog = lazyPart(() => import("./search-dialog.tsx"), "SearchDialog");
const KeysDialog = lazyPart(() => import("./keys-dialog.tsx"), "KeysDialog");

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
