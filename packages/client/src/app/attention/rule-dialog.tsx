/** The handicapper, or the league, says which report counts, or that none does, and why. */
import type { EntryId, Match } from "@sward/core";
import { useState } from "preact/hooks";
import type { Book } from "../../book/book.ts";
import type { Message } from "../../messages.ts";
import { Button } from "../parts/button.tsx";
import { Dialog } from "../parts/dialog.tsx";
import { Field } from "../parts/field.tsx";
import { Refused } from "../parts/refused.tsx";
import { save } from "../saved.ts";
import { laterWords } from "../words/attention-later.ts";
import { rulingWords as ruling } from "../words/attention-seldom.ts";
import { words } from "../words.ts";
import { gamesWords } from "./accounts.ts";
import { teller } from "./teller.ts";

export interface RuleDialogProps {
  readonly book: Book;
  readonly match: Match;
  readonly onClose: () => void;
}

export function RuleDialog({ book, match, onClose }: RuleDialogProps) {
  const [choice, setChoice] = useState<EntryId | "none" | null>(null);
  const [reason, setReason] = useState("");
  const [tried, setTried] = useState(false);
  const [fault, setFault] = useState<Message | null>(null);
  const submit = async (event: Event): Promise<void> => {
    event.preventDefault();
    setTried(true);
    if (choice === null || reason.trim() === "") return;
    const accepts = choice === "none" ? null : choice;
    const refused = await save(
      book,
      [{ kind: "ruling-made", body: { match: match.key, accepts, reason: reason.trim() } }],
      ruling.done,
    );
    setFault(refused);
    if (refused === null) onClose();
  };

  return (
    <Dialog title={ruling.title} onClose={onClose}>
      <form onSubmit={(event) => void submit(event)} noValidate>
        <fieldset>
          <legend class="unseen">{ruling.title}</legend>
          {match.reports.map((report) => (
            <label key={report.entry} class="choice">
              <input
                type="radio"
                name="ruling"
                checked={choice === report.entry}
                onChange={() => setChoice(report.entry)}
              />
              <span>
                {laterWords.reportBy(teller(book, report))}: <strong>{gamesWords(report.facts.games)}</strong>
              </span>
            </label>
          ))}
          <label class="choice">
            <input type="radio" name="ruling" checked={choice === "none"} onChange={() => setChoice("none")} />
            <span>{ruling.none}</span>
          </label>
          <div aria-live="polite" class="field">
            {tried && choice === null && <p class="error">{ruling.choiceMissing}</p>}
          </div>
        </fieldset>
        <Field
          label={ruling.reason}
          hint={ruling.reasonHint}
          error={tried && reason.trim() === "" ? ruling.reasonMissing : null}
        >
          {(control) => (
            <input
              {...control}
              maxLength={200}
              value={reason}
              onInput={(event) => setReason(event.currentTarget.value)}
            />
          )}
        </Field>
        <Refused message={fault} />
        <div class="row">
          <Button look="main" type="submit">
            {ruling.save}
          </Button>
          <Button onClick={onClose}>{words.cancel}</Button>
        </div>
      </form>
    </Dialog>
  );
}
