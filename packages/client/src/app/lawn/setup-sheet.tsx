/** A new game: as little as it takes to begin, names by a few letters, and the extra strokes worked out at once. */
import type { PlayerId } from "@sward/core";
import { useMemo, useState } from "preact/hooks";
import { useLocation } from "preact-iso";
import { randomId } from "../../desk/platform.ts";
import { useDesk, version } from "../desk-store.ts";
import type { Seat } from "../entry/form.ts";
import { newForm, prefilled, seatsOf, withSeat } from "../entry/form.ts";
import { knownPeople } from "../entry/people.ts";
import { adviseOff } from "../entry/played-off.ts";
import { rulesOnDay } from "../entry/rules-on.ts";
import { SeatFields } from "../entry/seat-fields.tsx";
import { StrokesLine } from "../entry/strokes-line.tsx";
import { Button } from "../parts/button.tsx";
import { Field } from "../parts/field.tsx";
import { Notice } from "../parts/notice.tsx";
import { places, useHref } from "../place.ts";
import { entryWords } from "../words/entry.ts";
import { lawnWords } from "../words/lawn.ts";
import { Choices } from "./choices.tsx";
import { colourOf } from "./order.ts";
import type { SideAt } from "./pad.ts";
import type { PadStore } from "./pad-store.ts";
import type { SetupFault, SetupForm } from "./setup-form.ts";
import { extrasHere, newSetup, setupOf } from "./setup-form.ts";
import { SlotChoice } from "./slot-choice.tsx";
import { TimeFields } from "./time-fields.tsx";

const setupWords = lawnWords.setup;

export function SetupSheet({ store }: { readonly store: PadStore }) {
  const desk = useDesk();
  const href = useHref();
  const { route } = useLocation();
  const today = desk.today();
  const [form, setForm] = useState<SetupForm>(() =>
    newSetup(newForm({ date: today, occasion: null, event: null, play: "handicap", format: 13, doubles: false })),
  );
  const [faults, setFaults] = useState<readonly SetupFault[]>([]);
  const [refused, setRefused] = useState(false);
  const people = useMemo(() => knownPeople(desk), [desk, version.value]);
  const rules = rulesOnDay(desk.club.state(), today);
  const { match } = form;
  const advise = (player: PlayerId) => adviseOff(desk, player, today);
  const change = (next: SetupForm): void => {
    setFaults([]);
    const filled = prefilled(next.match, (player) => {
      const advice = advise(player);
      return advice.from === "nobody" ? null : advice.off;
    });
    setForm({ ...next, match: filled });
  };
  const seats = seatsOf(match);
  const nameOf = (seat: Seat): string => {
    const { player, text } = match.seats[seat];
    return people.find((one) => one.player === player)?.short || text.trim() || entryWords.role(seat);
  };
  const names = ([0, 1] as const).map((side) => seats.filter((seat) => side === (seat < 2 ? 0 : 1)).map(nameOf));
  const sideOf = (side: SideAt): string => lawnWords.together(names[side] ?? []);
  const extras = extrasHere(form, rules);
  const errorAt = (field: SetupFault["field"]): string | null => {
    const fault = faults.find((one) => one.field === field);
    const [min, max] = field === "minutes" ? [1, 600] : field === "turns" ? [0, 40] : [0, 60];
    return fault === undefined ? null : setupWords.notCount(fault.text, min, max);
  };
  const begin = (): void => {
    const setup = setupOf(form, rules);
    if (!("format" in setup)) {
      setFaults(setup);
      return;
    }
    const id = randomId();
    const kept = store.write({ v: 1, id, begun: Date.now(), setup, events: [], saved: false });
    setRefused(!kept);
    if (kept) route(href(places.pad(id)));
  };
  const otherBall = form.first === 0 ? 1 : 0;

  return (
    <form
      class="lawn-setup"
      noValidate
      aria-label={setupWords.title}
      onSubmit={(event) => {
        event.preventDefault();
        begin();
      }}
    >
      <h2>{setupWords.title}</h2>
      <p class="quiet">{setupWords.hint}</p>
      <SlotChoice form={form} onChange={change} />
      <div class="lawn-choices">
        <Choices
          legend={setupWords.format}
          name="lawn-format"
          value={String(match.format)}
          choices={Object.entries(setupWords.formats)}
          onChoose={(format) =>
            change({ ...form, match: { ...match, format: format === "7" ? 7 : format === "19" ? 19 : 13 } })
          }
        />
        <Choices
          legend={setupWords.play}
          name="lawn-play"
          value={match.play}
          choices={[
            ["handicap", setupWords.plays.handicap],
            ["level", setupWords.plays.level],
          ]}
          onChoose={(play) => change({ ...form, match: { ...match, play } })}
        />
        <Choices
          legend={setupWords.sides}
          name="lawn-sides"
          value={match.doubles ? "doubles" : "singles"}
          choices={[
            ["singles", setupWords.singles],
            ["doubles", setupWords.doubles],
          ]}
          onChoose={(sides) => change({ ...form, match: { ...match, doubles: sides === "doubles", choice: 0 } })}
        />
      </div>
      <div class="seats">
        {([0, 1] as const).map((side) => (
          <fieldset key={side}>
            <legend>{side === 0 ? setupWords.one : setupWords.other}</legend>
            {seats
              .filter((seat) => side === (seat < 2 ? 0 : 1))
              .map((seat) => (
                <SeatFields
                  key={seat}
                  seat={seat}
                  form={match}
                  people={people}
                  taken={new Set(seats.flatMap((one) => (one === seat ? [] : (match.seats[one].player ?? []))))}
                  advise={advise}
                  errors={{ player: null, off: null }}
                  onType={(text) =>
                    change({ ...form, match: withSeat(match, seat, { text, player: null, off: "", offTyped: false }) })
                  }
                  onPick={(person) => {
                    const picked = { player: person.player, text: person.name, off: "", offTyped: false };
                    change({ ...form, match: withSeat(match, seat, picked) });
                  }}
                  onOff={(off) => change({ ...form, match: withSeat(match, seat, { off, offTyped: true }) })}
                  onVisitor={(text) => change({ ...form, match: withSeat(match, seat, { text, player: null }) })}
                  onDigit={() => false}
                />
              ))}
          </fieldset>
        ))}
      </div>
      <StrokesLine
        extras={extras}
        names={names}
        choice={match.choice}
        onChoose={(choice) => change({ ...form, match: { ...match, choice } })}
      />
      {extras.type === "not-yet" && (
        <div class="lawn-given">
          <p class="quiet">{setupWords.givenHint}</p>
          {seats.map((seat) => (
            <Field key={seat} label={setupWords.given(nameOf(seat))} error={errorAt(`given-${seat}`)}>
              {(control) => (
                <input
                  {...control}
                  type="text"
                  inputMode="numeric"
                  autocomplete="off"
                  value={form.typed[seat]}
                  onInput={(event) => {
                    const text = event.currentTarget.value;
                    const typed = form.typed.map((old, at) => (at === seat ? text : old));
                    change({ ...form, typed: typed as unknown as SetupForm["typed"] });
                  }}
                />
              )}
            </Field>
          ))}
        </div>
      )}
      <div class="lawn-choices">
        <Choices
          legend={setupWords.colours}
          name="lawn-colours"
          value={form.colours}
          choices={Object.entries(setupWords.coloursAre) as [SetupForm["colours"], string][]}
          onChoose={(colours) => change({ ...form, colours })}
        />
        <Choices
          legend={setupWords.first}
          name="lawn-first"
          value={String(form.first)}
          choices={[
            ["0", setupWords.firstIs(sideOf(0), colourOf(form, 0))],
            ["1", setupWords.firstIs(sideOf(1), colourOf(form, 0))],
          ]}
          onChoose={(first) => change({ ...form, first: first === "0" ? 0 : 1 })}
        />
        {match.doubles &&
          ([form.first, otherBall] as const).map((side, ball) => (
            <Choices
              key={side}
              legend={setupWords.lead(colourOf(form, ball === 0 ? 0 : 1))}
              name={`lawn-lead-${side}`}
              value={String(form.leads[side])}
              choices={(names[side] ?? []).map((name, seat) => [String(seat), name] as const)}
              onChoose={(chosen) => {
                const lead: SideAt = chosen === "0" ? 0 : 1;
                change({ ...form, leads: side === 0 ? [lead, form.leads[1]] : [form.leads[0], lead] });
              }}
            />
          ))}
      </div>
      <TimeFields form={form} errorAt={errorAt} onChange={change} />
      <div aria-live="assertive">
        {refused && <Notice tone="bad" title={setupWords.notKept} />}
        {faults.length > 0 && <Notice tone="bad" title={entryWords.wrong(faults.length)} />}
      </div>
      <Button look="main" type="submit">
        {setupWords.begin}
      </Button>
    </form>
  );
}
