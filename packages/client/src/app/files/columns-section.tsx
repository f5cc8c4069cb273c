/** Which column holds what, how dates are written, and what holds for lines that do not say. */
import type { Format, Occasion, Play } from "@sward/core";
import { occasions } from "@sward/core";
import { useDesk } from "../desk-store.ts";
import { Field } from "../parts/field.tsx";
import { fieldWords, filesWords } from "../words/files.ts";
import { occasionWords, playWords } from "../words/play.ts";
import type { DateOrder } from "./days.ts";
import { orderOf } from "./days.ts";
import type { FieldName } from "./fields.ts";
import { fieldNames } from "./fields.ts";
import type { Importing } from "./importing.ts";
import type { Defaults } from "./lines.ts";
import { withColumn } from "./matching.ts";

/** Cells shown below a heading, for a person to tell what it is. */
const SHOWN = 3;

interface Props {
  readonly importing: Importing;
}

export function ColumnsSection({ importing }: Props) {
  const taken = importing.taken.value;
  if (taken === null) return null;
  const { heading, rows } = taken.table;
  const { columns } = importing.choices.value;
  return (
    <section aria-labelledby="files-columns">
      <h3 id="files-columns">{filesWords.columns.title}</h3>
      <p class="quiet">{filesWords.columns.hint}</p>
      <ul class="files-columns">
        {columns.map((meaning, at) => (
          <li key={at}>
            <Field
              label={heading?.[at] || filesWords.columns.column(at)}
              hint={rows
                .slice(0, SHOWN)
                .map(({ cells }) => cells[at] || "–")
                .join(" · ")}
            >
              {(control) => (
                <select
                  {...control}
                  value={meaning ?? ""}
                  onChange={(event) => {
                    const field = event.currentTarget.value;
                    void importing.change({
                      columns: withColumn(columns, at, field === "" ? null : (field as FieldName)),
                    });
                  }}
                >
                  <option value="">{filesWords.columns.nothing}</option>
                  {fieldNames.map((field) => (
                    <option key={field} value={field}>
                      {fieldWords[field]}
                    </option>
                  ))}
                </select>
              )}
            </Field>
          </li>
        ))}
      </ul>
      <OrderChoice importing={importing} />
      <DefaultFields importing={importing} />
    </section>
  );
}

function OrderChoice({ importing }: Props) {
  const evidence = importing.outcome.value?.evidence;
  if (evidence === undefined || evidence.open === 0) return null;
  const { order } = importing.choices.value;
  const found = orderOf(evidence);
  const { dayFirst, monthFirst } = evidence;
  const words = filesWords.order;
  const told =
    found !== null
      ? words.told(dayFirst ?? monthFirst ?? 0)
      : dayFirst !== null && monthFirst !== null
        ? words.clash(dayFirst, monthFirst)
        : words.ask;
  return (
    <fieldset class="files-order">
      <legend>{words.title}</legend>
      <p class={found === null && order === null ? "files-ask" : "quiet"}>{told}</p>
      {(["day-first", "month-first"] as const satisfies readonly DateOrder[]).map((one) => (
        <label key={one} class="choice">
          <input
            type="radio"
            name="files-order"
            checked={(order ?? found) === one}
            onChange={() => void importing.change({ order: one })}
          />
          {words[one]}
        </label>
      ))}
    </fieldset>
  );
}

const formats: readonly Format[] = [7, 13, 19];
const plays: readonly Play[] = ["handicap", "level"];

function DefaultFields({ importing }: Props) {
  const { columns, defaults } = importing.choices.value;
  const today = useDesk().today();
  const change = (part: Partial<Defaults>): void => {
    void importing.change({ defaults: { ...importing.choices.value.defaults, ...part } });
  };
  const words = filesWords.defaults;
  const asked = importing.outcome.value?.lines.some(({ faults }) => faults.some(({ type }) => type === "no-occasion"));
  return (
    <fieldset class="files-defaults">
      <legend>{words.title}</legend>
      {!columns.includes("date") && (
        <Field label={words.date}>
          {(control) => (
            <input
              {...control}
              type="date"
              max={today}
              value={defaults.date}
              onInput={(event) => change({ date: event.currentTarget.value })}
            />
          )}
        </Field>
      )}
      <Field label={words.occasion} error={asked ? words.noOccasion : null}>
        {(control) => (
          <select
            {...control}
            value={defaults.occasion ?? ""}
            onChange={(event) => {
              const chosen = event.currentTarget.value;
              change({ occasion: chosen === "" ? null : (chosen as Occasion) });
            }}
          >
            <option value="">{words.choose}</option>
            {occasions.map((occasion) => (
              <option key={occasion} value={occasion}>
                {occasionWords[occasion]}
              </option>
            ))}
          </select>
        )}
      </Field>
      <Field label={words.play}>
        {(control) => (
          <select
            {...control}
            value={defaults.play}
            onChange={(event) => change({ play: event.currentTarget.value as Play })}
          >
            {plays.map((play) => (
              <option key={play} value={play}>
                {playWords[play]}
              </option>
            ))}
          </select>
        )}
      </Field>
      <Field label={words.format}>
        {(control) => (
          <select
            {...control}
            value={String(defaults.format)}
            onChange={(event) => change({ format: Number(event.currentTarget.value) as Format })}
          >
            {formats.map((format) => (
              <option key={format} value={String(format)}>
                {format}
              </option>
            ))}
          </select>
        )}
      </Field>
    </fieldset>
  );
}
