/** A few answers side by side, one of them chosen. */
export interface ChoicesProps<T extends string> {
  readonly legend: string;
  readonly name: string;
  readonly value: T;
  readonly choices: readonly (readonly [T, string])[];
  readonly onChoose: (value: T) => void;
}

export const Choices = <T extends string>({ legend, name, value, choices, onChoose }: ChoicesProps<T>) => (
  <fieldset class="choices">
    <legend>{legend}</legend>
    <div class="choices-row">
      {choices.map(([choice, label]) => (
        <label class="choice" key={choice}>
          <input type="radio" name={name} value={choice} checked={value === choice} onChange={() => onChoose(choice)} />
          {label}
        </label>
      ))}
    </div>
  </fieldset>
);
