/** A league officer's ruling on a match: which report counts, or none, and why. */
import type { EntryId, KeyId, Match } from "@sward/core";
import { useState } from "preact/hooks";
import type { Book } from "../../book/book.ts";
import type { Message } from "../../messages.ts";
import { deviceName } from "../desk-store.ts";
import { Button } from "../parts/button.tsx";
import { Field } from "../parts/field.tsx";
import { Refused } from "../parts/refused.tsx";
import { save } from "../saved.ts";
import { leagueWords } from "../words/league.ts";
import type { SlotPlace } from "./slot-form.ts";
import type { SlotView } from "./slots.ts";

const words = leagueWords.ruling;

/** As long as a ruling's reason may be in the record. */
const LONGEST = 200;

export interface RulingFormProps {
  readonly league: Book;
  readonly slot: SlotView;
  readonly place: SlotPlace;
  readonly clubName: (club: KeyId) => string;
}

export function RulingForm({ league, slot, clubName }: RulingFormProps) {
  const [accepts, setAccepts] = useState<EntryId | null | undefined>(undefined);
  const [reason, setReason] = useState("");
  const [tried, setTried] = useState(false);
  const [refused, setRefused] = useState<Message | null>(null);
  const { match, number, reports } = slot;
  if (match === null) return null;
  const enter = async (event: Event): Promise<void> => {
    event.preventDefault();
    setTried(true);
    if (accepts === undefined || reason.trim() === "") return;
    const body = { match: match.key, accepts, reason: reason.trim() };
    setRefused(await save(league, [{ kind: "ruling-made", body }], words.saved(number)));
  };
  return (
    <details class="ruling">
      <summary>{words.title(number)}</summary>
      <form noValidate onSubmit={(event) => void enter(event)}>
        <fieldset>
          <legend>{words.which}</legend>
          {reports.map(({ report, club }) => (
            <label class="choice" key={report.entry}>
              <input
                type="radio"
                name={`ruling-${number}`}
                checked={accepts === report.entry}
                onChange={() => setAccepts(report.entry)}
              />
              {words.accept(club === null ? leagueWords.theLeague : clubName(club))}
            </label>
          ))}
          <label class="choice">
            <input
              type="radio"
              name={`ruling-${number}`}
              checked={accepts === null}
              onChange={() => setAccepts(null)}
            />
            {words.none}
          </label>
          <div aria-live="polite">{tried && accepts === undefined && <p class="error">{words.noChoice}</p>}</div>
        </fieldset>
        <Field
          label={words.reason}
          hint={words.reasonHint}
          error={tried && reason.trim() === "" ? words.noReason : null}
        >
          {(control) => (
            <textarea
              {...control}
              maxLength={LONGEST}
              rows={2}
              value={reason}
              onInput={(event) => setReason(event.currentTarget.value)}
            />
          )}
        </Field>
        <Refused message={refused} />
        <Button look="main" type="submit">
          {words.save}
        </Button>
      </form>
    </details>
  );
}

/** The ruling that stands on a match, with its reason. */
export function RulingMade({ league, match }: { readonly league: Book; readonly match: Match }) {
  if (match.ruling === null) return null;
  for (const { entry } of league.counted()) {
    if (entry.id === match.ruling && entry.kind === "ruling-made") {
      return <p>{words.made(deviceName(entry.author), entry.body.reason)}</p>;
    }
  }
  return null;
}
