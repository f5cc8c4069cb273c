/** Making a season's fixtures: the clubs in the order drawn, a day for each round, looked at first and entered all at once. */
import type { FixtureId, KeyId, LeagueReading, LeagueRules } from "@sward/core";
import { leagueRulesOn } from "@sward/core";
import { useState } from "preact/hooks";
import type { Book } from "../../book/book.ts";
import { randomId } from "../../desk/platform.ts";
import type { Message } from "../../messages.ts";
import { messageOf } from "../../messages.ts";
import { useDesk } from "../desk-store.ts";
import { Button, ButtonLink } from "../parts/button.tsx";
import { Field } from "../parts/field.tsx";
import { Refused } from "../parts/refused.tsx";
import { useHref } from "../place.ts";
import { fixturesWords, planFaultTold } from "../words/league-fixtures.ts";
import { clubNameIn } from "./fixture-list.tsx";
import type { FixturesForm } from "./fixtures-form.ts";
import { moved, newFixturesForm, planOf, previewRounds } from "./fixtures-form.ts";
import { leaguePlaces } from "./league-places.ts";
import { saveChecked } from "./reading-here.ts";

const said = fixturesWords.make;

interface MakeFixturesProps {
  readonly league: Book;
  readonly reading: LeagueReading;
  /** There are fixtures in this season already. */
  readonly some: boolean;
}

export function MakeFixtures({ league, reading, some }: MakeFixturesProps) {
  const href = useHref();
  const { clubs } = league.state();
  if (reading.league.rules.length === 0) {
    return (
      <section>
        <h2>{said.title}</h2>
        <p>{said.noRules}</p>
        <ButtonLink href={href(leaguePlaces.rules(league.id))}>{said.toRules}</ButtonLink>
      </section>
    );
  }
  if (clubs.size < 2) {
    return (
      <section>
        <h2>{said.title}</h2>
        <p>{said.fewClubs}</p>
        <ButtonLink href={href(leaguePlaces.clubs(league.id))}>{said.toClubs}</ButtonLink>
      </section>
    );
  }
  return some ? (
    <details class="make-fixtures">
      <summary>{said.again}</summary>
      <Make league={league} reading={reading} />
    </details>
  ) : (
    <section>
      <h2>{said.title}</h2>
      <Make league={league} reading={reading} />
    </section>
  );
}

function Make({ league, reading }: Omit<MakeFixturesProps, "some">) {
  const today = useDesk().today();
  const nameOf = clubNameIn(league);
  const [form, setForm] = useState(() => newFixturesForm([...league.state().clubs.values()], today));
  const [wrong, setWrong] = useState<string | null>(null);
  const [refused, setRefused] = useState<Message | null>(null);
  const rules = leagueRulesOn(reading.league, form.first === "" ? today : form.first);
  if (rules === null) return null;
  const change = (part: Partial<FixturesForm>): void => {
    setWrong(null);
    setForm({ ...form, ...part });
  };
  const submit = async (event: Event): Promise<void> => {
    event.preventDefault();
    const plan = planOf(form, rules, () => randomId() as FixtureId);
    if (!plan.ok) {
      const { fault } = plan;
      const isDays = fault.type === "days-missing" || fault.type === "days-backwards";
      setWrong(isDays ? planFaultTold(fault) : null);
      setRefused(isDays ? null : messageOf(fault));
      return;
    }
    const { drafts } = plan.value;
    setRefused(await saveChecked(league, drafts, said.saved(drafts.length), today));
  };
  return (
    <form noValidate onSubmit={(event) => void submit(event)}>
      <p>{said.meetings[rules.meetings]}</p>
      <p class="quiet small">{said.tables}</p>
      <Draw form={form} change={change} nameOf={nameOf} />
      <div class="make-days">
        <Field label={said.first}>
          {(control) => (
            <input
              {...control}
              type="date"
              value={form.first}
              onInput={(event) => change({ first: event.currentTarget.value, changed: new Map() })}
            />
          )}
        </Field>
        <Field label={said.step} hint={said.stepHint}>
          {(control) => (
            <input
              {...control}
              class="make-step"
              inputMode="numeric"
              maxLength={3}
              value={form.step}
              onInput={(event) => change({ step: event.currentTarget.value, changed: new Map() })}
            />
          )}
        </Field>
      </div>
      <Rounds form={form} meetings={rules.meetings} change={change} nameOf={nameOf} />
      <div role="alert">{wrong !== null && <p class="error">{wrong}</p>}</div>
      <Refused message={refused} />
      <p class="quiet small">{said.undoHint}</p>
      <Button look="main" type="submit">
        {said.enter(previewRounds(form, rules.meetings).reduce((sum, { meetings }) => sum + meetings.length, 0))}
      </Button>
    </form>
  );
}

interface PartProps {
  readonly form: FixturesForm;
  readonly change: (part: Partial<FixturesForm>) => void;
  readonly nameOf: (club: KeyId) => string;
}

const Draw = ({ form, change, nameOf }: PartProps) => (
  <fieldset>
    <legend>{said.clubs}</legend>
    <ol class="make-draw">
      {form.clubs.map(({ club, plays }, at) => (
        <li key={club} class="row">
          <label class="choice make-club">
            <input
              type="checkbox"
              aria-label={said.plays(nameOf(club))}
              checked={plays}
              onChange={(event) =>
                change({
                  changed: new Map(),
                  clubs: form.clubs.map((one) =>
                    one.club === club ? { club, plays: event.currentTarget.checked } : one,
                  ),
                })
              }
            />
            <span>{nameOf(club)}</span>
          </label>
          <Button
            look="quiet"
            aria-label={said.up(nameOf(club))}
            disabled={at === 0}
            onClick={() => change({ clubs: moved(form.clubs, at, -1) })}
          >
            ↑
          </Button>
          <Button
            look="quiet"
            aria-label={said.down(nameOf(club))}
            disabled={at === form.clubs.length - 1}
            onClick={() => change({ clubs: moved(form.clubs, at, 1) })}
          >
            ↓
          </Button>
        </li>
      ))}
    </ol>
  </fieldset>
);

function Rounds({ form, meetings, change, nameOf }: PartProps & { readonly meetings: LeagueRules["meetings"] }) {
  const rounds = previewRounds(form, meetings);
  const many = rounds.reduce((sum, round) => sum + round.meetings.length, 0);
  return (
    <>
      <h3>{said.rounds(rounds.length, many)}</h3>
      <ol class="make-rounds">
        {rounds.map(({ day, meetings: met, bye }, at) => (
          <li key={at}>
            <Field label={said.roundDay(at + 1)}>
              {(control) => (
                <input
                  {...control}
                  type="date"
                  value={day}
                  onInput={(event) => change({ changed: new Map(form.changed).set(at, event.currentTarget.value) })}
                />
              )}
            </Field>
            <ul class="make-meetings">
              {met.map(({ home, away }) => (
                <li key={`${home} ${away}`}>{fixturesWords.versus(nameOf(home), nameOf(away))}</li>
              ))}
              {bye !== null && <li class="quiet">{fixturesWords.bye(nameOf(bye))}</li>}
            </ul>
          </li>
        ))}
      </ol>
    </>
  );
}
