/** What became of a fixture: postponed, rained off, conceded, void. Said by the league, or by a club of its own. */
import type { Draft, FixtureMark, LeagueFixture } from "@sward/core";
import { useEffect, useRef, useState } from "preact/hooks";
import type { Book } from "../../book/book.ts";
import type { Message } from "../../messages.ts";
import { useDesk } from "../desk-store.ts";
import { Button } from "../parts/button.tsx";
import { Field } from "../parts/field.tsx";
import { Refused } from "../parts/refused.tsx";
import { mayCorrectHere, mayHere } from "../permission.ts";
import { fixturesWords } from "../words/league-fixtures.ts";
import { clubNameIn } from "./fixture-list.tsx";
import type { MarkFaults, MarkForm } from "./fixtures-form.ts";
import { emptyMark, markBody, markFaults } from "./fixtures-form.ts";
import { saveChecked } from "./reading-here.ts";
import { ownClub } from "./slots.ts";

const said = fixturesWords.mark;

interface MarkFixtureProps {
  readonly league: Book;
  readonly fixture: LeagueFixture;
  readonly open: boolean;
  readonly setOpen: (open: boolean) => void;
}

export function MarkFixture({ league, fixture, open, setOpen }: MarkFixtureProps) {
  const today = useDesk().today();
  const nameOf = clubNameIn(league);
  const own = ownClub(league);
  const names = [nameOf(fixture.home), nameOf(fixture.away)] as const;
  const [refused, setRefused] = useState<Message | null>(null);
  if (!mayHere(league, "fixture-marked") || (own !== null && own !== fixture.home && own !== fixture.away)) return null;
  const ours = [fixture.mark, ...fixture.otherMarks].find((mark) => mark?.said === own) ?? null;
  const mayReplace = ours !== null && mayCorrectHere(league, authorOf(league, ours));

  const takeBack = async (mark: FixtureMark): Promise<void> => {
    const body = { withdraws: mark.entry, reason: said.takenBackReason };
    setRefused(await saveChecked(league, [{ kind: "entry-withdrawn", body }], said.takenBack(...names), today));
  };
  const enter = async (form: MarkForm): Promise<void> => {
    const body = { ...markBody(fixture.fixture, form), ...(mayReplace ? { replaces: ours.entry } : {}) };
    const draft: Draft = { kind: "fixture-marked", body };
    const answer = await saveChecked(league, [draft], said.saved(body.as, ...names), today);
    setRefused(answer);
    if (answer === null) setOpen(false);
  };
  if (open) {
    return (
      <MarkFields
        fixture={fixture}
        nameOf={nameOf}
        own={own}
        refused={refused}
        enter={(form) => void enter(form)}
        close={() => setOpen(false)}
      />
    );
  }
  return (
    <div class="row no-print">
      <Button look="quiet" aria-label={said.openFor(...names)} onClick={() => setOpen(true)}>
        {said.open}
      </Button>
      {ours !== null && mayReplace && (
        <Button look="quiet" onClick={() => void takeBack(ours)}>
          {said.takeBack}
        </Button>
      )}
      <Refused message={refused} />
    </div>
  );
}

function authorOf(league: Book, { entry: id }: FixtureMark) {
  for (const { entry } of league.counted()) if (entry.id === id) return entry.author;
  return league.device;
}

interface MarkFieldsProps {
  readonly fixture: LeagueFixture;
  readonly nameOf: ReturnType<typeof clubNameIn>;
  readonly own: ReturnType<typeof ownClub>;
  readonly refused: Message | null;
  readonly enter: (form: MarkForm) => void;
  readonly close: () => void;
}

/** As long as a reason may be in the record. */
const LONGEST = 200;

function MarkFields({ fixture, nameOf, own, refused, enter, close }: MarkFieldsProps) {
  const [form, setForm] = useState<MarkForm>({ ...emptyMark, by: own ?? "" });
  const [tried, setTried] = useState(false);
  const choice = useRef<HTMLFieldSetElement>(null);
  useEffect(() => choice.current?.querySelector("input")?.focus(), []);
  const change = (part: Partial<MarkForm>): void => setForm({ ...form, ...part });
  const faults: MarkFaults | null = tried ? markFaults(form) : null;
  const submit = (event: Event): void => {
    event.preventDefault();
    setTried(true);
    if (markFaults(form) === null) enter(form);
  };
  const choices = (["postponed", "rained-off", "conceded", "void"] as const).filter(
    (as) => as !== "void" || own === null,
  );
  return (
    <form
      class="mark-fixture"
      noValidate
      onSubmit={submit}
      onKeyDown={(event) => {
        if (event.key === "Escape") close();
      }}
    >
      <fieldset ref={choice}>
        <legend>{said.legend}</legend>
        {choices.map((as) => (
          <label class="choice" key={as}>
            <input
              type="radio"
              name={`mark-${fixture.fixture}`}
              checked={form.as === as}
              onChange={() => change({ as })}
            />
            <span>
              {said.as[as]} <span class="quiet small">{said.hint[as]}</span>
            </span>
          </label>
        ))}
        <div aria-live="polite">{faults?.as === true && <p class="error">{said.noChoice}</p>}</div>
      </fieldset>
      {form.as === "conceded" && own === null && (
        <Field label={said.by} error={faults?.by === true ? said.noClub : null}>
          {(control) => (
            <select
              {...control}
              value={form.by}
              onChange={(event) => change({ by: event.currentTarget.value as MarkForm["by"] })}
            >
              <option value="">{fixturesWords.one.choose}</option>
              {[fixture.home, fixture.away].map((club) => (
                <option key={club} value={club}>
                  {nameOf(club)}
                </option>
              ))}
            </select>
          )}
        </Field>
      )}
      {form.as === "postponed" && (
        <Field label={said.to} hint={said.toHint}>
          {(control) => (
            <input
              {...control}
              type="date"
              value={form.to}
              onInput={(event) => change({ to: event.currentTarget.value })}
            />
          )}
        </Field>
      )}
      <Field label={said.reason} hint={said.reasonHint} error={faults?.reason === true ? said.noReason : null}>
        {(control) => (
          <textarea
            {...control}
            maxLength={LONGEST}
            rows={2}
            value={form.reason}
            onInput={(event) => change({ reason: event.currentTarget.value })}
          />
        )}
      </Field>
      <Refused message={refused} />
      <div class="row">
        <Button look="main" type="submit">
          {said.save}
        </Button>
        <Button onClick={close}>{fixturesWords.mark.leave}</Button>
      </div>
    </form>
  );
}
