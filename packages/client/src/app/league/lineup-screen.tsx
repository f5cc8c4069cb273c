/** A club names its team for a fixture: players by place, each off the handicap stated for the day, with what is unusual said at once. */
import type { BookId, Draft, FixtureId, KeyId, LeagueFixture, LeagueRules } from "@sward/core";
import { leagueRulesOn } from "@sward/core";
import { useState } from "preact/hooks";
import { useLocation } from "preact-iso";
import type { Book } from "../../book/book.ts";
import { listed, warningTold } from "../../league/explained.ts";
import { checkHere, setOn } from "../../league/save.ts";
import type { Message } from "../../messages.ts";
import { messageOf } from "../../messages.ts";
import { showDay, showDayLong } from "../dates.ts";
import { deviceName, nameOf, useDesk } from "../desk-store.ts";
import { rootTold } from "../devices/root-told.ts";
import { Button, ButtonLink } from "../parts/button.tsx";
import { Empty } from "../parts/empty.tsx";
import { Field } from "../parts/field.tsx";
import { HandicapSelect } from "../parts/handicap-select.tsx";
import { Notice } from "../parts/notice.tsx";
import { Page } from "../parts/page.tsx";
import { Prevail } from "../parts/prevail.tsx";
import { Refused } from "../parts/refused.tsx";
import { mayHere } from "../permission.ts";
import { places, useHref } from "../place.ts";
import type { ScreenProps } from "../screen-props.ts";
import { leagueWords } from "../words/league.ts";
import { lineupWords as said } from "../words/lineup.ts";
import { clubNameIn } from "./fixture-list.tsx";
import { LeagueMissing } from "./league-missing.tsx";
import { leaguePlaces } from "./league-places.ts";
import type { Candidate, TeamForm } from "./lineup-view.ts";
import { candidatesOf, change, formOf, inOrder, seat, teamBody, withoutHandicap } from "./lineup-view.ts";
import { saveChecked, useReading } from "./reading-here.ts";
import { ownClub } from "./slots.ts";
import "./lineup.css";

export function LineupScreen({ params, query }: ScreenProps) {
  const league = useDesk().leagues.find(({ id }) => id === (params["book"] as BookId));
  if (league === undefined || league.state().as === null) {
    return <LeagueMissing title={said.title} known={league !== undefined} />;
  }
  return (
    <TeamOf league={league} fixture={params["fixture"] as FixtureId} wanted={query["club"] as KeyId | undefined} />
  );
}

interface TeamOfProps {
  readonly league: Book;
  readonly fixture: FixtureId;
  readonly wanted: KeyId | undefined;
}

function TeamOf({ league, fixture: id, wanted }: TeamOfProps) {
  const href = useHref();
  const reading = useReading(league);
  const fixture = reading.league.fixtures.find((one) => one.fixture === id);
  if (fixture === undefined) {
    return (
      <Page title={said.title}>
        <p>{leagueWords.notFound}</p>
      </Page>
    );
  }
  const nameOfClub = clubNameIn(league);
  const own = ownClub(league);
  const both = [fixture.home, fixture.away];
  const club = own ?? both.find((one) => one === wanted) ?? fixture.home;
  const rules = leagueRulesOn(reading.league, fixture.day);
  const versus = leagueWords.versus(nameOfClub(fixture.home), nameOfClub(fixture.away));
  const back = <a href={href(places.fixture(league.id, id))}>{said.toFixture}</a>;
  return (
    <Page
      title={`${said.title}: ${nameOfClub(club)}`}
      lead={said.lead(versus, showDayLong(fixture.day))}
      actions={back}
    >
      {!both.includes(club) ? (
        <Notice tone="plain" title={said.notOurs} />
      ) : !mayHere(league, "lineup-named") ? (
        <Notice tone="plain" title={said.readsOnly} />
      ) : rules === null ? (
        <Empty title={said.noRules.title}>
          <p>{said.noRules.body}</p>
        </Empty>
      ) : (
        <Naming key={club} league={league} fixture={fixture} club={club} rules={rules} />
      )}
      <Prevail />
    </Page>
  );
}

interface NamingProps {
  readonly league: Book;
  readonly fixture: LeagueFixture;
  readonly club: KeyId;
  readonly rules: LeagueRules;
}

function Naming({ league, fixture, club, rules }: NamingProps) {
  const { route } = useLocation();
  const href = useHref();
  const today = useDesk().today();
  const reading = useReading(league);
  const nameOfClub = clubNameIn(league);
  const team = fixture.teams[club === fixture.home ? 0 : 1];
  const [form, setForm] = useState<TeamForm>(() => formOf(team, rules.team.players));
  const [refused, setRefused] = useState<Message | null>(null);
  const candidates = candidatesOf(league, reading.statements, { club, day: fixture.day }, nameOf);
  if (candidates.length === 0) {
    return (
      <Empty title={said.nobodyEntered.title}>
        <p>{said.nobodyEntered.body}</p>
        <p>
          <ButtonLink href={href(leaguePlaces.clubs(league.id))}>{said.nobodyEntered.link}</ButtonLink>
        </p>
      </Empty>
    );
  }
  const replaces = team !== null && team.by === league.device ? team.entry : null;
  const body = teamBody(form, { fixture: fixture.fixture, club, replaces });
  const checked = body === null ? null : checkHere(league, reading, { kind: "lineup-named", body }, today);
  const warnings = checked?.ok === true ? checked.value.warnings : [];
  const names = { player: nameOf, club: nameOfClub, day: showDay };
  const missing = withoutHandicap(form);

  const submit = async (event: Event): Promise<void> => {
    event.preventDefault();
    if (body === null) return;
    const draft: Draft = { kind: "lineup-named", body };
    const answer = await saveChecked(league, [draft], said.saved(nameOfClub(club), body.players.length), today);
    setRefused(answer);
    if (answer === null) route(href(places.fixture(league.id, fixture.fixture)));
  };
  const set = (next: TeamForm): void => {
    setRefused(null);
    setForm(next);
  };
  return (
    <form class="lineup-form" noValidate onSubmit={(event) => void submit(event)}>
      {rules.team.order === "by-handicap" && (
        <div class="row lineup-order">
          <p>{said.byHandicap}</p>
          <Button onClick={() => set(inOrder(form))}>{said.sort}</Button>
        </div>
      )}
      <ol class="lineup-places">
        {form.map((_, at) => (
          <li key={at}>
            <PlaceFields league={league} form={form} at={at} set={set} candidates={candidates} day={fixture.day} />
          </li>
        ))}
      </ol>
      <div aria-live="polite">
        {checked?.ok === false && <Refused message={messageOf(checked.fault)} />}
        {missing.length > 0 && <p class="error">{said.missing(listed(missing.map(nameOf)))}</p>}
        {warnings.length > 0 && (
          <Notice tone="warn" title={said.warnings}>
            <ul>
              {warnings.map((warning) => (
                <li key={JSON.stringify(warning)}>{warningTold(warning, names)}</li>
              ))}
            </ul>
            <p>{said.warningsLead}</p>
          </Notice>
        )}
        <Refused message={refused} />
        {body === null && missing.length === 0 && <p class="quiet">{said.nobodyChosen}</p>}
      </div>
      <Button look="main" type="submit" disabled={body === null || checked?.ok === false}>
        {said.save}
      </Button>
    </form>
  );
}

interface PlaceFieldsProps {
  readonly league: Book;
  readonly form: TeamForm;
  readonly at: number;
  readonly set: (form: TeamForm) => void;
  readonly candidates: readonly Candidate[];
  readonly day: string;
}

function PlaceFields({ league, form, at, set, candidates, day }: PlaceFieldsProps) {
  const place = form[at];
  if (place === undefined) return null;
  const chosen = candidates.find(({ player }) => player === place.player) ?? null;
  const stated = chosen?.stated ?? null;
  const hint =
    place.player === null
      ? undefined
      : stated === null
        ? said.noneStated
        : said.stated(stated.handicap, rootTold(league, stated.by) ?? deviceName(stated.by), stated.on, stated.at);
  return (
    <fieldset>
      <legend class="unseen">{said.place(at + 1)}</legend>
      <div class="lineup-place">
        <Field label={said.player(at + 1)} hint={hint}>
          {(control) => (
            <select
              {...control}
              value={place.player ?? ""}
              onChange={({ currentTarget }) =>
                set(seat(form, at, candidates.find(({ player }) => player === currentTarget.value) ?? null))
              }
            >
              <option value="">{said.empty}</option>
              {candidates.map(({ player, stated }) => (
                <option key={player} value={player}>
                  {said.option(nameOf(player), stated?.handicap ?? null)}
                </option>
              ))}
            </select>
          )}
        </Field>
        {place.player !== null && (
          <>
            <Field label={said.offLabel(at + 1)}>
              {(control) => (
                <HandicapSelect
                  control={control}
                  rules={setOn(league.state().rules, day)}
                  value={place.off}
                  none={said.chooseOff}
                  choose={(off) => set(change(form, at, { off }))}
                />
              )}
            </Field>
            <label class="choice">
              <input
                type="checkbox"
                checked={place.reserve}
                onChange={({ currentTarget }) => set(change(form, at, { reserve: currentTarget.checked }))}
              />
              {said.reserveLabel(at + 1)}
            </label>
          </>
        )}
      </div>
    </fieldset>
  );
}
