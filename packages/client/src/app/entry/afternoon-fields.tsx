/** What stays the same from match to match: the day, what it is played as, the kind of play, the length, and how many a side. */
import type { BookState, Day, EventId, Format, Occasion, Play } from "@sward/core";
import { occasionCounts, occasions } from "@sward/core";
import { useState } from "preact/hooks";
import { showDayShort } from "../dates.ts";
import { Field } from "../parts/field.tsx";
import { entryWords } from "../words/entry.ts";
import { occasionWords, playWords } from "../words/play.ts";
import type { EntryForm } from "./form.ts";
import { rulesOnDay } from "./rules-on.ts";

export interface AfternoonFieldsProps {
  readonly form: EntryForm;
  readonly state: BookState;
  readonly today: Day;
  readonly errorAt: (field: "date" | "occasion" | "event" | "start") => string | null;
  readonly onChange: (form: EntryForm) => void;
}

const isWide = (): boolean => matchMedia("(min-width: 60em)").matches;

export function AfternoonFields(props: AfternoonFieldsProps) {
  const { form, state, today, errorAt, onChange } = props;
  const [open, setOpen] = useState(() => isWide() || form.occasion === null);
  const wrong = (["date", "occasion", "event", "start"] as const).some((field) => errorAt(field) !== null);
  const rules = rulesOnDay(state, form.date);
  const events = [...state.events].filter(([, { from, to }]) => from <= form.date && form.date <= to);
  const counts = form.occasion === null || rules === undefined ? null : occasionCounts(rules, form.occasion);

  return (
    <details class="afternoon" open={open || wrong} onToggle={(event) => setOpen(event.currentTarget.open)}>
      <summary>
        <span>{entryWords.afternoon}</span>
        <span class="afternoon-told">{told(form)}</span>
      </summary>
      <div class="afternoon-fields">
        <Field label={entryWords.date} error={errorAt("date")}>
          {(control) => (
            <input
              {...control}
              data-field="date"
              type="date"
              max={today}
              value={form.date}
              onInput={(event) => onChange(onDay(form, event.currentTarget.value, state))}
            />
          )}
        </Field>
        <Field label={entryWords.event} error={errorAt("event")}>
          {(control) => (
            <select
              {...control}
              data-field="event"
              value={form.event ?? ""}
              onChange={(event) => onChange(atEvent(form, event.currentTarget.value, state))}
            >
              <option value="">{entryWords.noEvent}</option>
              {events.map(([event, { title }]) => (
                <option key={event} value={event}>
                  {title}
                </option>
              ))}
            </select>
          )}
        </Field>
        <Field
          label={entryWords.occasion}
          error={errorAt("occasion")}
          hint={form.event !== null ? entryWords.occasionByEvent : counts === null ? undefined : countsWords(counts)}
        >
          {(control) => (
            <select
              {...control}
              data-field="occasion"
              disabled={form.event !== null}
              value={form.occasion ?? ""}
              onChange={(event) => onChange(playedAs(form, event.currentTarget.value))}
            >
              <option value="" disabled>
                {entryWords.chooseOccasion}
              </option>
              {occasions.map((occasion: Occasion) => (
                <option key={occasion} value={occasion}>
                  {occasionWords[occasion]}
                </option>
              ))}
            </select>
          )}
        </Field>
        <Choices
          legend={entryWords.play}
          name="play"
          value={form.play}
          choices={Object.entries(entryWords.plays) as [Play, string][]}
          onChoose={(play) => onChange({ ...form, play })}
        />
        <Choices
          legend={entryWords.format}
          name="format"
          value={String(form.format)}
          choices={Object.entries(entryWords.formats)}
          onChoose={(format) => onChange({ ...form, format: Number(format) as Format })}
        />
        <Choices
          legend={entryWords.sides}
          name="sides"
          value={form.doubles ? "doubles" : "singles"}
          choices={[
            ["singles", entryWords.singles],
            ["doubles", entryWords.doubles],
          ]}
          onChoose={(sides) => onChange({ ...form, doubles: sides === "doubles", same: null, choice: 0 })}
        />
      </div>
    </details>
  );
}

interface ChoicesProps<T extends string> {
  readonly legend: string;
  readonly name: string;
  readonly value: T;
  readonly choices: readonly (readonly [T, string])[];
  readonly onChoose: (value: T) => void;
}

function Choices<T extends string>({ legend, name, value, choices, onChoose }: ChoicesProps<T>) {
  return (
    <fieldset class="choices">
      <legend>{legend}</legend>
      <div class="choices-row">
        {choices.map(([choice, label]) => (
          <label class="choice" key={choice}>
            <input
              type="radio"
              name={name}
              value={choice}
              checked={value === choice}
              onChange={() => onChoose(choice)}
            />
            {label}
          </label>
        ))}
      </div>
    </fieldset>
  );
}

const countsWords = (counts: boolean): string => (counts ? entryWords.counts : entryWords.doesNotCount);

/** The summary when it is closed: "Sat 14 Jun · club competition · handicap play · 13 points · singles". */
function told({ date, occasion, event, play, format, doubles }: EntryForm): string {
  return [
    date === "" ? "" : showDayShort(date),
    occasion === null ? "" : occasionWords[occasion],
    event === null ? "" : entryWords.event,
    playWords[play],
    entryWords.points(format),
    doubles ? entryWords.doubles : entryWords.singles,
  ]
    .filter((word) => word !== "")
    .join(" · ");
}

/** An event that was not on that day is left behind with the other day. */
function onDay(form: EntryForm, date: string, { events }: BookState): EntryForm {
  const event = form.event === null ? undefined : events.get(form.event);
  const still = event !== undefined && event.from <= date && date <= event.to;
  return { ...form, date, event: still ? form.event : null, same: null };
}

function atEvent(form: EntryForm, chosen: string, { events }: BookState): EntryForm {
  if (chosen === "") return { ...form, event: null };
  const event = chosen as EventId;
  return { ...form, event, occasion: events.get(event)?.occasion ?? form.occasion, excluded: false };
}

function playedAs(form: EntryForm, chosen: string): EntryForm {
  const occasion = chosen as Occasion;
  return { ...form, occasion, excluded: occasion === "inter-club-friendly" && form.excluded };
}
