/** Handicap to start with, its index, from when, and how it was found. */
import type { RuleSet } from "@sward/core";
import "./members.css";
import { Field } from "../parts/field.tsx";
import { HandicapSelect } from "../parts/handicap-select.tsx";
import { membersWords } from "../words/members.ts";
import { assess, withCounts } from "./assessment.ts";
import type { StartFaults, StartForm } from "./joining.ts";
import { startingIndex } from "./joining.ts";
import { ThreeRounds } from "./three-rounds.tsx";

export interface StartFieldsProps {
  readonly form: StartForm;
  readonly faults: StartFaults | null;
  readonly rules: RuleSet | undefined;
  readonly change: (part: Partial<StartForm>) => void;
}

export function StartFields({ form, faults, rules, change }: StartFieldsProps) {
  const { add } = membersWords;
  const found = assess(rules, form.counts);
  const other =
    found.type === "row" && form.handicap !== found.row.handicap ? add.otherThanTable(found.row.handicap) : null;
  const trigger = startingIndex(rules, form.handicap);
  return (
    <>
      <ThreeRounds counts={form.counts} rules={rules} change={(counts) => change(withCounts(rules, form, counts))} />
      <Field label={add.handicap} hint={other ?? undefined}>
        {(control) => (
          <HandicapSelect
            control={control}
            rules={rules}
            value={form.handicap}
            none={add.later}
            choose={(handicap) => change({ handicap })}
          />
        )}
      </Field>
      <p aria-live="polite" class="quiet">
        {form.handicap === null ? add.noIndex : trigger !== null && form.index === "" && add.index(trigger)}
      </p>
      {form.handicap !== null && (
        <>
          <Field label={add.indexField} hint={add.indexHint} error={faults?.index}>
            {(control) => (
              <input
                {...control}
                class="short-number"
                inputMode="numeric"
                placeholder={trigger === null ? "" : String(trigger)}
                value={form.index}
                onInput={(event) => change({ index: event.currentTarget.value })}
              />
            )}
          </Field>
          <Field label={add.from} error={faults?.from}>
            {(control) => (
              <input
                {...control}
                type="date"
                value={form.from}
                onInput={(event) => change({ from: event.currentTarget.value })}
              />
            )}
          </Field>
          <Field label={add.reason} hint={add.reasonHint} error={faults?.reason}>
            {(control) => (
              <input
                {...control}
                maxLength={200}
                value={form.reason}
                onInput={(event) => change({ reason: event.currentTarget.value })}
              />
            )}
          </Field>
          <p class="quiet small">{add.review}</p>
        </>
      )}
    </>
  );
}
