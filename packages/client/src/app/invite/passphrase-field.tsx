/** An invitation's passphrase, where it is chosen and where it is asked for. */
import { Field } from "../parts/field.tsx";

interface PassphraseFieldProps {
  readonly label: string;
  readonly hint: string;
  readonly value: string;
  readonly changed: (value: string) => void;
}

export const PassphraseField = ({ label, hint, value, changed }: PassphraseFieldProps) => (
  <Field label={label} hint={hint}>
    {(control) => (
      <input
        {...control}
        autoComplete="off"
        autoCapitalize="none"
        spellcheck={false}
        maxLength={200}
        value={value}
        onInput={(event) => changed(event.currentTarget.value)}
      />
    )}
  </Field>
);
