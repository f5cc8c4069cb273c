/** The answer to a proposal: accepting sets the handicap in the club's record first, and then answers where it was made. */
import type { EntryId } from "@sward/core";
import { useState } from "preact/hooks";
import { saveInLeague } from "../../league/save.ts";
import type { Message } from "../../messages.ts";
import { messageOf } from "../../messages.ts";
import { effectOf } from "../card/handicap-setting.ts";
import { useDesk } from "../desk-store.ts";
import { rulesOnDay } from "../entry/rules-on.ts";
import { Button } from "../parts/button.tsx";
import { Dialog } from "../parts/dialog.tsx";
import { Field } from "../parts/field.tsx";
import { KeyHints } from "../parts/key-hints.tsx";
import { Prevail } from "../parts/prevail.tsx";
import { Refused } from "../parts/refused.tsx";
import { saved } from "../saved.ts";
import { cardWords } from "../words/card.ts";
import { keyWords } from "../words/keys.ts";
import { proposalWords } from "../words/proposals.ts";
import { words } from "../words.ts";
import type { AnswerFaults } from "./answer-form.ts";
import { answerDraft, answerFaults, isInForce, settingFor, suggestedReason } from "./answer-form.ts";
import { ProposalView } from "./proposal-view.tsx";
import type { SeenProposal } from "./proposals-here.ts";

export interface AnswerDialogProps {
  readonly seen: SeenProposal;
  readonly name: string;
  readonly accepts: boolean;
  readonly onClose: () => void;
}

const { answer: said } = proposalWords;

export function AnswerDialog({ seen, name, accepts, onClose }: AnswerDialogProps) {
  const desk = useDesk();
  const { proposal, member } = seen;
  const today = desk.today();
  const card = member === null ? undefined : desk.club.state().cards.get(member);
  const sets = accepts && card !== undefined && !isInForce(card, seen, today);
  const [form, setForm] = useState({ from: today as string, reason: accepts ? suggestedReason(seen) : "" });
  const [faults, setFaults] = useState<AnswerFaults | null>(null);
  const [refused, setRefused] = useState<Message | null>(null);
  const effect =
    card === undefined
      ? null
      : effectOf(card, rulesOnDay(desk.club.state(), form.from), { ...form, handicap: proposal.handicap });

  const answer = async (): Promise<Message | null> => {
    const book = desk.books.get(seen.book);
    if (book === undefined) return null;
    const drafts = [answerDraft(seen, accepts, form.reason)];
    const setting = sets && card !== undefined ? [settingFor(card, seen, form)] : [];
    if (book === desk.club) {
      const both = await desk.club.append([...setting, ...drafts]);
      if (!both.ok) return messageOf(both.fault);
      done(both.value);
      return null;
    }
    // The handicap first: an answer that says so without it would not be true.
    const set = setting.length === 0 ? null : await desk.club.append(setting);
    if (set !== null && !set.ok) return messageOf(set.fault);
    const told = await saveInLeague(book, drafts, today);
    if (!told.ok) {
      const message = messageOf(told.fault);
      return set === null ? message : { ...message, what: `${said.half} ${message.what}` };
    }
    done(null);
    return null;
  };

  /** What stands in two books is not taken back by one press: a proposal can be answered anew, a handicap set again. */
  const done = (ids: readonly EntryId[] | null): void => {
    const sentence = sets
      ? said.accepted(name, proposal.handicap, form.from)
      : accepts
        ? said.answered
        : said.declined(name);
    saved.value = { sentence, undo: ids === null ? null : { book: desk.club, entries: ids } };
  };

  const submit = async (event: Event): Promise<void> => {
    event.preventDefault();
    const wrong = answerFaults(form);
    setFaults(wrong);
    if (wrong !== null) return;
    const told = await answer();
    setRefused(told);
    if (told === null) onClose();
  };

  return (
    <Dialog title={accepts ? said.acceptTitle(name, proposal.handicap) : said.declineTitle(name)} onClose={onClose}>
      <form noValidate onSubmit={(event) => void submit(event)}>
        <p class="quiet">{accepts ? said.acceptLead : said.declineLead}</p>
        <ProposalView seen={seen} />
        {accepts && !sets && card !== undefined && <p>{said.already}</p>}
        {sets && (
          <>
            <Field label={cardWords.set.from} hint={cardWords.set.fromHint} error={faults?.from}>
              {(control) => (
                <input
                  {...control}
                  type="date"
                  value={form.from}
                  onInput={(event) => setForm({ ...form, from: event.currentTarget.value })}
                />
              )}
            </Field>
            <div aria-live="polite">
              <p>
                {effect?.index != null && cardWords.set.index(effect.index)}{" "}
                {effect !== null && cardWords.set.later(effect.later)}
              </p>
            </div>
          </>
        )}
        <Field label={said.reason} hint={accepts ? said.reasonHint : said.reasonHintDecline} error={faults?.reason}>
          {(control) => (
            <textarea
              {...control}
              rows={3}
              maxLength={200}
              value={form.reason}
              onInput={(event) => setForm({ ...form, reason: event.currentTarget.value })}
            />
          )}
        </Field>
        <Refused message={refused} />
        <div class="row">
          <Button look="main" type="submit">
            {accepts ? proposalWords.one.accept : proposalWords.one.decline}
          </Button>
          <Button onClick={onClose}>{words.cancel}</Button>
          <KeyHints keys={[["Esc", keyWords.backsOut]]} />
        </div>
        <Prevail />
      </form>
    </Dialog>
  );
}
