/** Who the player is here, from which day on, and taking the record in. Undoing takes back all that was saved. */
import type { PlayerId } from "@sward/core";
import { useMemo, useState } from "preact/hooks";
import type { Message } from "../../messages.ts";
import type { TakenIn } from "../../record/taking.ts";
import { isDay } from "../card/handicap-setting.ts";
import { nameOf, useDesk, version } from "../desk-store.ts";
import type { NameForm, NameFormFaults } from "../name-form.ts";
import { nameFaults, recordOf } from "../name-form.ts";
import { rosterRecordOf } from "../names.ts";
import { Button } from "../parts/button.tsx";
import { Field } from "../parts/field.tsx";
import { NameFields } from "../parts/name-fields.tsx";
import { Notice } from "../parts/notice.tsx";
import { Refused } from "../parts/refused.tsx";
import { saved } from "../saved.ts";
import { membersWords } from "../words/members.ts";
import { movingWords } from "../words/moving.ts";
import { words as common } from "../words.ts";
import type { FoundRecord } from "./moving-model.ts";
import { takeFound, whoMayBe } from "./moving-model.ts";

interface Props {
  readonly found: FoundRecord;
  readonly onDone: (done: TakenIn) => void;
}

export function TakeForm({ found, onDone }: Props) {
  const desk = useDesk();
  const state = desk.club.state();
  const [as, setAs] = useState<PlayerId | null>(null);
  const [cutover, setCutover] = useState(found.cutover);
  const [form, setForm] = useState<NameForm>({ name: "", short: "", junior: false });
  const [faults, setFaults] = useState<NameFormFaults | null>(null);
  const [badDay, setBadDay] = useState(false);
  const [refused, setRefused] = useState<Message | null>(null);
  const [nameFault, setNameFault] = useState<string | null>(null);
  const [busy, setBusy] = useState(false);
  const words = movingWords.form;
  // Each is asked about every match: not with each letter of a name.
  const may = useMemo(() => whoMayBe(state, desk.club, found), [found, version.value]);
  const known = as ?? found.here;
  const isNamed = known !== null && rosterRecordOf(desk, known) !== undefined;

  const submit = async (event: Event): Promise<void> => {
    event.preventDefault();
    const wrong = isNamed ? null : nameFaults(form);
    setFaults(wrong);
    setBadDay(!isDay(cutover));
    if (wrong !== null || !isDay(cutover)) return;
    setBusy(true);
    const taken = await takeFound(desk.club, found, { cutover, as });
    setBusy(false);
    setRefused(taken.ok ? null : taken.fault);
    if (!taken.ok) return;
    try {
      if (!isNamed) await desk.club.roster.write(new Map([[taken.value.player, recordOf(form)]]));
    } catch (cause) {
      setNameFault(String(cause));
    }
    const { entries, player } = taken.value;
    if (entries !== null)
      saved.value = { sentence: movingWords.done.sentence(nameOf(player)), undo: { book: desk.club, entries } };
    onDone(taken.value);
  };

  return (
    <form class="moving-form" onSubmit={(event) => void submit(event)} noValidate>
      <Field label={words.who}>
        {(control) => (
          <select
            {...control}
            value={as ?? ""}
            onChange={(event) => {
              const chosen = event.currentTarget.value;
              setAs(chosen === "" ? null : (chosen as PlayerId));
            }}
          >
            <option value="">{found.here === null ? words.fresh : words.same(nameOf(found.here))}</option>
            {may.map((player) => (
              <option key={player} value={player}>
                {words.other(nameOf(player), membersWords.standing[state.players.get(player)?.standing ?? "visitor"])}
              </option>
            ))}
          </select>
        )}
      </Field>
      {!isNamed && <NameFields form={form} faults={faults} change={setForm} />}
      <Field label={words.cutover} hint={words.cutoverHint} error={badDay ? words.badDay : null}>
        {(control) => (
          <input {...control} type="date" value={cutover} onInput={(event) => setCutover(event.currentTarget.value)} />
        )}
      </Field>
      <Refused message={refused} />
      {nameFault !== null && (
        <Notice tone="bad" title={common.nameNotSaved} live>
          <p>{nameFault}</p>
        </Notice>
      )}
      <Button look="main" type="submit" disabled={busy}>
        {words.take}
      </Button>
    </form>
  );
}
