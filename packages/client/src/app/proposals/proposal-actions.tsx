/** What can be done about a proposal: answered by the home club's handicapper, taken back by who made it. */
import { useState } from "preact/hooks";
import type { Message } from "../../messages.ts";
import { useDesk } from "../desk-store.ts";
import { lazyPart } from "../lazy.tsx";
import { Button } from "../parts/button.tsx";
import { Refused } from "../parts/refused.tsx";
import { mayCorrectHere } from "../permission.ts";
import { save, saved } from "../saved.ts";
import { proposalWords } from "../words/proposals.ts";
import type { SeenProposal } from "./proposals-here.ts";

const AnswerDialog = lazyPart(() => import("./answer-dialog.tsx"), "AnswerDialog");

const { one } = proposalWords;

export interface ProposalActionsProps {
  readonly seen: SeenProposal;
  /** Whom it is about, for who hears the buttons read out. */
  readonly name: string;
}

export function ProposalActions({ seen, name }: ProposalActionsProps) {
  const desk = useDesk();
  const [open, setOpen] = useState<"accept" | "decline" | null>(null);
  const [anew, setAnew] = useState(false);
  const [fault, setFault] = useState<Message | null>(null);
  const { proposal, mayAnswer: may, ours } = seen;
  const book = desk.books.get(seen.book);
  if (book === undefined) return null;
  const isOpen = proposal.answer === null;
  const mayTakeBack = isOpen && mayCorrectHere(book, proposal.by);

  const takeBack = async (): Promise<void> => {
    const reason = one.takeBackReason;
    const draft = { kind: "entry-withdrawn", body: { withdraws: proposal.entry, reason } } as const;
    const refused = await save(book, [draft], one.takenBack);
    setFault(refused);
    // Taking back is final: it can be proposed again.
    if (refused === null) saved.value = { sentence: one.takenBack, undo: null };
  };

  return (
    <>
      {may && (isOpen || anew) && (
        <>
          <Button look="main" onClick={() => setOpen("accept")}>
            {one.accept}
            <span class="unseen">: {name}</span>
          </Button>
          <Button onClick={() => setOpen("decline")}>
            {one.decline}
            <span class="unseen">: {name}</span>
          </Button>
        </>
      )}
      {may && !isOpen && !anew && (
        <Button onClick={() => setAnew(true)}>
          {one.anew}
          <span class="unseen">: {name}</span>
        </Button>
      )}
      {mayTakeBack && (
        <Button onClick={() => void takeBack()}>
          {one.takeBack}
          <span class="unseen">: {name}</span>
        </Button>
      )}
      {ours && !may && isOpen && (
        <span class="quiet small">{seen.league === null ? one.mayNot : one.mayNotLeague}</span>
      )}
      <Refused message={fault} />
      {open !== null && (
        <AnswerDialog seen={seen} name={name} accepts={open === "accept"} onClose={() => setOpen(null)} />
      )}
    </>
  );
}
