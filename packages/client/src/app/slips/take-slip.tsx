/** What a slip has, who signed it, who of it is ours, and taking it in. */
import type { PlayerId } from "@sward/core";
import { matchFacts } from "@sward/core";
import { useMemo, useState } from "preact/hooks";
import type { Message } from "../../messages.ts";
import { messageOf } from "../../messages.ts";
import type { Slip, SlipReport, TakenSlip } from "../../record/slip.ts";
import { membersIn, takeSlip } from "../../record/slip.ts";
import { sideWords } from "../attention/accounts.ts";
import { showDay } from "../dates.ts";
import { nameOf, useDesk, version } from "../desk-store.ts";
import { Button } from "../parts/button.tsx";
import { Field } from "../parts/field.tsx";
import { Refused } from "../parts/refused.tsx";
import { saved } from "../saved.ts";
import { scoreWords } from "../words/match.ts";
import { slipWords } from "../words/slips.ts";
import { words as common } from "../words.ts";

interface Props {
  readonly slip: Slip;
  readonly onDone: (done: TakenSlip) => void;
}

export function TakeSlip({ slip, onDone }: Props) {
  const { club } = useDesk();
  const state = club.state();
  const [player, setPlayer] = useState("");
  const [is, setIs] = useState("");
  const [missing, setMissing] = useState(false);
  const [busy, setBusy] = useState(false);
  const [refused, setRefused] = useState<Message | null>(null);
  const words = slipWords.in;
  const ours = useMemo(() => membersIn(state, slip), [slip, version.value]);
  const here = useMemo(() => new Set([...club.counted()].map(({ entry }) => entry.id)), [slip, version.value]);
  const asks = ours.size === 0;

  const take = async (event: Event): Promise<void> => {
    event.preventDefault();
    setMissing(asks && (player === "" || is === ""));
    if (asks && (player === "" || is === "")) return;
    setBusy(true);
    const as = asks ? { player: player as PlayerId, is: is as PlayerId } : null;
    const taken = await takeSlip(club, slip, as);
    setBusy(false);
    setRefused(taken.ok ? null : messageOf(taken.fault));
    if (!taken.ok) return;
    const { entries, added } = taken.value;
    if (entries !== null) saved.value = { sentence: words.sentence(added, slip.name), undo: { book: club, entries } };
    onDone(taken.value);
  };

  /** Nobody has a name in a slip: told apart by what they played off, and when. */
  const seatTold = (id: PlayerId): string => {
    const found = slip.reports.find(({ entry }) => entry.body.sides.flat().some((seat) => seat.player === id));
    const off = found?.entry.body.sides.flat().find((seat) => seat.player === id)?.off ?? 0;
    return words.seat(nameOf(id), off, found?.entry.body.date ?? "");
  };
  const theirs = [...new Set(slip.reports.flatMap(({ entry }) => entry.body.sides.flat().map((seat) => seat.player)))];
  const members = [...state.players.values()].filter(({ standing }) => standing !== "visitor");
  return (
    <form onSubmit={(event) => void take(event)} noValidate>
      <p>{words.from(slip.name, slip.reports.length)}</p>
      <ul>
        {slip.reports.map((report) => (
          <Result key={report.entry.id} report={report} slip={slip} ours={ours} here={here.has(report.entry.id)} />
        ))}
      </ul>
      {asks && (
        <>
          <Choice
            label={words.who}
            hint={words.whoHint}
            among={theirs}
            named={seatTold}
            value={player}
            choose={setPlayer}
          />
          <Choice
            label={words.member}
            among={members.map((one) => one.player)}
            named={nameOf}
            value={is}
            choose={setIs}
            error={missing && (player === "" || is === "") ? words.missing : null}
          />
        </>
      )}
      <Refused message={refused} />
      <Button look="main" type="submit" disabled={busy}>
        {words.take}
      </Button>
    </form>
  );
}

interface ChoiceProps {
  readonly label: string;
  readonly hint?: string;
  readonly error?: string | null;
  readonly among: readonly PlayerId[];
  readonly named: (player: PlayerId) => string;
  readonly value: string;
  readonly choose: (player: string) => void;
}

const Choice = ({ label, hint, error = null, among, named, value, choose }: ChoiceProps) => (
  <Field label={label} hint={hint} error={error}>
    {(control) => (
      <select {...control} value={value} onChange={(event) => choose(event.currentTarget.value)}>
        <option value="">{slipWords.in.choose}</option>
        {among.map((player) => (
          <option key={player} value={player}>
            {named(player)}
          </option>
        ))}
      </select>
    )}
  </Field>
);

interface ResultProps {
  readonly report: SlipReport;
  readonly slip: Slip;
  readonly ours: ReadonlyMap<PlayerId, PlayerId>;
  readonly here: boolean;
}

function Result({ report: { entry, by, uncounted }, slip, ours, here }: ResultProps) {
  const words = slipWords.in;
  const facts = matchFacts(entry.body, (id) => ours.get(id) ?? id);
  return (
    <li>
      {showDay(facts.date)}: {facts.sides.map((side) => sideWords(side, nameOf)).join(` ${common.versus} `)},{" "}
      {scoreWords(facts.games)}{" "}
      <span class="quiet">
        ({uncounted === null ? words.signed(by, slip.state.devices.get(by)?.role ?? null) : words.not}
        {here && `; ${words.here}`})
      </span>
    </li>
  );
}
