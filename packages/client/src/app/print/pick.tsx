/** One choice of a print among a few. */
import { Field } from "../parts/field.tsx";

export interface PickProps {
  readonly label: string;
  readonly value: string;
  readonly options: readonly (readonly [value: string, said: string])[];
  readonly onChoose: (value: string) => void;
}

export const Pick = ({ label, value, options, onChoose }: PickProps) => (
  <Field label={label}>
    {(control) => (
      <select {...control} value={value} onChange={(event) => onChoose(event.currentTarget.value)}>
        {options.map(([one, said]) => (
          <option key={one} value={one}>
            {said}
          </option>
        ))}
      </select>
    )}
  </Field>
);
