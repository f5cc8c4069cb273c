/**
 * Where the words on paper are typed. They are a key: the browser is to remember none of them, to send none to a spelling service, and
 * not to change them as they are typed.
 */
import { Field } from "./field.tsx";

export interface WordsFieldProps {
  readonly label: string;
  readonly hint: string;
  readonly text: string;
  readonly onText: (text: string) => void;
}

export const WordsField = ({ label, hint, text, onText }: WordsFieldProps) => (
  <Field label={label} hint={hint}>
    {(control) => (
      <textarea
        {...control}
        rows={5}
        autoComplete="off"
        autoCapitalize="none"
        spellcheck={false}
        value={text}
        onInput={(event) => onText(event.currentTarget.value)}
      />
    )}
  </Field>
);
