/** Handicap to start with, its index, from when, and how it was found. */
import type { RuleSet } from "@sward/core";
import { Field } from "../parts/field.tsx";
import { HandicapSelect } from "../parts/handicap-select.tsx";
import { membersWords } from "../words/members.ts";
import type { StartFaults, StartForm } from "./joining.ts";
import { proposalFor, startingIndex } from "./joining.ts";

export interface StartFieldsProps {
  readonly form: StartForm;
  readonly faults: StartFaults | null;
  readonly rules: RuleSet | undefined;
  readonly change: (part: Partial<StartForm>) => void;
}

export function StartFields({ form, faults, rules, change }: StartFieldsProps) {
  const { add } = membersWords;
  const trigger = startingIndex(rules, form.handicap);
  const typeStrokes = (strokes: string): void => {
    const proposal = proposalFor(rules, strokes);
    change(proposal.type === "row" ? { strokes, handicap: proposal.handicap } : { strokes });
  };
  return (
    <>
      <Field label={add.strokes} hint={add.strokesHint}>
        {(control) => (
          <input
            {...control}
            class="short-number"
            inputMode="numeric"
            value={form.strokes}
            onInput={(event) => typeStrokes(event.currentTarget.value)}
          />
        )}
      </Field>
      <p aria-live="polite">{proposalWords(rules, form.strokes)}</p>
      <Field label={add.handicap}>
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

function proposalWords(rules: RuleSet | undefined, strokes: string): string {
  const { add } = membersWords;
  const proposal = proposalFor(rules, strokes);
  switch (proposal.type) {
    case "none":
      return "";
    case "not-a-count":
      return add.notACount;
    case "no-table":
      return add.noTable;
    case "below-table":
      return add.belowTable;
    case "row":
      return add.proposal(proposal.handicap);
  }
}
