/** The home club's answer: what accepting and declining would write, and into which book. Pure. */
import type { Card, Day, Draft } from "@sward/core";
import { handicapInForce } from "@sward/core";
import { isDay } from "../card/handicap-setting.ts";
import { proposalWords } from "../words/proposals.ts";
import { LONGEST, readGrounds } from "./evidence.ts";
import type { SeenProposal } from "./proposals-here.ts";

export interface AnswerForm {
  readonly from: string;
  readonly reason: string;
}

export interface AnswerFaults {
  readonly from: string | null;
  readonly reason: string | null;
}

export function answerFaults({ from, reason }: AnswerForm): AnswerFaults | null {
  const { answer, propose } = proposalWords;
  const faults = {
    from: isDay(from) ? null : propose.dateMissing,
    reason: reason.trim() === "" ? answer.reasonMissing : null,
  };
  return faults.from === null && faults.reason === null ? null : faults;
}

/** What the reason for accepting begins with. */
export const suggestedReason = ({ proposal }: SeenProposal): string =>
  proposalWords.answer.suggested(readGrounds(proposal.reason).reason).slice(0, LONGEST);

/** Whether the card says the proposed handicap already, so that only the answer is missing. */
export const isInForce = (card: Card, { proposal }: SeenProposal, today: Day): boolean =>
  handicapInForce(card, today).handicap === proposal.handicap;

export const answerDraft = ({ proposal }: SeenProposal, accepts: boolean, reason: string): Draft => ({
  kind: "change-answered",
  body: { proposal: proposal.entry, accepts, reason: reason.trim() },
});

/** The discretionary change, as the card's own dialog writes it. */
export const settingFor = (card: Card, { proposal }: SeenProposal, { from, reason }: AnswerForm): Draft => ({
  kind: "handicap-set",
  body: { player: card.player, handicap: proposal.handicap, from, basis: "discretionary", reason: reason.trim() },
});
