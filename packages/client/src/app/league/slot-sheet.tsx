/** The form of one slot: line-ups from the players both clubs have entered, handicaps as stated, strokes, hoops. */
import type { Day, PlayerId } from "@sward/core";
import { useEffect, useId, useLayoutEffect, useRef, useState } from "preact/hooks";
import type { Book } from "../../book/book.ts";
import type { Desk } from "../../desk/desk.ts";
import type { Message } from "../../messages.ts";
import { nameOf, shortNameOf } from "../desk-store.ts";
import { readOffs, readWhole } from "../entry/check.ts";
import { EffectPanel } from "../entry/effect-panel.tsx";
import { extrasOf } from "../entry/extras.ts";
import type { Field as FieldId } from "../entry/faults.ts";
import type { EntryForm, Seat } from "../entry/form.ts";
import { prefilled, withSeat } from "../entry/form.ts";
import { KeptNote } from "../entry/kept-note.tsx";
import type { Recorded } from "../entry/kept-record.ts";
import { keepRecord, recordedFor } from "../entry/kept-record.ts";
import type { Advice } from "../entry/played-off.ts";
import { previewMatch } from "../entry/preview.ts";
import { rulesOnDay } from "../entry/rules-on.ts";
import { ScoreFields } from "../entry/score-fields.tsx";
import { StrokesLine } from "../entry/strokes-line.tsx";
import { Button } from "../parts/button.tsx";
import { Field } from "../parts/field.tsx";
import { Notice } from "../parts/notice.tsx";
import { Refused } from "../parts/refused.tsx";
import { save } from "../saved.ts";
import { entryWords, faultSentence } from "../words/entry.ts";
import { leagueWords } from "../words/league.ts";
import { matchWords } from "../words/match.ts";
import { words } from "../words.ts";
import { clubNameIn } from "./fixture-list.tsx";
import type { SlotPlace } from "./slot-form.ts";
import { adviseInLeague, checkSlot, rulesOfLeague } from "./slot-form.ts";
import type { SlotView } from "./slots.ts";
import { enteredPlayers } from "./slots.ts";

export interface SlotSheetProps {
  readonly desk: Desk;
  readonly league: Book;
  readonly place: SlotPlace;
  readonly slot: SlotView;
  readonly initial: EntryForm;
  readonly onDone: () => void;
  readonly onCancel: () => void;
  /** As of the entry form's. */
  readonly recorded?: Recorded;
}

export function SlotSheet({ desk, league, place, initial, onDone, onCancel, recorded }: SlotSheetProps) {
  const [form, setForm] = useState(initial);
  const [tries, setTries] = useState(0);
  const [refused, setRefused] = useState<Message | null>(null);
  const root = useRef<HTMLFormElement>(null);
  const focusNext = useRef<FieldId | null>(null);
  const saving = useRef(false);
  const { fixture, number } = place;
  const clubName = clubNameIn(league);
  const sides = [fixture.home, fixture.away] as const;
  const entered = sides.map((club) => enteredPlayers(league, club, nameOf));
  const advise = (player: PlayerId, day: Day): Advice => adviseInLeague(desk, league, player, day);
  const rulesFrom = rulesOfLeague(league.state(), desk.club.state());
  const rules = rulesOnDay(rulesFrom, form.date);
  const people = new Map(
    entered.flat().map((player) => {
      const standing = "visitor" as const;
      return [player, { player, name: nameOf(player), short: shortNameOf(player), standing, home: null }];
    }),
  );
  const checked = checkSlot(form, place, { state: league.state(), today: desk.today(), people, rules });
  const faults = tries > 0 && !checked.ok ? checked.fault : [];

  useEffect(() => root.current?.querySelector<HTMLElement>("select")?.focus(), []);
  useLayoutEffect(() => {
    const field = focusNext.current;
    focusNext.current = null;
    if (field !== null) root.current?.querySelector<HTMLElement>(`[data-field="${field}"]`)?.focus();
  });

  const change = (next: EntryForm): void => {
    setRefused(null);
    setForm(
      prefilled(next, (player, day) => {
        const advice = advise(player, day);
        return advice.from === "nobody" ? null : advice.off;
      }),
    );
  };
  const errorAt = (field: FieldId): string | null => {
    const fault = faults.find((one) => one.field === field);
    return fault === undefined ? null : faultSentence(fault);
  };
  const submit = async (): Promise<void> => {
    if (saving.current) return;
    if (!checked.ok) {
      setTries(tries + 1);
      focusNext.current = checked.fault[0]?.field ?? null;
      return;
    }
    saving.current = true;
    const { kind, body } = checked.value.draft;
    const draft = { kind, body: keepRecord(body, recordedFor(recorded, body)).body };
    const sentence = matchWords({ ...draft.body, excluded: draft.body.excluded === true }, shortNameOf);
    const refusal = await save(league, [draft], leagueWords.saved(number, sentence));
    saving.current = false;
    setRefused(refusal);
    if (refusal === null) onDone();
  };
  const short = (seat: Seat): string => {
    const { player } = form.seats[seat];
    return player === null ? clubName(sides[seat < 2 ? 0 : 1]) : shortNameOf(player);
  };
  const names = (
    [
      [0, 1],
      [2, 3],
    ] as const
  ).map((seats) => seats.slice(0, form.doubles ? 2 : 1).map(short));

  return (
    <form
      ref={root}
      class="sheet-form slot-sheet"
      noValidate
      aria-label={leagueWords.report(number)}
      onSubmit={(event) => {
        event.preventDefault();
        void submit();
      }}
      onKeyDown={(event) => {
        if (event.key === "Escape") onCancel();
        if (event.key !== "Enter" || event.target instanceof HTMLButtonElement) return;
        event.preventDefault();
        void submit();
      }}
    >
      <div class="seats">
        {([0, 1] as const).map((side) => (
          <fieldset key={side}>
            <legend>{clubName(sides[side])}</legend>
            {entered[side]?.length === 0 && <p>{leagueWords.nobodyEntered(clubName(sides[side]))}</p>}
            {(form.doubles ? ([0, 1] as const) : ([0] as const)).map((at) => {
              const seat = (side * 2 + at) as Seat;
              return (
                <LineupFields
                  key={seat}
                  club={clubName(sides[side])}
                  seat={seat}
                  at={at}
                  form={form}
                  entered={entered[side] ?? []}
                  note={(player) => handicapNote(desk, league, player, form, seat, clubName(sides[side]))}
                  errors={{ player: errorAt(`player-${seat}`), off: errorAt(`off-${seat}`) }}
                  onChange={change}
                />
              );
            })}
          </fieldset>
        ))}
      </div>
      <StrokesLine
        extras={extrasOf(rules, form, readOffs(form, rules))}
        names={names}
        choice={form.choice}
        onChoose={(choice) => change({ ...form, choice })}
      />
      <ScoreFields
        form={form}
        onChange={change}
        errorAt={errorAt}
        heads={[words.pair(names[0] ?? []), words.pair(names[1] ?? [])]}
        sides={[clubName(fixture.home), clubName(fixture.away)]}
      />
      {checked.ok && <KeptNote corrected={checked.value.draft.body} recorded={recorded} />}
      <Field label={leagueWords.date} error={errorAt("date")}>
        {(control) => (
          <input
            {...control}
            data-field="date"
            type="date"
            max={desk.today()}
            value={form.date}
            onInput={(event) => change({ ...form, date: event.currentTarget.value })}
          />
        )}
      </Field>
      <EffectPanel
        preview={checked.ok ? previewMatch(desk.club, checked.value.draft.body) : null}
        date={form.date}
        nameOf={nameOf}
      />
      <div aria-live="assertive">
        {faults.length > 0 && <Notice tone="bad" title={entryWords.wrong(faults.length)} />}
        <Refused message={refused} />
      </div>
      <div class="row">
        <Button look="main" type="submit">
          {leagueWords.save(number)}
        </Button>
        <Button onClick={onCancel}>{leagueWords.cancel}</Button>
      </div>
    </form>
  );
}

interface LineupFieldsProps {
  readonly club: string;
  readonly seat: Seat;
  readonly at: 0 | 1;
  readonly form: EntryForm;
  readonly entered: readonly PlayerId[];
  readonly note: (player: PlayerId) => string;
  readonly errors: { readonly player: string | null; readonly off: string | null };
  readonly onChange: (form: EntryForm) => void;
}

function LineupFields({ club, seat, at, form, entered, note, errors, onChange }: LineupFieldsProps) {
  const noteId = useId();
  const { player, off } = form.seats[seat];
  return (
    <div class="seat">
      <div class="seat-fields">
        <Field label={leagueWords.playerShort(at, form.doubles)} error={errors.player}>
          {(control) => (
            <select
              {...control}
              data-field={`player-${seat}`}
              aria-label={leagueWords.player(club, at, form.doubles)}
              value={player ?? ""}
              onChange={(event) => {
                const picked = event.currentTarget.value as PlayerId;
                onChange(withSeat(form, seat, { player: picked, text: nameOf(picked), off: "", offTyped: false }));
              }}
            >
              <option value="" disabled>
                {leagueWords.choose}
              </option>
              {entered.map((one) => (
                <option key={one} value={one}>
                  {nameOf(one)}
                </option>
              ))}
            </select>
          )}
        </Field>
        <Field label={words.handicap} error={errors.off}>
          {(control) => (
            <input
              {...control}
              data-field={`off-${seat}`}
              aria-label={leagueWords.handicap(club, at, form.doubles)}
              type="text"
              autocomplete="off"
              value={off}
              onInput={(event) => onChange(withSeat(form, seat, { off: event.currentTarget.value, offTyped: true }))}
              onFocus={(event) => event.currentTarget.select()}
            />
          )}
        </Field>
      </div>
      <p class="small quiet" id={noteId} aria-live="polite">
        {player === null ? "" : note(player)}
      </p>
    </div>
  );
}

/** Where the handicap comes from: our card, or what the other club states and since when. */
function handicapNote(desk: Desk, league: Book, player: PlayerId, form: EntryForm, seat: Seat, club: string): string {
  const advice = adviseInLeague(desk, league, player, form.date);
  const off = readWhole(form.seats[seat].off);
  const differs =
    advice.from !== "nobody" && off !== null && off !== advice.off ? [leagueWords.offDiffers(advice.off)] : [];
  switch (advice.from) {
    case "card":
      return [leagueWords.ownCard(advice.off, form.date), ...differs].join(" ");
    case "stated":
      return [leagueWords.stated(advice.off, advice.on, club), ...differs].join(" ");
    case "last-played":
      return [leagueWords.lastOff(advice.off, advice.on), ...differs].join(" ");
    case "nobody":
      return leagueWords.notStated;
  }
}
