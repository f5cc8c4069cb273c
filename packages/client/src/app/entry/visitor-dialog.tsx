/** A visitor who is in no list yet: a name, a club and a handicap, and the match goes on. Saved together with the match. */
import type { RuleSet } from "@sward/core";
import { triggerOf } from "@sward/core";
import { useState } from "preact/hooks";
import { Button } from "../parts/button.tsx";
import { Dialog } from "../parts/dialog.tsx";
import { Field } from "../parts/field.tsx";
import { entryWords } from "../words/entry.ts";
import { words } from "../words.ts";
import { readWhole } from "./check.ts";

export interface VisitorDialogProps {
  readonly name: string;
  readonly rules: RuleSet | undefined;
  readonly onAdd: (visitor: { readonly name: string; readonly club: string; readonly handicap: number }) => void;
  readonly onClose: () => void;
}

/** As long as a roster's name and a record's club may be. */
const LONGEST = 80;

export function VisitorDialog({ rules, onAdd, onClose, ...given }: VisitorDialogProps) {
  const [name, setName] = useState(given.name);
  const [club, setClub] = useState("");
  const [handicap, setHandicap] = useState("");
  const [tried, setTried] = useState(false);
  const { visitor } = entryWords;
  const off = readWhole(handicap);
  const wrong = {
    name: name.trim() === "" ? visitor.noName : null,
    handicap:
      off === null
        ? visitor.noHandicap
        : rules !== undefined && triggerOf(rules, off) === undefined
          ? visitor.notInTable(off)
          : null,
  };
  const add = (event: Event): void => {
    event.preventDefault();
    event.stopPropagation();
    setTried(true);
    if (wrong.name !== null || wrong.handicap !== null || off === null) return;
    onAdd({ name: name.trim(), club: club.trim(), handicap: off });
  };
  return (
    <Dialog title={visitor.title} onClose={onClose}>
      <form noValidate onSubmit={add}>
        <p class="quiet">{visitor.lead}</p>
        <Field label={visitor.name} error={tried ? wrong.name : null}>
          {(control) => (
            <input
              {...control}
              autocomplete="off"
              maxLength={LONGEST}
              value={name}
              onInput={(event) => setName(event.currentTarget.value)}
            />
          )}
        </Field>
        <Field label={visitor.club} hint={visitor.clubHint}>
          {(control) => (
            <input
              {...control}
              autocomplete="off"
              maxLength={LONGEST}
              value={club}
              onInput={(event) => setClub(event.currentTarget.value)}
            />
          )}
        </Field>
        <Field label={visitor.handicap} error={tried ? wrong.handicap : null}>
          {(control) => (
            <input
              {...control}
              class="short-number"
              autocomplete="off"
              value={handicap}
              onInput={(event) => setHandicap(event.currentTarget.value)}
            />
          )}
        </Field>
        <div class="row">
          <Button look="main" type="submit">
            {visitor.add}
          </Button>
          <Button onClick={onClose}>{words.cancel}</Button>
        </div>
      </form>
    </Dialog>
  );
}
