/** Setting a league's rules: begin with a rule file, change what is different, say from when. */
import type { LeagueRules, RulesInForce } from "@sward/core";
import { writtenLeagueRules } from "@sward/core";
import { useState } from "preact/hooks";
import type { Book } from "../../book/book.ts";
import type { Message } from "../../messages.ts";
import { messageOf } from "../../messages.ts";
import { useDesk } from "../desk-store.ts";
import { Button } from "../parts/button.tsx";
import { Field } from "../parts/field.tsx";
import { Refused } from "../parts/refused.tsx";
import { rulesFormWords as said } from "../words/league-rules-form.ts";
import { saveChecked } from "./reading-here.ts";
import { RulesFields } from "./rules-fields.tsx";
import type { RulesForm, RulesFormFault } from "./rules-form.ts";
import { fieldAt, formOfRules, rulesOfForm } from "./rules-form.ts";
import { RulesSheet } from "./rules-sheet.tsx";

interface RulesEditorProps {
  readonly league: Book;
  /** Those in force today. */
  readonly present: RulesInForce | null;
  readonly close: () => void;
}

const PRESENT = "present";

export function RulesEditor({ league, present, close }: RulesEditorProps) {
  const today = useDesk().today();
  const [written] = useState(writtenLeagueRules);
  const [choice, setChoice] = useState(present === null ? (written[0]?.id ?? "") : PRESENT);
  const base: LeagueRules =
    choice === PRESENT && present !== null
      ? present.rules
      : (written.find(({ id }) => id === choice) ?? (written[0] as LeagueRules));
  const [form, setForm] = useState(() => formOfRules(base));
  const [from, setFrom] = useState(present?.from ?? today);
  const [tried, setTried] = useState(false);
  const [open, setOpen] = useState(false);
  const [refused, setRefused] = useState<Message | null>(null);
  const read = rulesOfForm(form, base);
  const wrong = read.ok ? null : inField(read.fault);
  const change = (part: Partial<RulesForm>): void => setForm({ ...form, ...part });

  const choose = (id: string): void => {
    setChoice(id);
    const chosen = id === PRESENT ? present?.rules : written.find((one) => one.id === id);
    if (chosen !== undefined) setForm(formOfRules(chosen));
  };
  const submit = async (event: Event): Promise<void> => {
    event.preventDefault();
    setTried(true);
    if (from === "") return;
    if (!read.ok) {
      setOpen(true);
      setRefused(wrong === null && read.fault.type !== "rules-form-line" ? messageOf(read.fault) : null);
      return;
    }
    const body = { rules: { ...read.value }, from };
    const answer = await saveChecked(
      league,
      [{ kind: "league-rules-set", body }],
      said.saved(read.value.title, from),
      today,
    );
    setRefused(answer);
    if (answer === null) close();
  };

  return (
    <form
      noValidate
      onSubmit={(event) => void submit(event)}
      onKeyDown={(event) => {
        if (event.key === "Escape") close();
      }}
    >
      <Field label={said.begin} hint={said.beginHint}>
        {(control) => (
          <select {...control} value={choice} onChange={(event) => choose(event.currentTarget.value)}>
            {present !== null && <option value={PRESENT}>{said.present(present.rules.title)}</option>}
            {written.map(({ id, title }) => (
              <option key={id} value={id}>
                {title}
              </option>
            ))}
          </select>
        )}
      </Field>
      <details class="rules-details" open={open} onToggle={(event) => setOpen(event.currentTarget.open)}>
        <summary>{said.details}</summary>
        <RulesFields form={form} change={change} wrong={tried ? wrong : null} />
      </details>
      <Field label={said.from} hint={said.fromHint} error={tried && from === "" ? said.fromMissing : null}>
        {(control) => (
          <input {...control} type="date" value={from} onInput={(event) => setFrom(event.currentTarget.value)} />
        )}
      </Field>
      <Refused message={refused} />
      <div class="row">
        <Button look="main" type="submit">
          {said.save}
        </Button>
        <Button onClick={close}>{said.cancel}</Button>
      </div>
      {read.ok && (
        <section class="rules-preview">
          <h2>{said.preview}</h2>
          <RulesSheet rules={read.value} />
        </section>
      )}
    </form>
  );
}

export interface FieldWrong {
  readonly field: string;
  readonly words: string;
}

/** The field a fault is shown at; null for one that belongs to none. */
function inField(fault: RulesFormFault): FieldWrong | null {
  switch (fault.type) {
    case "rules-form-line":
      return { field: "slots", words: said.wrongLine(fault.line, fault.text) };
    case "league-rules-form": {
      const field = fieldAt(fault.at);
      if (field === null) return null;
      const own: Readonly<Record<string, string>> = said.wrong;
      return { field, words: own[field] ?? said.wrong.here };
    }
    case "league-rules-seats":
    case "league-rules-no-such-seat":
      return { field: "slots", words: sentence(messageOf(fault)) };
    case "league-rules-limits":
      return { field: "most", words: sentence(messageOf(fault)) };
    case "league-rules-twice":
      return null;
  }
}

const sentence = ({ what, why, todo }: Message): string => `${what} ${why} ${todo}`;
