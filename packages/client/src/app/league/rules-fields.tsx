/** The fields of a league's rules, by what they are about. */
import { TieBreak } from "@sward/core";
import type { ComponentChildren } from "preact";
import { comparedBy } from "../../league/explained.ts";
import { Field } from "../parts/field.tsx";
import { rulesFormWords as said } from "../words/league-rules-form.ts";
import type { FieldWrong } from "./rules-editor.tsx";
import type { RulesForm } from "./rules-form.ts";

interface RulesFieldsProps {
  readonly form: RulesForm;
  readonly change: (part: Partial<RulesForm>) => void;
  readonly wrong: FieldWrong | null;
}

const { fields, hints, choices } = said;

export function RulesFields({ form, change, wrong }: RulesFieldsProps) {
  const errorOf = (field: string): string | null => (wrong?.field === field ? wrong.words : null);
  type Texts = "title" | "players" | "borrowed" | "reservesInFixture" | "reservesInSeason" | "most" | "least";
  type More = "totalAtLeast" | "forfeitWinner" | "forfeitLoser" | "deadline" | "reportWithin";
  const text = (field: Texts | More, hint?: string) => (
    <Text
      label={fields[field]}
      hint={hint}
      error={errorOf(field)}
      value={form[field]}
      set={(value) => change({ [field]: value })}
      wide={field === "title"}
    />
  );
  const select = <K extends Chosen>(field: K) => (
    <Select
      label={fields[field]}
      value={form[field]}
      options={choices[field]}
      set={(value) => change({ [field]: value } as Partial<RulesForm>)}
    />
  );
  return (
    <>
      {text("title")}
      {select("meetings")}
      <Section title={said.sections.team}>
        {text("players")}
        {select("order")}
        {text("borrowed")}
        <label class="choice">
          <input
            type="checkbox"
            checked={form.oneClub}
            onChange={(event) => change({ oneClub: event.currentTarget.checked })}
          />
          <span>{fields.oneClub}</span>
        </label>
        {text("reservesInFixture", hints.none)}
        {text("reservesInSeason", hints.none)}
        {text("most", hints.none)}
        {text("least", hints.none)}
        {text("totalAtLeast", hints.none)}
      </Section>
      <Section title={said.sections.matches}>
        <Field label={fields.slots} hint={hints.slots} error={errorOf("slots")}>
          {(control) => (
            <textarea
              {...control}
              rows={8}
              spellcheck={false}
              value={form.slots}
              onInput={(event) => change({ slots: event.currentTarget.value })}
            />
          )}
        </Field>
        <Ordered
          label={fields.score}
          list={form.score}
          options={choices.measures}
          set={(score) => change({ score: score as RulesForm["score"] })}
        />
      </Section>
      <Section title={said.sections.worth}>
        <fieldset>
          <legend>{said.points.legend}</legend>
          <div class="rules-points">
            {(["win", "draw", "loss", "slot", "game", "drawnGame", "hoop"] as const).map((what) => (
              <Text
                key={what}
                label={said.points[what]}
                error={errorOf(`points.${what}`)}
                value={form.points[what]}
                set={(value) => change({ points: { ...form.points, [what]: value } })}
              />
            ))}
          </div>
        </fieldset>
        <Bonuses form={form} change={change} errorOf={errorOf} />
      </Section>
      <Section title={said.sections.seldom}>
        {text("forfeitWinner")}
        {text("forfeitLoser")}
        {select("forfeitGames")}
        {select("gameForfeited")}
        {select("some")}
        {select("none")}
        {select("oneReport")}
        {text("deadline", hints.deadline)}
        {text("reportWithin", hints.reportWithin)}
      </Section>
      <Section title={said.sections.ties}>
        <Ordered
          label={fields.tieBreak}
          list={form.tieBreaks}
          options={Object.fromEntries(TieBreak.options.map((one) => [one, comparedBy(one)]))}
          set={(tieBreaks) => change({ tieBreaks: tieBreaks as RulesForm["tieBreaks"] })}
        />
      </Section>
    </>
  );
}

type Chosen = "meetings" | "order" | "forfeitGames" | "gameForfeited" | "some" | "none" | "oneReport";

const Section = ({ title, children }: { readonly title: string; readonly children: ComponentChildren }) => (
  <section class="rules-section">
    <h2>{title}</h2>
    {children}
  </section>
);

interface TextProps {
  readonly label: string;
  readonly hint?: string | undefined;
  readonly error: string | null;
  readonly value: string;
  readonly set: (value: string) => void;
  readonly wide?: boolean;
}

const Text = ({ label, hint, error, value, set, wide = false }: TextProps) => (
  <Field label={label} {...(hint === undefined ? {} : { hint })} error={error}>
    {(control) => (
      <input
        {...control}
        class={wide ? "" : "rules-short"}
        maxLength={80}
        autoComplete="off"
        inputMode={wide ? "text" : "numeric"}
        value={value}
        onInput={(event) => set(event.currentTarget.value)}
      />
    )}
  </Field>
);

interface SelectProps {
  readonly label: string;
  readonly value: string;
  readonly options: Readonly<Record<string, string>>;
  readonly set: (value: string) => void;
}

const Select = ({ label, value, options, set }: SelectProps) => (
  <Field label={label}>
    {(control) => (
      <select {...control} value={value} onChange={(event) => set(event.currentTarget.value)}>
        {Object.entries(options).map(([one, words]) => (
          <option key={one} value={one}>
            {words}
          </option>
        ))}
      </select>
    )}
  </Field>
);

interface OrderedProps {
  readonly label: (place: number) => string;
  readonly list: readonly string[];
  readonly options: Readonly<Record<string, string>>;
  readonly set: (list: readonly string[]) => void;
}

/** As many places as are filled and one more, so that an order is read from the top. */
function Ordered({ label, list, options, set }: OrderedProps) {
  const filled = list.findLastIndex((one) => one !== "") + 1;
  return (
    <>
      {list.slice(0, filled + 1).map((one, at) => (
        <Select
          key={label(at + 1)}
          label={label(at + 1)}
          value={one}
          options={{ "": choices.nothing, ...options }}
          set={(value) => set(list.map((old, place) => (place === at ? value : old)))}
        />
      ))}
    </>
  );
}

function Bonuses({
  form,
  change,
  errorOf,
}: Omit<RulesFieldsProps, "wrong"> & { errorOf(field: string): string | null }) {
  const set = (at: number, part: Partial<RulesForm["bonus"][number]>): void =>
    change({ bonus: form.bonus.map((one, place) => (place === at ? { ...one, ...part } : one)) });
  const { bonus } = said;
  return (
    <fieldset>
      <legend>{bonus.legend}</legend>
      {form.bonus.map((one, at) => (
        <div key={at}>
          <Select
            label={bonus.when(at + 1)}
            value={one.when}
            options={{ "": bonus.none, ...bonus.whens }}
            set={(when) => set(at, { when })}
          />
          {one.when !== "" && (
            <div class="rules-points">
              <Text
                label={bonus.count}
                error={errorOf(`bonus.${at}`)}
                value={one.count}
                set={(games) => set(at, { count: games })}
              />
              <Text label={bonus.points} error={null} value={one.points} set={(points) => set(at, { points })} />
            </div>
          )}
        </div>
      ))}
    </fieldset>
  );
}
