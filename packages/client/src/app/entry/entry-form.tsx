/** The score sheet: settings of the afternoon, the sides, the score, and what it comes to. */
import type { Signal } from "@preact/signals";
import type { EntryId } from "@sward/core";
import { useMemo } from "preact/hooks";
import { version } from "../desk-store.ts";
import { Button } from "../parts/button.tsx";
import { KeyHints } from "../parts/key-hints.tsx";
import { Notice } from "../parts/notice.tsx";
import { Refused } from "../parts/refused.tsx";
import { places, useHref } from "../place.ts";
import { entryWords, faultSentence } from "../words/entry.ts";
import { words } from "../words.ts";
import { AfternoonFields } from "./afternoon-fields.tsx";
import { EffectPanel } from "./effect-panel.tsx";
import type { Field } from "./faults.ts";
import type { EntryForm as Form, Seat } from "./form.ts";
import { nextForm, withPairing, withSeat } from "./form.ts";
import type { Typing } from "./form-store.ts";
import { KeptNote } from "./kept-note.tsx";
import type { Recorded } from "./kept-record.ts";
import { keepRecord, recordedFor } from "./kept-record.ts";
import type { Pairing } from "./lately.ts";
import { enteredLately, lastPairings } from "./lately.ts";
import { LatelyList } from "./lately-list.tsx";
import { PairingChoices } from "./pairing-choices.tsx";
import { SameQuestion } from "./same-question.tsx";
import { ScoreFields } from "./score-fields.tsx";
import { SeatFields } from "./seat-fields.tsx";
import { StrokesLine } from "./strokes-line.tsx";
import type { Entry } from "./use-entry.ts";
import { useEntry } from "./use-entry.ts";
import { VisitorDialog } from "./visitor-dialog.tsx";

/** How many are listed, and how far back pairings are looked for. */
const LISTED = 6;
const LOOKED_AT = 60;
const PAIRINGS = 5;

export interface EntryFormProps {
  readonly typing: Typing;
  readonly form: Signal<Form>;
  /** After it was saved, or a correction given up. */
  readonly onDone: () => void;
  /** What a score pad kept of the match: what of it fits goes with what is saved here. */
  readonly recorded?: Recorded;
}

export function EntryForm({ typing, form, onDone, recorded }: EntryFormProps) {
  const entry = useEntry(typing, form, onDone, (body) => keepRecord(body, recordedFor(recorded, body)).body);
  const { club, isOurs, shortIn } = entry;
  const href = useHref();
  const session = typing.session.value;
  const entered = useMemo(() => enteredLately(club, session, LOOKED_AT), [club, session, version.value]);
  const pairings = lastPairings(entered, isOurs, PAIRINGS);
  const choose = (pairing: Pairing | undefined): boolean => {
    if (pairing === undefined) return false;
    entry.change(withPairing(entry.form, pairing, entry.nameIn));
    // The score is there already; its fields do not change with the names.
    entry.focus("score-0-0");
    return true;
  };
  return (
    <div class="entry">
      <div class="entry-past">
        <LatelyList
          entered={entered.slice(0, LISTED)}
          custodyOf={(id) => club.custody(id)}
          shortName={shortIn}
          isOurs={isOurs}
          correctHref={(id) => href(places.entry, { correct: id })}
          onUndo={(one) => void entry.undo(one)}
        />
      </div>
      <div class="entry-sheet">
        <Sheet entry={entry} recorded={recorded} onDone={onDone} choose={(digit) => choose(pairings[digit - 1])} />
        <PairingChoices pairings={pairings} shortName={shortIn} onChoose={(pairing) => void choose(pairing)} />
        <KeyHints keys={entryWords.keys} />
      </div>
      {entry.visitorFor !== null && (
        <VisitorDialog
          name={entry.visitorFor.name}
          rules={entry.rules}
          onClose={() => entry.setVisitorFor(null)}
          onAdd={(visitor) => entry.visitorFor !== null && entry.addVisitor(entry.visitorFor.seat, visitor)}
        />
      )}
    </div>
  );
}

interface SheetProps {
  readonly entry: Entry;
  readonly recorded: Recorded;
  readonly onDone: () => void;
  readonly choose: (digit: number) => boolean;
}

function Sheet({ entry, recorded, onDone, choose }: SheetProps) {
  const { form, faults, change } = entry;
  const errorAt = (field: Field): string | null => {
    const fault = entry.errorAt(field);
    return fault === undefined ? null : faultSentence(fault);
  };
  const short = (seat: Seat): string => {
    const { player } = form.seats[seat];
    return player === null ? entryWords.role(seat) : entry.shortIn(player);
  };
  const side = (seats: readonly Seat[]): string[] => seats.slice(0, form.doubles ? 2 : 1).map(short);
  const names = [side([0, 1]), side([2, 3])];
  const { replaces } = form;
  const seatFields = (seat: Seat) => (
    <SeatFields
      key={seat}
      seat={seat}
      form={form}
      people={entry.people}
      taken={entry.takenBy(seat)}
      advise={entry.advise}
      errors={{ player: errorAt(`player-${seat}`), off: errorAt(`off-${seat}`) }}
      onType={(text) => change(withSeat(form, seat, { text, player: null, off: "", offTyped: false }))}
      onPick={(person, goOn) => entry.pick(seat, person, goOn)}
      onOff={(off) => change(withSeat(form, seat, { off, offTyped: true }))}
      onVisitor={(name) => entry.setVisitorFor({ seat, name })}
      onDigit={choose}
    />
  );
  return (
    <form
      ref={entry.root}
      class="sheet-form"
      noValidate
      aria-label={replaces === null ? entryWords.title : entryWords.correctTitle}
      onSubmit={(event) => {
        event.preventDefault();
        void entry.save();
      }}
      onKeyDown={(event) => enterKey(event, entry)}
      {...entry.early}
    >
      <AfternoonFields form={form} state={entry.state} today={entry.desk.today()} errorAt={errorAt} onChange={change} />
      <h2>{entryWords.match}</h2>
      <div class="seats">
        <fieldset>
          <legend class={form.doubles ? undefined : "unseen"}>{entryWords.ownSide}</legend>
          {(form.doubles ? ([0, 1] as const) : ([0] as const)).map(seatFields)}
        </fieldset>
        <fieldset>
          <legend class={form.doubles ? undefined : "unseen"}>{entryWords.opponents}</legend>
          {(form.doubles ? ([2, 3] as const) : ([2] as const)).map(seatFields)}
        </fieldset>
      </div>
      {entry.same.length > 0 && (
        <SameQuestion
          form={form}
          found={entry.same}
          next={entry.nextNumber}
          error={errorAt("same")}
          isOurs={entry.isOurs}
          correctable={entry.correctable}
          enteredHere={entry.enteredHere}
          onChange={change}
        />
      )}
      <StrokesLine
        extras={entry.extras}
        names={names}
        choice={form.choice}
        onChoose={(choice) => change({ ...form, choice })}
      />
      <ScoreFields
        form={form}
        onChange={change}
        errorAt={errorAt}
        heads={[words.pair(names[0] ?? []), words.pair(names[1] ?? [])]}
        sides={entryWords.hoopSides}
      />
      {entry.body !== null && <KeptNote corrected={entry.body} recorded={recorded} />}
      {form.occasion === "inter-club-friendly" && (
        <label class="choice">
          <input
            type="checkbox"
            checked={form.excluded}
            onChange={(event) => change({ ...form, excluded: event.currentTarget.checked })}
          />
          {entryWords.excluded}
        </label>
      )}
      <EffectPanel preview={entry.preview} date={form.date} nameOf={entry.nameIn} />
      <div aria-live="assertive">
        {faults.length > 0 && <Notice tone="bad" title={entryWords.wrong(faults.length)} />}
        <Refused message={entry.refusal} />
      </div>
      <div class="row">
        <Button
          look="main"
          type="submit"
          disabled={entry.busy}
          onClick={(event) => {
            // Before a form is submitted a browser looks at each of its fields, to fill in such a form another time: a tenth of the wait.
            event.preventDefault();
            void entry.save();
          }}
        >
          {entry.busy ? entryWords.saving : replaces === null ? entryWords.save : entryWords.saveCorrection}
        </Button>
        {replaces === null ? (
          <Button
            look="quiet"
            onClick={() => {
              change(nextForm(form));
              entry.focus("player-0");
            }}
          >
            {entryWords.clear}
          </Button>
        ) : (
          <CorrectionButtons entry={entry} replaces={replaces} onDone={onDone} />
        )}
      </div>
    </form>
  );
}

interface CorrectionButtonsProps {
  readonly entry: Entry;
  readonly replaces: EntryId;
  readonly onDone: () => void;
}

function CorrectionButtons({ entry, replaces, onDone }: CorrectionButtonsProps) {
  return (
    <>
      <Button
        onClick={() => {
          entry.change(nextForm(entry.form));
          onDone();
        }}
      >
        {entryWords.cancelCorrection}
      </Button>
      <Button look="danger" onClick={() => void entry.takeBack(replaces, entryWords.takenBack)}>
        {entryWords.takeBack}
      </Button>
    </>
  );
}

/** Enter goes to the next field and saves on the last; with Ctrl it saves from anywhere. Buttons keep their own. */
function enterKey(event: KeyboardEvent, entry: Entry): void {
  if (
    event.key !== "Enter" ||
    !(event.target instanceof HTMLInputElement || event.target instanceof HTMLSelectElement)
  ) {
    return;
  }
  event.preventDefault();
  if (event.ctrlKey || event.metaKey) {
    void entry.save();
    return;
  }
  const flow = [...(entry.root.current?.querySelectorAll<HTMLElement>(FLOW) ?? [])];
  const at = flow.indexOf(event.target);
  if (at === -1) {
    if (event.target.closest(".afternoon") === null) void entry.save();
    else flow[0]?.focus();
  } else if (at === flow.length - 1) void entry.save();
  else flow[at + 1]?.focus();
}

const FLOW = ["player", "off", "score"].map((name) => `[data-field^="${name}-"]`).join(",");
