/** Games that were begun on this device: go on with one, enter its result, or throw it away and bring it back. */
import { useState } from "preact/hooks";
import { showMoment } from "../dates.ts";
import { Button, ButtonLink } from "../parts/button.tsx";
import { places, useHref } from "../place.ts";
import { lawnWords } from "../words/lawn.ts";
import { replay, scoreOf } from "./game.ts";
import { sideName } from "./names.ts";
import type { Pad } from "./pad.ts";
import type { PadStore } from "./pad-store.ts";

export function PadList({ store }: { readonly store: PadStore }) {
  const [dropped, setDropped] = useState<Pad | null>(null);
  const pads = store.list();
  const drop = (pad: Pad): void => {
    store.drop(pad.id);
    setDropped(pad);
  };
  const shown = [
    [lawnWords.list.open, pads.filter(({ saved }) => !saved)],
    [lawnWords.list.done, pads.filter(({ saved }) => saved)],
  ] as const;
  return (
    <section class="lawn-list">
      {shown.map(([title, some]) =>
        some.length === 0 ? null : (
          <div key={title}>
            <h2>{title}</h2>
            <ul>
              {some.map((pad) => (
                <PadLine key={pad.id} pad={pad} onDrop={() => drop(pad)} />
              ))}
            </ul>
          </div>
        ),
      )}
      <div role="status">
        {dropped !== null && (
          <p class="row">
            <span>{lawnWords.list.dropped(sidesOf(dropped))}</span>
            <Button
              onClick={() => {
                store.write(dropped);
                setDropped(null);
              }}
            >
              {lawnWords.list.bringBack}
            </Button>
          </p>
        )}
      </div>
    </section>
  );
}

function sidesOf({ setup }: Pad): string {
  return lawnWords.versus(sideName(setup, setup.first, 0), sideName(setup, setup.first, 1));
}

function PadLine({ pad, onDrop }: { readonly pad: Pad; readonly onDrop: () => void }) {
  const href = useHref();
  const { state } = replay(pad.setup, pad.events);
  const over = state.phase.type === "over";
  const sides = sidesOf(pad);
  const score = [...state.past, state].map((game) => scoreOf(game).join("–")).join(", ");
  const begun = showMoment(new Date(pad.begun).toISOString());
  return (
    <li>
      <div>
        <p class="lawn-list-sides">{sides}</p>
        <p class="small quiet">
          {lawnWords.list.told(pad.setup.format, score, begun)}
          {over && !pad.saved && `, ${lawnWords.list.over}`}
        </p>
      </div>
      <div class="row">
        <ButtonLink look={pad.saved ? "plain" : "main"} href={href(places.pad(pad.id))}>
          {pad.saved ? lawnWords.list.look(sides) : lawnWords.list.goOn(sides)}
        </ButtonLink>
        <Button look="quiet" onClick={onDrop}>
          {lawnWords.list.drop(sides)}
        </Button>
      </div>
    </li>
  );
}
