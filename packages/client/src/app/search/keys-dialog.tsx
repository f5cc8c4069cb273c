/** The map of keys: everywhere, on this page, in forms; and the switch for single keys. */
import type { ComponentChildren } from "preact";
import "./search.css";
import type { KeyHint } from "../keys.ts";
import { hintsHere, singleKeys, switchSingleKeys } from "../keys.ts";
import { Button } from "../parts/button.tsx";
import { Dialog } from "../parts/dialog.tsx";
import { searchWords } from "../words/search.ts";
import { words } from "../words.ts";
import { listedScreens } from "./screens.ts";

export function KeysDialog({ onClose }: { readonly onClose: () => void }) {
  const { keys } = searchWords;
  const here = hintsHere.value.filter(([key]) => key !== "/");
  const going = listedScreens.flatMap(({ letter, title }): KeyHint[] =>
    letter === undefined ? [] : [[`g ${letter}`, keys.goTo(title)]],
  );
  return (
    <Dialog title={keys.title} onClose={onClose}>
      {here.length > 0 && <Keys title={keys.here} keys={here} />}
      <Keys title={keys.everywhere} keys={[["/", keys.find], ["?", keys.map], ...going]} />
      <Keys
        title={keys.fields}
        keys={[
          ["Enter", keys.enter],
          ["Esc", keys.esc],
          ["Tab", keys.tab],
        ]}
      />
      <label class="choice">
        <input
          type="checkbox"
          checked={singleKeys.value}
          aria-describedby="single-keys-hint"
          onChange={(event) => switchSingleKeys(event.currentTarget.checked)}
        />
        <span>{keys.single}</span>
      </label>
      <p class="quiet small" id="single-keys-hint">
        {keys.singleHint}
      </p>
      <Button onClick={onClose}>{words.close}</Button>
    </Dialog>
  );
}

function Keys({ title, keys }: { readonly title: string; readonly keys: readonly KeyHint[] }) {
  return (
    <section class="keys">
      <h3>{title}</h3>
      <dl>
        {keys.map(([key, does]) => (
          <div key={`${key} ${does}`}>
            <dt>{spelled(key)}</dt>
            <dd>{does}</dd>
          </div>
        ))}
      </dl>
    </section>
  );
}

/** "g m" as two keys, one after the other. */
function spelled(key: string): ComponentChildren {
  const parts = key.split(" ");
  return parts.map((part, place) => (
    <span key={part}>
      {place > 0 && <span class="quiet small"> {/^[a-z]$/.test(part) ? searchWords.keys.afterwards : ""} </span>}
      <kbd>{part}</kbd>
    </span>
  ));
}
