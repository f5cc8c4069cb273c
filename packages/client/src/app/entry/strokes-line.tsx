/** Who receives extra strokes in the match being typed; in doubles every lawful way, of which the pair takes one. */
import type { SeatExtras } from "@sward/core";
import { entryWords } from "../words/entry.ts";
import type { Extras } from "./extras.ts";

export interface StrokesLineProps {
  readonly extras: Extras;
  readonly names: readonly (readonly string[])[];
  readonly choice: number;
  readonly onChoose: (choice: number) => void;
}

export function StrokesLine({ extras, names, choice, onChoose }: StrokesLineProps) {
  return (
    <section class="strokes-line" aria-label={entryWords.strokes}>
      <div aria-live="polite">
        {extras.type === "level" && <p>{entryWords.strokesLevel}</p>}
        {extras.type === "not-yet" && <p class="quiet">{entryWords.strokesNotYet}</p>}
        {extras.type === "ways" && extras.ways.length === 1 && <p>{told(extras.ways[0], names)}</p>}
      </div>
      {extras.type === "ways" && extras.ways.length > 1 && (
        <fieldset>
          <legend>{entryWords.strokesWays}</legend>
          {extras.ways.map((way, at) => (
            <label class="choice" key={JSON.stringify(way)}>
              <input type="radio" name="strokes" checked={choice === at} onChange={() => onChoose(at)} />
              {told(way, names)}
            </label>
          ))}
        </fieldset>
      )}
    </section>
  );
}

const told = (way: SeatExtras | undefined, names: readonly (readonly string[])[]): string =>
  way === undefined ? "" : entryWords.strokesWay(way, names);
