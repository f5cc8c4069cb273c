/** Extra strokes for any pairing, without entering a match. */
import { useSignal } from "@preact/signals";
import type { PlayerId, RuleSet } from "@sward/core";
import { useMemo, useState } from "preact/hooks";
import { knownPeople } from "../entry/people.ts";
import { adviseOff } from "../entry/played-off.ts";
import { PlayerField } from "../entry/player-field.tsx";
import { rulesOnDay } from "../entry/rules-on.ts";
import "../entry/entry.css";
import "./strokes.css";
import { useDesk, version } from "../desk-store.ts";
import { Button, ButtonLink } from "../parts/button.tsx";
import { Empty } from "../parts/empty.tsx";
import { Page } from "../parts/page.tsx";
import { Prevail } from "../parts/prevail.tsx";
import { places, useHref } from "../place.ts";
import { lawnWords } from "../words/lawn.ts";
import { printWords } from "../words/print.ts";
import { strokesWords } from "../words/strokes.ts";
import { tablesWords } from "../words/tables.ts";
import { number, spoken } from "../words.ts";
import type { StrokesForm } from "./pairing.ts";
import { answersFor, labelsFor, newStrokes, seatsOn, tap, unknownSeats, write } from "./pairing.ts";
import { Plans } from "./plans.tsx";

export function StrokesScreen() {
  const desk = useDesk();
  const href = useHref();
  const rules = rulesOnDay(desk.club.state(), desk.today());
  return (
    <Page
      title={strokesWords.title}
      lead={strokesWords.lead}
      actions={
        <>
          <ButtonLink href={href(places.printWall)}>{printWords.wall.link}</ButtonLink>
          <ButtonLink href={href(places.lawn)}>{lawnWords.link}</ButtonLink>
          <ButtonLink href={href(places.tables)}>{tablesWords.link}</ButtonLink>
        </>
      }
    >
      {rules === undefined ? (
        <Empty title={strokesWords.noRules.title}>
          <p>{strokesWords.noRules.body}</p>
        </Empty>
      ) : (
        <Pairing rules={rules} />
      )}
    </Page>
  );
}

function Pairing({ rules }: { readonly rules: RuleSet }) {
  const form = useSignal<StrokesForm>(newStrokes);
  const { doubles } = form.value;
  return (
    <div class="strokes">
      <Answers rules={rules} form={form.value} />
      <fieldset class="choices">
        <legend class="unseen">{strokesWords.sides}</legend>
        <div class="choices-row">
          {([false, true] as const).map((choice) => (
            <label class="choice" key={String(choice)}>
              <input
                type="radio"
                name="strokes-sides"
                checked={doubles === choice}
                onChange={() => {
                  form.value = { ...form.value, doubles: choice };
                }}
              />
              {choice ? strokesWords.doubles : strokesWords.singles}
            </label>
          ))}
          <Button
            look="quiet"
            onClick={() => {
              form.value = { ...newStrokes, doubles };
            }}
          >
            {strokesWords.clear}
          </Button>
        </div>
      </fieldset>
      <div class="strokes-sides">
        {([0, 1] as const).map((side) => (
          <Side
            key={side}
            side={side}
            rules={rules}
            form={form.value}
            onChange={(next) => {
              form.value = next;
            }}
          />
        ))}
      </div>
      <Plans rules={rules} form={form.value} />
      <p class="quiet small">{strokesWords.rules(rules.title)}</p>
      <Prevail />
    </div>
  );
}

function Answers({ rules, form }: { readonly rules: RuleSet; readonly form: StrokesForm }) {
  const answers = answersFor(rules, form);
  const labels = labelsFor(form, strokesWords.labels);
  return (
    <section class="strokes-answer" aria-label={strokesWords.answer} aria-live="polite">
      {answers[0]?.ways === null ? (
        <p>{form.doubles ? strokesWords.notYetDoubles : strokesWords.notYet}</p>
      ) : (
        <dl>
          {answers.map(({ format, ways }) => (
            <div key={format}>
              <dt>{strokesWords.points(format)}</dt>
              <dd>
                {ways !== null && ways.length > 1 && <p class="small quiet">{strokesWords.ways}</p>}
                {ways?.map((way) => (
                  <p key={JSON.stringify(way)}>{strokesWords.receives(way, labels)}</p>
                ))}
              </dd>
            </div>
          ))}
        </dl>
      )}
    </section>
  );
}

interface SideProps {
  readonly side: 0 | 1;
  readonly rules: RuleSet;
  readonly form: StrokesForm;
  readonly onChange: (form: StrokesForm) => void;
}

function Side({ side, rules, form, onChange }: SideProps) {
  const seats = seatsOn(form, side);
  const unknown = unknownSeats(rules, form);
  const wrong = seats.findIndex((_, at) => unknown.has(`${side}-${at}`));
  return (
    <fieldset class="strokes-side">
      <legend>{strokesWords.side(side)}</legend>
      <div class="row">
        {seats.map(({ off, name }, at) => (
          <span class="strokes-seat" key={strokesWords.handicap(side, at, form.doubles)}>
            <input
              class="strokes-off"
              type="text"
              autocomplete="off"
              value={off}
              aria-label={strokesWords.handicap(side, at, form.doubles)}
              aria-invalid={unknown.has(`${side}-${at}`) ? "true" : undefined}
              onInput={(event) => onChange(write(form, side, at === 0 ? 0 : 1, event.currentTarget.value))}
              onFocus={(event) => event.currentTarget.select()}
            />
            <span class="small">{name ?? ""}</span>
          </span>
        ))}
      </div>
      <div aria-live="polite">
        {wrong !== -1 && <p class="error">{strokesWords.unknown(seats[wrong]?.off ?? "")}</p>}
      </div>
      <fieldset class="handicaps" aria-label={strokesWords.tapHint}>
        {rules.triggers.map(({ handicap }) => (
          <button
            key={handicap}
            type="button"
            aria-label={spoken(handicap)}
            aria-pressed={seats.some(({ off }) => off === String(handicap))}
            onClick={() => onChange(tap(form, side, { off: String(handicap), name: null }))}
          >
            {number(handicap)}
          </button>
        ))}
      </fieldset>
      <ByName side={side} form={form} onChange={onChange} />
    </fieldset>
  );
}

function ByName({ side, form, onChange }: Omit<SideProps, "rules">) {
  const desk = useDesk();
  const [text, setText] = useState("");
  const offs = useMemo(() => {
    const found = new Map<PlayerId, number>();
    for (const { player } of knownPeople(desk)) {
      const advice = adviseOff(desk, player, desk.today());
      if (advice.from !== "nobody") found.set(player, advice.off);
    }
    return found;
  }, [desk, version.value]);
  const offOf = (player: PlayerId): number | null => offs.get(player) ?? null;
  return (
    <PlayerField
      seat={side === 0 ? 0 : 2}
      label={strokesWords.byName(side)}
      text={text}
      player={null}
      people={knownPeople(desk).filter(({ player }) => offs.has(player))}
      taken={new Set()}
      handicapOf={offOf}
      error={null}
      onType={setText}
      onPick={({ player, short }) => {
        const off = offOf(player);
        if (off !== null) onChange(tap(form, side, { off: String(off), name: short }));
        setText("");
      }}
      onVisitor={null}
      onDigit={() => false}
    />
  );
}
