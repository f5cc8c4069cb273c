/** Name, short name and whether under eighteen. */
import type { NameForm, NameFormFaults } from "../name-form.ts";
import { shortened } from "../name-form.ts";
import { nameWords } from "../words/names.ts";
import { Field } from "./field.tsx";

export interface NameFieldsProps {
  readonly form: NameForm;
  readonly faults: NameFormFaults | null;
  readonly change: (form: NameForm) => void;
}

export function NameFields({ form, faults, change }: NameFieldsProps) {
  return (
    <>
      <Field label={nameWords.name} hint={nameWords.nameHint} error={faults?.name}>
        {(control) => (
          <input
            {...control}
            autoComplete="off"
            maxLength={80}
            value={form.name}
            onInput={(event) => change({ ...form, name: event.currentTarget.value })}
          />
        )}
      </Field>
      <Field label={nameWords.short} hint={nameWords.shortHint}>
        {(control) => (
          <input
            {...control}
            autoComplete="off"
            maxLength={40}
            placeholder={shortened(form.name)}
            value={form.short}
            onInput={(event) => change({ ...form, short: event.currentTarget.value })}
          />
        )}
      </Field>
      <label class="choice">
        <input
          type="checkbox"
          checked={form.junior}
          onChange={(event) => change({ ...form, junior: event.currentTarget.checked })}
        />
        <span>{nameWords.junior}</span>
      </label>
    </>
  );
}
