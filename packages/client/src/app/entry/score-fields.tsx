/** The score, game by game, own side first. */
import { Button } from "../parts/button.tsx";
import { endingWords, entryWords } from "../words/entry.ts";
import type { Ending, EntryForm } from "./form.ts";
import { addGame, dropGame, MOST_GAMES, withGame, withScore } from "./form.ts";

const endings = Object.keys(endingWords) as readonly Ending[];

export interface ScoreFieldsProps {
  readonly form: EntryForm;
  readonly onChange: (form: EntryForm) => void;
  /** By field id. */
  readonly errorAt: (field: `score-${number}-${0 | 1}`) => string | null;
  /** Short names of both sides, for the heads of the columns. */
  readonly heads: readonly [string, string];
  /** How the sides are called in the names of the fields, whoever plays. */
  readonly sides: readonly [string, string];
}

export function ScoreFields({ form, onChange, errorAt, heads, sides }: ScoreFieldsProps) {
  const several = form.games.length > 1;
  return (
    <fieldset class="scores">
      <legend>{entryWords.score}</legend>
      <div class="score-heads small quiet" aria-hidden="true">
        <span>{heads[0]}</span>
        <span>{heads[1]}</span>
      </div>
      {form.games.map(({ score, ending }, game) => {
        const errors = ([0, 1] as const).map((side) => errorAt(`score-${game}-${side}`));
        const error = errors.find((one) => one !== null) ?? null;
        const errorId = `score-error-${game}`;
        return (
          <div class="score" key={game}>
            {([0, 1] as const).map((side) => (
              <input
                key={side}
                class="hoops"
                data-field={`score-${game}-${side}`}
                type="text"
                inputMode="numeric"
                autocomplete="off"
                maxLength={2}
                value={score[side]}
                aria-label={entryWords.hoopsOf(game + 1, sides[side])}
                aria-invalid={errors[side] === null ? undefined : "true"}
                aria-describedby={error === null ? undefined : errorId}
                onInput={(event) => onChange(withScore(form, game, side, event.currentTarget.value))}
                onFocus={(event) => event.currentTarget.select()}
              />
            ))}
            <select
              aria-label={entryWords.ending(game + 1)}
              value={ending}
              onChange={(event) => onChange(withGame(form, game, { ending: event.currentTarget.value as Ending }))}
            >
              {endings.map((one) => (
                <option key={one} value={one}>
                  {endingWords[one]}
                </option>
              ))}
            </select>
            {several && (
              <Button look="quiet" onClick={() => onChange(dropGame(form, game))}>
                {entryWords.dropGame(game + 1)}
              </Button>
            )}
            <div aria-live="polite" class="score-error">
              {error !== null && (
                <p class="error" id={errorId}>
                  {error}
                </p>
              )}
            </div>
          </div>
        );
      })}
      {form.games.length < MOST_GAMES && (
        <Button look="quiet" onClick={() => onChange(addGame(form))}>
          {entryWords.addGame}
        </Button>
      )}
    </fieldset>
  );
}
