/** The time limit of a game, when there is one. */
import { Field } from "../parts/field.tsx";
import { lawnWords } from "../words/lawn.ts";
import { Choices } from "./choices.tsx";
import type { SetupForm } from "./setup-form.ts";

const setupWords = lawnWords.setup;

export interface TimeFieldsProps {
  readonly form: SetupForm;
  readonly errorAt: (field: "minutes" | "turns") => string | null;
  readonly onChange: (form: SetupForm) => void;
}

export function TimeFields({ form, errorAt, onChange }: TimeFieldsProps) {
  return (
    <fieldset>
      <label class="choice">
        <input
          type="checkbox"
          checked={form.limited}
          onChange={(event) => onChange({ ...form, limited: event.currentTarget.checked })}
        />
        {setupWords.limited}
      </label>
      {form.limited && (
        <div class="lawn-time-fields">
          {(["minutes", "turns"] as const).map((field) => (
            <Field
              key={field}
              label={setupWords[field]}
              hint={field === "turns" ? setupWords.turnsHint : undefined}
              error={errorAt(field)}
            >
              {(control) => (
                <input
                  {...control}
                  class="short-number"
                  type="text"
                  inputMode="numeric"
                  autocomplete="off"
                  value={form[field]}
                  onInput={(event) => onChange({ ...form, [field]: event.currentTarget.value })}
                />
              )}
            </Field>
          ))}
          <Choices
            legend={setupWords.level}
            name="lawn-level"
            value={form.level}
            choices={Object.entries(setupWords.levels) as [SetupForm["level"], string][]}
            onChoose={(level) => onChange({ ...form, level })}
          />
        </div>
      )}
    </fieldset>
  );
}
