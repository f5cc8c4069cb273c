/** One line of the file in the list. */
import type { PlayerId } from "@sward/core";
import { showDayShort } from "../dates.ts";
import { nameOf } from "../desk-store.ts";
import { Badge } from "../parts/badge.tsx";
import { Button } from "../parts/button.tsx";
import { Field } from "../parts/field.tsx";
import { fieldLabel, filesWords, standingTones, standingWords } from "../words/files.ts";
import { lineFaultWords } from "../words/files-faults.ts";
import { matchWords } from "../words/match.ts";
import { occasionWords, playWords } from "../words/play.ts";
import { words as common, number } from "../words.ts";
import type { LineFault } from "./faults.ts";
import type { FieldName } from "./fields.ts";
import type { Importing } from "./importing.ts";
import type { JudgedLine } from "./judging.ts";
import { withAll, withEntry, without } from "./keyed.ts";

const words = filesWords.preview;

interface Props {
  readonly importing: Importing;
  readonly judged: JudgedLine;
}

export function LineItem({ importing, judged }: Props) {
  const { line, standing, faults, recorded, twin, filled } = judged;
  const name = nameIn(importing);
  const choices = importing.choices.value;
  const leaveOut = (): void => void importing.change({ leftOut: withAll(choices.leftOut, [line]) });
  return (
    <li class={`files-line files-line-${standing}`}>
      <p class="files-line-head">
        <strong>{words.line(line)}</strong> <Badge tone={standingTones[standing]}>{standingWords[standing]}</Badge>{" "}
        <Told importing={importing} judged={judged} />
      </p>
      {recorded !== null && (
        <p>
          {words.recorded(matchWords(recorded.facts, name))} {words.differsIn(recorded.differs)} {words.toCorrect}
        </p>
      )}
      {twin !== null && <p class="quiet">{words.twin(twin)}</p>}
      {standing === "new" && filled.size > 0 && <p class="quiet small">{words.filled}</p>}
      {faults.map((fault) => (
        <FaultField key={`${fault.field} ${fault.type}`} importing={importing} line={line} fault={fault} />
      ))}
      <div class="row">
        {(standing === "faulty" || standing === "differs") && (
          <Button aria-label={words.leaveOutLine(line)} onClick={leaveOut}>
            {words.leaveOut}
          </Button>
        )}
        {standing === "differs" && (
          <Button
            aria-label={words.furtherLine(line)}
            onClick={() => void importing.change({ further: withAll(choices.further, [line]) })}
          >
            {words.further}
          </Button>
        )}
        {standing === "left-out" && (
          <Button
            aria-label={words.takeInLine(line)}
            onClick={() => void importing.change({ leftOut: without(choices.leftOut, line) })}
          >
            {words.takeIn}
          </Button>
        )}
      </div>
    </li>
  );
}

/** What the line says: the match in words, or the cells as they stand. */
function Told({ importing, judged: { line, body } }: Props) {
  if (body === null) {
    const row = importing.taken.value?.table.rows.find((one) => one.line === line);
    return <span class="quiet">{row?.cells.filter((cell) => cell !== "").join(" · ") ?? words.unread}</span>;
  }
  const { date, play, format, occasion, sides } = body;
  const offs = sides.flat().map(({ off }) => number(off));
  return (
    <>
      <span class="files-line-match">
        {matchWords({ ...body, excluded: body.excluded === true }, nameIn(importing))}
      </span>{" "}
      <span class="quiet">
        {showDayShort(date)} {date.slice(0, 4)} · {playWords[play]} ({offs.join(", ")}) · {common.points(format)} ·{" "}
        {occasionWords[occasion]}
      </span>
    </>
  );
}

interface FaultFieldProps {
  readonly importing: Importing;
  readonly line: number;
  readonly fault: LineFault;
}

/** What is answered above for many lines is answered there first; typing it anew here is for the one line. */
function FaultField({ importing, line, fault }: FaultFieldProps) {
  const { field } = fault;
  const type = (text: string): void => {
    const { edits } = importing.choices.value;
    const own = new Map(edits.get(line) ?? new Map<FieldName, string>()).set(field, text);
    void importing.change({ edits: withEntry(edits, line, own) });
  };
  return (
    <Field
      label={
        <>
          <span class="unseen">{words.line(line)}, </span>
          {fieldLabel(field)}
        </>
      }
      error={lineFaultWords(fault)}
    >
      {(control) => (
        <input
          {...control}
          class="files-anew"
          autocomplete="off"
          spellcheck={false}
          value={valueNow(importing, line, field)}
          onChange={(event) => type(event.currentTarget.value)}
        />
      )}
    </Field>
  );
}

function valueNow(importing: Importing, line: number, field: FieldName): string {
  const { columns, edits } = importing.choices.value;
  const at = columns.indexOf(field);
  const row = importing.taken.value?.table.rows.find((one) => one.line === line);
  return edits.get(line)?.get(field) ?? (at === -1 ? "" : (row?.cells[at] ?? ""));
}

const nameIn =
  ({ outcome }: Importing) =>
  (player: PlayerId): string =>
    outcome.value?.people.get(player)?.name ?? nameOf(player);
