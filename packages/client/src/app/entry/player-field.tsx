/**
 * A player by a few letters: the combobox of the ARIA Authoring Practices (https://www.w3.org/WAI/ARIA/apg/patterns/combobox/), with
 * the focus staying in the field and the option in hand named by `aria-activedescendant`. Rejected: <datalist>, which shows no
 * handicap, no club, takes any text and behaves differently in each browser.
 */
import type { PlayerId } from "@sward/core";
import { useId, useRef, useState } from "preact/hooks";
import { entryWords } from "../words/entry.ts";
import type { Seat } from "./form.ts";
import type { Person } from "./people.ts";
import { exactPerson, findPeople } from "./people.ts";

const MOST = 8;

export interface PlayerFieldProps {
  readonly seat: Seat;
  readonly label: string;
  readonly text: string;
  readonly player: PlayerId | null;
  readonly people: readonly Person[];
  /** Players in other seats of the match. */
  readonly taken: ReadonlySet<PlayerId>;
  readonly handicapOf: (player: PlayerId) => number | null;
  readonly error: string | null;
  readonly onType: (text: string) => void;
  /** `goOn`: picked with Enter or by tapping, so the focus may go on; not when the field is being left. */
  readonly onPick: (person: Person, goOn: boolean) => void;
  /** Null where only those who are known can be chosen. */
  readonly onVisitor: ((name: string) => void) | null;
  /** A digit in the empty field. Returns whether it meant something. */
  readonly onDigit: (digit: number) => boolean;
}

type Option =
  | { readonly type: "person"; readonly person: Person }
  | { readonly type: "visitor"; readonly name: string };

export function PlayerField(props: PlayerFieldProps) {
  const { seat, label, text, player, people, taken, handicapOf, error } = props;
  const [open, setOpen] = useState(false);
  const [active, setActive] = useState(0);
  const id = useId();
  const input = useRef<HTMLInputElement>(null);
  const typed = player === null ? text.trim() : "";
  const options: readonly Option[] = open ? optionsFor(people, typed, taken, props.onVisitor !== null) : [];
  const found = options.filter(({ type }) => type === "person").length;
  const at = Math.min(active, options.length - 1);

  const show = (next: boolean): void => {
    setOpen(next);
    setActive(0);
  };
  const take = (option: Option, goOn: boolean): void => {
    show(false);
    if (option.type === "person") props.onPick(option.person, goOn);
    else if (goOn) props.onVisitor?.(option.name);
  };
  const keyDown = (event: KeyboardEvent): void => {
    const option = options[at];
    if (event.key === "ArrowDown" || event.key === "ArrowUp") {
      event.preventDefault();
      if (!open) show(true);
      else setActive((at + (event.key === "ArrowDown" ? 1 : options.length - 1)) % Math.max(1, options.length));
    } else if (event.key === "Enter" && (event.ctrlKey || event.metaKey)) {
      left();
    } else if (event.key === "Enter" && !open && player === null) {
      event.preventDefault();
      event.stopPropagation();
      show(true);
    } else if (event.key === "Enter" && option !== undefined) {
      event.preventDefault();
      // Handled here: the form would take it for "next field".
      event.stopPropagation();
      take(option, true);
    } else if (event.key === "Tab" && typed !== "" && option?.type === "person") {
      take(option, false);
    } else if (event.key === "Escape" && open) {
      event.preventDefault();
      event.stopPropagation();
      show(false);
    } else if (/^[1-9]$/.test(event.key) && text === "" && !event.ctrlKey && !event.altKey && !event.metaKey) {
      if (props.onDigit(Number(event.key))) event.preventDefault();
    }
  };
  /** Left with a name typed out, or with one name in hand: that is who was meant. */
  const left = (): void => {
    const person = typed === "" ? undefined : (exactPerson(people, typed) ?? onlyPerson(options));
    show(false);
    // Also one who is in the match already: saving then says so, by name.
    if (person !== undefined) props.onPick(person, false);
  };

  return (
    <div class="field player-field">
      <label for={id}>{label}</label>
      <input
        ref={input}
        id={id}
        data-field={`player-${seat}`}
        type="text"
        role="combobox"
        autocomplete="off"
        autocapitalize="words"
        spellcheck={false}
        value={text}
        aria-expanded={open}
        aria-controls={`${id}-list`}
        aria-autocomplete="list"
        aria-activedescendant={open && at >= 0 ? `${id}-${at}` : undefined}
        aria-invalid={error === null ? undefined : "true"}
        aria-describedby={error === null ? undefined : `${id}-error`}
        onInput={(event) => {
          props.onType(event.currentTarget.value);
          show(event.currentTarget.value.trim() !== "");
        }}
        onFocus={(event) => event.currentTarget.select()}
        onClick={() => player === null && show(true)}
        onKeyDown={keyDown}
        onBlur={left}
      />
      <div
        class="people"
        id={`${id}-list`}
        role="listbox"
        aria-label={entryWords.names}
        hidden={!open || options.length === 0}
      >
        {options.map((option, place) => (
          // biome-ignore lint/a11y/useKeyWithClickEvents: keys go to the field, which keeps the focus and names the option in hand
          <div
            key={option.type === "person" ? option.person.player : "visitor"}
            id={`${id}-${place}`}
            role="option"
            tabIndex={-1}
            aria-selected={place === at}
            onPointerDown={(event) => event.preventDefault()}
            onClick={() => take(option, true)}
          >
            {option.type === "visitor" ? (
              <span>{entryWords.addVisitor(option.name)}</span>
            ) : (
              <PersonLine person={option.person} handicap={handicapOf(option.person.player)} />
            )}
          </div>
        ))}
      </div>
      <div class="unseen" role="status">
        {open && typed !== "" ? entryWords.found(found) : ""}
      </div>
      <div aria-live="polite">
        {error !== null && (
          <div class="error" id={`${id}-error`}>
            {error}
          </div>
        )}
      </div>
    </div>
  );
}

function PersonLine({ person, handicap }: { readonly person: Person; readonly handicap: number | null }) {
  const { name, club, standing } = person;
  const about = [standing === "member" ? "" : entryWords.standing[standing], club ?? ""].filter((word) => word !== "");
  return (
    <>
      <span class="people-name">
        {name}
        {about.length > 0 && <span class="quiet small"> {about.join(", ")}</span>}
      </span>
      {handicap !== null && <span class="people-off">{entryWords.off(handicap)}</span>}
    </>
  );
}

function optionsFor(
  people: readonly Person[],
  typed: string,
  taken: ReadonlySet<PlayerId>,
  visitors: boolean,
): readonly Option[] {
  const found = findPeople(people, typed, taken, MOST).map((person): Option => ({ type: "person", person }));
  return typed.length < 2 || !visitors ? found : [...found, { type: "visitor", name: typed }];
}

function onlyPerson(options: readonly Option[]): Person | undefined {
  const people = options.flatMap((option) => (option.type === "person" ? [option.person] : []));
  return people.length === 1 ? people[0] : undefined;
}
