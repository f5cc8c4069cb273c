/** Whose device this is, and which. */
import { Field } from "../parts/field.tsx";
import { foundWords } from "../words/found.ts";
import type { Faults, WhoForm } from "./found-form.ts";

export interface WhoFieldsProps {
  readonly form: WhoForm;
  readonly faults: Faults<WhoForm> | null;
  readonly change: (part: Partial<WhoForm>) => void;
  readonly youHint?: string;
}

export const WhoFields = ({ form, faults, change, youHint = foundWords.youHint }: WhoFieldsProps) => (
  <>
    <Field label={foundWords.you} hint={youHint} error={faults?.you}>
      {(control) => (
        <input
          {...control}
          autoComplete="name"
          maxLength={80}
          value={form.you}
          onInput={(event) => change({ you: event.currentTarget.value })}
        />
      )}
    </Field>
    <Field label={foundWords.device} hint={foundWords.deviceHint} error={faults?.device}>
      {(control) => (
        <input
          {...control}
          autoComplete="off"
          maxLength={60}
          value={form.device}
          onInput={(event) => change({ device: event.currentTarget.value })}
        />
      )}
    </Field>
  </>
);
