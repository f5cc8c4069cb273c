/** Asked as soon as it can be told: these players have a match on this day already. Is it this one, written down before? */
import type { EntryId, PlayerId } from "@sward/core";
import { useId } from "preact/hooks";
import { entryWords } from "../words/entry.ts";
import { ownSideFirst, scoreWords } from "../words/match.ts";
import type { EntryForm } from "./form.ts";
import type { SameDayMatch } from "./same-match.ts";

const words = entryWords.same;

export interface SameQuestionProps {
  readonly form: EntryForm;
  readonly found: readonly SameDayMatch[];
  /** The number a further match would have. */
  readonly next: number;
  readonly error: string | null;
  readonly isOurs: (player: PlayerId) => boolean;
  /** The report of the match that this device may correct, if there is one. */
  readonly correctable: (match: SameDayMatch) => EntryId | null;
  readonly enteredHere: (match: SameDayMatch) => boolean;
  readonly onChange: (form: EntryForm) => void;
}

export function SameQuestion(props: SameQuestionProps) {
  const { form, found, next, error, onChange } = props;
  const errorId = useId();
  const alike = found.find((one) => one.alike);
  const fixable = found.map(props.correctable).find((entry) => entry !== null) ?? null;
  const answers: readonly Answer[] = [
    ...(fixable === null
      ? []
      : [{ key: "correct", label: words.correct, form: { ...form, replaces: fixable }, chosen: false }]),
    ...(alike === undefined || props.enteredHere(alike)
      ? []
      : [
          {
            key: "second",
            label: words.secondReport,
            form: { ...form, same: "second-report" as const },
            chosen: form.same === "second-report",
          },
        ]),
    {
      key: "further",
      label: words.further(next),
      form: { ...form, same: "further" as const },
      chosen: form.same === "further",
    },
  ];
  return (
    <fieldset class="same notice tone-warn" aria-describedby={error === null ? undefined : errorId}>
      <legend>{words.title}</legend>
      <ul>
        {found.map((one) => (
          <li key={one.match.key}>
            {words.which(one.facts, scoreWords(ownSideFirst(one.facts, props.isOurs).games), one.match.n)},{" "}
            {one.match.slot !== null ? words.fromLeague : props.enteredHere(one) ? words.byUs : words.byOther}
          </li>
        ))}
      </ul>
      {found.some(({ match }) => match.slot !== null) && <p>{words.leagueNote}</p>}
      {answers.map(({ key, label, form: answered, chosen }, at) => (
        <label class="choice" key={key}>
          <input
            type="radio"
            name="same"
            data-field={at === 0 ? "same" : undefined}
            checked={chosen}
            onChange={() => onChange(answered)}
          />
          {label}
        </label>
      ))}
      <div aria-live="polite">
        {error !== null && (
          <p class="error" id={errorId}>
            {error}
          </p>
        )}
      </div>
    </fieldset>
  );
}

interface Answer {
  readonly key: string;
  readonly label: string;
  readonly form: EntryForm;
  readonly chosen: boolean;
}
