/** A game that is a match of a league: the fixture settles its length, its play and how many a side, home side first. */
import { byCodeUnits } from "@sward/core";
import type { Book } from "../../book/book.ts";
import { showDayShort } from "../dates.ts";
import { useDesk } from "../desk-store.ts";
import { clubNameIn } from "../league/fixture-list.tsx";
import { ownClub, viewSlots } from "../league/slots.ts";
import { Field } from "../parts/field.tsx";
import { lawnWords } from "../words/lawn.ts";
import { leagueWords } from "../words/league.ts";
import type { SetupForm } from "./setup-form.ts";
import { withSlot } from "./setup-form.ts";

export interface SlotChoiceProps {
  readonly form: SetupForm;
  readonly onChange: (form: SetupForm) => void;
}

export function SlotChoice({ form, onChange }: SlotChoiceProps) {
  const { leagues } = useDesk();
  const open = leagues.flatMap(openSlots);
  if (open.length === 0) return null;
  const keyOf = ({ book, fixture, number }: NonNullable<SetupForm["slot"]>): string => `${book}/${fixture}/${number}`;
  return (
    <Field label={lawnWords.setup.slot}>
      {(control) => (
        <select
          {...control}
          value={form.slot === null ? "" : keyOf(form.slot)}
          onChange={(event) => {
            const found = open.find(({ slot }) => keyOf(slot) === event.currentTarget.value);
            onChange(withSlot(form, found?.slot ?? null, found?.fixture));
          }}
        >
          <option value="">{lawnWords.setup.noSlot}</option>
          {open.map(({ slot, title }) => (
            <option key={keyOf(slot)} value={keyOf(slot)}>
              {title}
            </option>
          ))}
        </select>
      )}
    </Field>
  );
}

/** Matches of our fixtures that nobody has reported, the latest fixture first. */
function openSlots(league: Book) {
  const own = ownClub(league);
  const name = clubNameIn(league);
  return [...league.state().fixtures.values()]
    .filter(({ home, away }) => own === home || own === away)
    .sort((a, b) => byCodeUnits(b.date, a.date) || byCodeUnits(a.fixture, b.fixture))
    .flatMap((fixture) => {
      const title = `${leagueWords.versus(name(fixture.home), name(fixture.away))}, ${showDayShort(fixture.date)}`;
      return viewSlots(league, fixture)
        .filter(({ status }) => status.type === "not-reported")
        .map(({ number }) => ({
          fixture,
          slot: { book: league.id, fixture: fixture.fixture, number },
          title: lawnWords.setup.slotOf(title, number),
        }));
    });
}
