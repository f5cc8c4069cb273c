/** One more fixture, by hand: a decider, or one that was forgotten. */
import type { FixtureId, KeyId, LeagueReading } from "@sward/core";
import { fixtureSlots, leagueRulesOn } from "@sward/core";
import { useState } from "preact/hooks";
import type { Book } from "../../book/book.ts";
import { randomId } from "../../desk/platform.ts";
import type { Message } from "../../messages.ts";
import { useDesk } from "../desk-store.ts";
import { Button } from "../parts/button.tsx";
import { Field } from "../parts/field.tsx";
import { Refused } from "../parts/refused.tsx";
import { fixturesWords } from "../words/league-fixtures.ts";
import { clubNameIn } from "./fixture-list.tsx";
import { saveChecked } from "./reading-here.ts";

const said = fixturesWords.one;

export function OneFixtureForm({ league, reading }: { readonly league: Book; readonly reading: LeagueReading }) {
  const today = useDesk().today();
  const nameOf = clubNameIn(league);
  const [day, setDay] = useState("");
  const [clubs, setClubs] = useState<readonly [string, string]>(["", ""]);
  const [tried, setTried] = useState(false);
  const [refused, setRefused] = useState<Message | null>(null);
  const [home, away] = clubs;
  const rules = leagueRulesOn(reading.league, day === "" ? today : day);
  const submit = async (event: Event): Promise<void> => {
    event.preventDefault();
    setTried(true);
    if (home === "" || away === "" || day === "" || rules === null) return;
    const body = {
      fixture: randomId() as FixtureId,
      date: day,
      home: home as KeyId,
      away: away as KeyId,
      slots: fixtureSlots(rules),
    };
    const sentence = said.saved(nameOf(body.home), nameOf(body.away), day);
    const answer = await saveChecked(league, [{ kind: "fixture-set", body }], sentence, today);
    setRefused(answer);
    if (answer !== null) return;
    setTried(false);
    setClubs(["", ""]);
  };
  const choice = (side: 0 | 1) => (
    <Field label={side === 0 ? said.home : said.away} error={tried && clubs[side] === "" ? said.missing : null}>
      {(control) => (
        <select
          {...control}
          value={clubs[side]}
          onChange={({ currentTarget: { value } }) => setClubs(side === 0 ? [value, away] : [home, value])}
        >
          <option value="">{said.choose}</option>
          {[...league.state().clubs.keys()].map((club) => (
            <option key={club} value={club}>
              {nameOf(club)}
            </option>
          ))}
        </select>
      )}
    </Field>
  );
  return (
    <details class="make-fixtures">
      <summary>{said.title}</summary>
      <form noValidate onSubmit={(event) => void submit(event)}>
        {choice(0)}
        {choice(1)}
        <Field label={said.day} error={tried && day === "" ? said.dayMissing : null}>
          {(control) => (
            <input {...control} type="date" value={day} onInput={(event) => setDay(event.currentTarget.value)} />
          )}
        </Field>
        <Refused message={refused} />
        <Button look="main" type="submit">
          {said.enter}
        </Button>
      </form>
    </details>
  );
}
