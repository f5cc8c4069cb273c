/**
 * The form's life on the screen: what a key press does to it, saving, undo, and where the focus goes. What is drawn is in
 * `entry-form.tsx`; what is right and wrong with a form is in `check.ts`.
 */
import type { Signal } from "@preact/signals";
import type { Day, Draft, EntryId, MatchReported, PlayerId, Result } from "@sward/core";
import { fail } from "@sward/core";
import { useLayoutEffect, useMemo, useRef, useState } from "preact/hooks";
import type { RosterRecord } from "../../book/roster.ts";
import { onceDrawn } from "../../desk/once-drawn.ts";
import { randomId } from "../../desk/platform.ts";
import type { Message } from "../../messages.ts";
import { messageOf } from "../../messages.ts";
import { nameOf, shortNameOf, useDesk, version } from "../desk-store.ts";
import { rosterRecordOf } from "../names.ts";
import { mayCorrectHere } from "../permission.ts";
import { saved } from "../saved.ts";
import { tellNow } from "../telling.ts";
import { entryWords } from "../words/entry.ts";
import { matchWords, ownSideFirst } from "../words/match.ts";
import type { Checked } from "./check.ts";
import { checkForm, readOffs } from "./check.ts";
import { extrasOf } from "./extras.ts";
import type { Field, FormFault } from "./faults.ts";
import type { EntryForm, Seat } from "./form.ts";
import { nextForm, playersIn, prefilled, seatsOf, withSeat } from "./form.ts";
import type { Typing } from "./form-store.ts";
import { remember } from "./form-store.ts";
import type { Entered } from "./lately.ts";
import type { Person } from "./people.ts";
import { knownPeople } from "./people.ts";
import type { Advice } from "./played-off.ts";
import { adviseOff } from "./played-off.ts";
import { previewMatch } from "./preview.ts";
import { rulesOnDay } from "./rules-on.ts";
import { createSaidFirst } from "./said-first.ts";
import type { SameDayMatch } from "./same-match.ts";
import { nextNumber, sameDayMatches } from "./same-match.ts";

/** After so many milliseconds it is said that it is being saved. */
const SLOW_MS = 150;

/** @param adorn what is known of the match beside the form, put into its report just before it is saved */
export function useEntry(
  typing: Typing,
  form: Signal<EntryForm>,
  done: () => void,
  adorn: (body: MatchReported) => MatchReported = (body) => body,
) {
  const desk = useDesk();
  const { club } = desk;
  const state = club.state();
  const now = form.value;
  /** Times that saving was tried in vain: each draws anew, so that the focus goes to the first fault again. */
  const [tries, setTries] = useState(0);
  const [busy, setBusy] = useState(false);
  const saving = useRef(false);
  const said = useMemo(createSaidFirst, []);
  const [refusal, setRefusal] = useState<Message | null>(null);
  const [visitorFor, setVisitorFor] = useState<{ readonly seat: Seat; readonly name: string } | null>(null);
  const root = useRef<HTMLFormElement>(null);
  const focusNext = useRef<Field | null>(null);

  const people = useMemo(() => knownPeople(desk, now.visitors), [desk, version.value, now.visitors]);
  const known = useMemo(() => new Map(people.map((person) => [person.player, person])), [people]);
  const advised = useMemo(() => new Map<PlayerId, Advice>(), [desk, version.value, now.date]);
  const advise = (player: PlayerId): Advice => {
    const advice = advised.get(player) ?? adviseOff(desk, player, now.date);
    advised.set(player, advice);
    return advice;
  };
  const rules = rulesOnDay(state, now.date);
  const check = (typed: EntryForm) =>
    checkForm(typed, {
      state: club.state(),
      today: desk.today(),
      people: known,
      rules: rulesOnDay(club.state(), typed.date),
    });
  // Not while it is saved: the record has it then, and what saving it would do is no question any more.
  const judged = useRef<Judged | null>(null);
  if (judged.current?.form !== now || (judged.current.version !== version.value && !saving.current)) {
    const sound = check(now);
    const preview = sound.ok ? previewMatch(club, sound.value.body) : null;
    judged.current = { form: now, version: version.value, today: desk.today(), checked: sound, preview };
  }
  const { checked, preview } = judged.current;
  const faults = tries > 0 && !checked.ok ? checked.fault : [];
  const pairing = useMemo(() => pairingBody(now), [now]);
  // All matches are looked through.
  const same = useMemo(
    () => (pairing === null || now.replaces !== null ? [] : sameDayMatches(state, pairing, null)),
    [state, pairing, now.replaces],
  );
  const isOurs = (player: PlayerId): boolean => state.players.get(player)?.standing === "member";

  useLayoutEffect(() => {
    const field = focusNext.current;
    const found = field === null ? null : root.current?.querySelector<HTMLElement>(`[data-field="${field}"]`);
    if (found == null) return;
    focusNext.current = null;
    found.focus();
  });

  const change = (next: EntryForm): void => {
    setRefusal(null);
    // The next match has begun: the last one is in the list with its own Undo, and on a phone the bar would cover the fields.
    saved.value = null;
    form.value = prefilled(next, (player, day) => {
      const advice = day === now.date ? advise(player) : adviseOff(desk, player, day);
      return advice.from === "nobody" ? null : advice.off;
    });
  };

  const pick = (seat: Seat, person: Person, goOn: boolean): void => {
    change(withSeat(form.value, seat, { player: person.player, text: person.name, off: "", offTyped: false }));
    if (goOn) focusNext.current = afterPick(form.value, seat);
  };

  const addVisitor = (
    seat: Seat,
    given: { readonly name: string; readonly club: string; readonly handicap: number },
  ) => {
    const player = randomId() as PlayerId;
    const { name, club: home, handicap } = given;
    const visitors = [...form.value.visitors, { player, name, club: home }];
    const seated = withSeat(form.value, seat, { player, text: name, off: String(handicap), offTyped: true });
    setVisitorFor(null);
    form.value = { ...seated, visitors };
    focusNext.current = afterPick(form.value, seat);
  };

  /** The sentence for a report, own side first, with a visitor's name though the record has just come to know it. */
  const sentence = (facts: Parameters<typeof matchWords>[0]): string =>
    matchWords(ownSideFirst(facts, isOurs), (player) => known.get(player)?.short ?? shortNameOf(player));

  /** Reads the form as it is by now: the key that saves may have settled a name just before. */
  async function save(): Promise<void> {
    // Not the state: a key pressed twice comes before the screen is drawn again.
    if (saving.current) return;
    const typed = form.value;
    const known = judged.current;
    const isJudged = known?.form === typed && known.version === version.peek() && known.today === desk.today();
    const sound = isJudged ? known.checked : check(typed);
    if (!sound.ok) {
      setTries(tries + 1);
      focusNext.current = sound.fault[0]?.field ?? null;
      return;
    }
    const { body } = sound.value;
    const did = sentence({ ...body, excluded: body.excluded === true });
    saving.current = true;
    // Not drawn where it is saved before anybody could have seen it.
    const slow = setTimeout(() => setBusy(true), SLOW_MS);
    const answer = await write(sound.value);
    clearTimeout(slow);
    if (answer.ok) saved.value = { sentence: entryWords.saved(did), undo: { book: club, entries: answer.value, did } };
    // A form of one match, as of a correction or a score pad, ends with another screen and with what is kept of it: at once.
    const ended = answer.ok && form === typing.form ? await said.drawn() : null;
    saving.current = false;
    // From here on without a break, so that all of it is drawn at once.
    setBusy(false);
    setRefusal(answer.ok ? null : answer.fault);
    if (answer.ok) {
      const entry = answer.value.at(-1);
      if (entry !== undefined) typing.session.value = [...typing.session.value, entry];
      setTries(0);
      form.value = nextForm(typed);
      if (ended !== "focus-taken") focusNext.current = "player-0";
      done();
    }
    tellNow();
    if (answer.ok) onceDrawn(() => remember(club.device, typed));
  }

  /** Names first: a name without a record is harmless, a record without a name is a puzzle. */
  async function write({ drafts, joining }: Checked): Promise<Result<readonly EntryId[], Message>> {
    try {
      if (joining.length > 0)
        await club.roster.write(new Map(joining.map((person) => [person.player, recordOf(person)])));
      const adorned = drafts.map(
        (draft): Draft => (draft.kind === "match-reported" ? { ...draft, body: adorn(draft.body) } : draft),
      );
      const answer = await club.append(adorned);
      return answer.ok ? answer : fail(messageOf(answer.fault));
    } catch (cause) {
      return fail(messageOf({ type: "not-saved", cause: String(cause) }));
    }
  }

  const recordOf = ({ player, name, short }: Checked["joining"][number]): RosterRecord =>
    rosterRecordOf(desk, player) ?? { name, short };

  async function withdraw(entry: EntryId, reason: string, told: string): Promise<void> {
    const answer = await club.append([{ kind: "entry-withdrawn", body: { withdraws: entry, reason } }]);
    setRefusal(answer.ok ? null : messageOf(answer.fault));
    if (!answer.ok) return;
    saved.value = { sentence: told, undo: null };
    focusNext.current = "player-0";
    tellNow();
  }

  const undo = ({ report }: Entered): Promise<void> => {
    const corrected = correctedBy(report.entry) !== undefined;
    const told = sentence(report.facts);
    return withdraw(
      report.entry,
      entryWords.undoReason,
      corrected ? entryWords.undoneCorrection(told) : entryWords.undone(told),
    );
  };

  function correctedBy(id: EntryId): EntryId | undefined {
    for (const { entry } of club.counted()) {
      if (entry.id === id) return entry.kind === "match-reported" ? entry.body.replaces : undefined;
    }
    return undefined;
  }

  const enteredHere = ({ match }: SameDayMatch): boolean => match.reports.some(({ by }) => by === club.device);
  const correctable = ({ match, alike }: SameDayMatch): EntryId | null => {
    if (!alike && match.slot !== null) return null;
    const report = match.reports.find(({ by, origin }) => origin === club.id && mayCorrectHere(club, by));
    return report?.entry ?? null;
  };

  return {
    desk,
    club,
    state,
    form: now,
    people,
    known,
    rules,
    busy,
    refusal,
    root,
    early: said.early,
    same,
    isOurs,
    advise,
    change,
    pick,
    addVisitor,
    save,
    undo,
    visitorFor,
    setVisitorFor,
    enteredHere,
    correctable,
    faults,
    extras: extrasOf(rules, now, readOffs(now, rules)),
    body: checked.ok ? checked.value.body : null,
    preview,
    nextNumber: pairing === null ? 1 : nextNumber(state, pairing, null),
    nameIn: (player: PlayerId): string => known.get(player)?.name ?? nameOf(player),
    shortIn: (player: PlayerId): string => known.get(player)?.short ?? shortNameOf(player),
    focus: (field: Field): void => {
      root.current?.querySelector<HTMLElement>(`[data-field="${field}"]`)?.focus();
    },
    takenBy: (seat: Seat): ReadonlySet<PlayerId> => {
      const taken = new Set(playersIn(now));
      const own = now.seats[seat].player;
      if (own !== null) taken.delete(own);
      return taken;
    },
    errorAt: (field: Field): FormFault | undefined => faults.find((fault) => fault.field === field),
    takeBack: (entry: EntryId, told: string): Promise<void> =>
      withdraw(entry, entryWords.takeBackReason, told).then(done),
  };
}

export type Entry = ReturnType<typeof useEntry>;

/** A form against the record of a moment: both are as they were, so is this. */
interface Judged {
  readonly form: EntryForm;
  readonly version: number;
  readonly today: Day;
  readonly checked: ReturnType<typeof checkForm>;
  readonly preview: ReturnType<typeof previewMatch> | null;
}

/** After a name: its handicap when nobody knows it, else the next empty name, else the score. */
function afterPick(form: EntryForm, seat: Seat): Field {
  if (form.seats[seat].off === "") return `off-${seat}`;
  const open = seatsOf(form).find((one) => form.seats[one].player === null);
  return open === undefined ? "score-0-0" : `player-${open}`;
}

/** Enough of a report to look for others of the same players; null until every seat has somebody. */
function pairingBody(form: EntryForm): MatchReported | null {
  const seats = seatsOf(form).map((seat) => form.seats[seat].player);
  if (seats.some((player) => player === null) || form.date === "") return null;
  const lineups = (seats as PlayerId[]).map((player) => ({ player, off: 0 }));
  const half = lineups.length / 2;
  const { date, play, format } = form;
  const sides: MatchReported["sides"] = [lineups.slice(0, half), lineups.slice(half)];
  return { date, occasion: form.occasion ?? "ad-hoc", n: 1, play, format, sides, games: [] };
}
