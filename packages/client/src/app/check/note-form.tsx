/** A note on a card that is left for later: Enter keeps it and goes on, Esc backs out. */
import { useEffect, useRef, useState } from "preact/hooks";
import { Button } from "../parts/button.tsx";
import { Field } from "../parts/field.tsx";
import { checkWords } from "../words/check.ts";
import { words } from "../words.ts";
import { longestNote } from "./kept-round.ts";

export interface NoteFormProps {
  readonly note: string;
  readonly save: (note: string) => void;
  readonly close: () => void;
}

export function NoteForm({ note, save, close }: NoteFormProps) {
  const [text, setText] = useState(note);
  const field = useRef<HTMLInputElement>(null);
  useEffect(() => field.current?.focus(), []);
  const { leave } = checkWords;
  return (
    <form
      class="check-note"
      onSubmit={(event) => {
        event.preventDefault();
        save(text);
      }}
      onKeyDown={(event) => {
        if (event.key === "Escape") close();
      }}
    >
      <Field label={leave.label} hint={leave.hint}>
        {(control) => (
          <input
            {...control}
            ref={field}
            autoComplete="off"
            maxLength={longestNote}
            value={text}
            onInput={(event) => setText(event.currentTarget.value)}
          />
        )}
      </Field>
      <div class="row">
        <Button look="main" type="submit">
          {leave.save}
        </Button>
        <Button onClick={close}>{words.cancel}</Button>
      </div>
    </form>
  );
}
