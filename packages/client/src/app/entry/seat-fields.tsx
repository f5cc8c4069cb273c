/** One seat of the match: who, and the handicap played off, with a word when it is not the one the record gives. */
import type { PlayerId } from "@sward/core";
import { useId } from "preact/hooks";
import { entryWords } from "../words/entry.ts";
import { words } from "../words.ts";
import { readWhole } from "./check.ts";
import type { EntryForm, Seat } from "./form.ts";
import type { Person } from "./people.ts";
import type { Advice } from "./played-off.ts";
import { PlayerField } from "./player-field.tsx";

export interface SeatFieldsProps {
  readonly seat: Seat;
  readonly form: EntryForm;
  readonly people: readonly Person[];
  readonly taken: ReadonlySet<PlayerId>;
  readonly advise: (player: PlayerId) => Advice;
  readonly errors: { readonly player: string | null; readonly off: string | null };
  readonly onType: (text: string) => void;
  readonly onPick: (person: Person, goOn: boolean) => void;
  readonly onOff: (text: string) => void;
  readonly onVisitor: (name: string) => void;
  readonly onDigit: (digit: number) => boolean;
}

export function SeatFields({ seat, form, advise, errors, ...rest }: SeatFieldsProps) {
  const id = useId();
  const { text, player, off } = form.seats[seat];
  const advice = player === null ? null : advise(player);
  const note = noteOn(advice, readWhole(off));
  return (
    <div class="seat">
      <div class="seat-fields">
        <PlayerField
          {...rest}
          seat={seat}
          label={entryWords.role(seat)}
          text={text}
          player={player}
          error={errors.player}
          handicapOf={(one) => {
            const known = advise(one);
            return known.from === "nobody" ? null : known.off;
          }}
        />
        <div class="field off-field">
          <label for={id}>{words.handicap}</label>
          <input
            id={id}
            data-field={`off-${seat}`}
            aria-label={entryWords.handicapOf(seat)}
            type="text"
            inputMode="text"
            autocomplete="off"
            value={off}
            aria-invalid={errors.off === null ? undefined : "true"}
            aria-describedby={`${id}-note`}
            onInput={(event) => rest.onOff(event.currentTarget.value)}
            onFocus={(event) => event.currentTarget.select()}
          />
        </div>
      </div>
      <div id={`${id}-note`} aria-live="polite">
        {errors.off !== null && <p class="error">{errors.off}</p>}
        {errors.off === null && note !== "" && <p class="small quiet">{note}</p>}
      </div>
    </div>
  );
}

function noteOn(advice: Advice | null, off: number | null): string {
  if (advice === null) return "";
  if (advice.from !== "nobody" && off !== null && off !== advice.off) return entryWords.differs(off, advice);
  return advice.from === "nobody" && off !== null ? "" : entryWords.advice(advice);
}
