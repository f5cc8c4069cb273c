/** What people read about proposed changes of handicap. Fetched with those screens. */
import type { Day } from "@sward/core";
import { showDay } from "../dates.ts";
import { number } from "../words.ts";

export const proposalWords = {
  title: "Proposed changes",
  lead: "Somebody other than the home club's handicapper thinks that a handicap should change. A proposal moves nothing: the home club answers it, and both sides see the answer.",
  open: "Not answered yet",
  answered: "Answered",
  empty: {
    title: "Nothing is proposed",
    body: "Who sees a visitor play well above or below the handicap proposes a change from the visitor's page; the home club's handicapper then finds it among the things to do. A recorder proposes one for a member from the member's card.",
  },
  asOf: (met: string) => `As this device knows it. ${met}`,

  one: {
    title: (name: string, handicap: number) => `${name}: handicap ${number(handicap)} proposed`,
    by: (who: string, on: Day, at: string) => `Proposed by ${who} for ${showDay(on)}; written ${at}.`,
    reason: (reason: string) => `“${reason}”`,
    games: "Games it rests on",
    game: (day: Day, score: string) => `${showDay(day)}, ${score}`,
    onCard: (index: number, handicap: number) =>
      `on the card here, index then ${number(index)}, handicap ${number(handicap)}`,
    notOnCard: "not on the card here",
    now: (handicap: number, index: number) => `The card says handicap ${number(handicap)}, index ${number(index)}.`,
    stated: (handicap: number, club: string, on: Day) =>
      `${club} says handicap ${number(handicap)}, from ${showDay(on)}.`,
    waits: (club: string) => `Waits for ${club} to answer.`,
    waitsHere: "Waits for this club's answer.",
    waitsLeague: "Waits for the league to answer.",
    accepted: (who: string, at: string) => `Accepted by ${who}, ${at}.`,
    declined: (who: string, at: string) => `Declined by ${who}, ${at}.`,
    inLeague: (club: string, league: string) => `${club}, in the ${league}`,
    ofLeague: (league: string) => `the ${league}`,
    card: "Look at the card",
    page: "Look at the page",
    accept: "Accept",
    decline: "Decline",
    anew: "Answer anew",
    takeBack: "Take it back",
    takeBackReason: "the proposal was a slip",
    takenBack: "The proposal is taken back.",
    mayNot: "Answering is for a handicapper's device of the home club.",
    mayNotLeague: "Answering in this league's book is for a device that the club admitted there as a handicapper's.",
  },

  propose: {
    button: "Propose a change of handicap",
    title: (name: string) => `Propose a handicap for ${name}`,
    lead: (club: string | null) =>
      club === null
        ? "The home club's handicapper sees it and answers it. Nothing moves before that."
        : `${club}'s handicapper sees it and answers it. Nothing moves before that.`,
    own: "This club's handicapper sees it among the things to do and answers it. Nothing moves before that.",
    noLeague:
      "A change is proposed in the record of a league in which both clubs are. This player is in none of this device's leagues: link the visitor to the league's player first, or write to the home club.",
    mayNot: "This device may not propose a change.",
    where: "In the record of",
    handicap: "Proposed handicap",
    on: "For the day",
    reason: "Reason",
    reasonHint: "Both clubs can read it. What was seen in play, no names of others.",
    reasonMissing: "Write the reason: without one nobody can judge it.",
    dateMissing: "Choose the day.",
    tooLong: (over: number) =>
      `Reason and games together are ${over} letters too long: shorten it, or leave a game out.`,
    same: "That is the handicap already.",
    games: "Games it rests on",
    gamesHint: "Day and score go along with the proposal.",
    game: (day: Day, off: number, score: string, against: string) =>
      `${showDay(day)}: off ${number(off)}, ${score} against ${against}`,
    save: "Propose it",
    saved: (name: string, handicap: number) => `Handicap ${number(handicap)} is proposed for ${name}.`,
  },

  answer: {
    acceptTitle: (name: string, handicap: number) => `Set ${name}'s handicap to ${number(handicap)}?`,
    acceptLead:
      "Accepting sets the handicap in this club's record by the handicapper's decision, as on the card, and tells whoever proposed it.",
    already: "The card says that handicap already: only the answer is written.",
    declineTitle: (name: string) => `Decline the proposal for ${name}?`,
    declineLead: "The handicap stays as the card has it. Whoever proposed it reads the reason.",
    reason: "Reason",
    reasonHint: "Both clubs can read it, and it stands on the card. No names of others.",
    reasonHintDecline: "Both clubs can read it.",
    reasonMissing: "Write the reason: both clubs will ask for it.",
    suggested: (reason: string) => `proposed by another club: ${reason}`,
    accepted: (name: string, handicap: number, from: Day) =>
      `${name}'s handicap is ${number(handicap)} from ${showDay(from)}, and the proposal is answered.`,
    answered: "The proposal is answered.",
    half: "The handicap is set. The answer was not written:",
    declined: (name: string) => `The proposal for ${name} is declined.`,
  },

  matters: {
    title: "Changes of handicap that were proposed",
    lead: "Somebody who saw them play thinks that the handicap should be another one. You decide.",
  },
} as const;
