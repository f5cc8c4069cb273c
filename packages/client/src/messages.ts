/**
 * What people read when something is refused: what is wrong, why, and what to do. One table for all faults, so that a screen, the
 * command line and a test say the same, and so that all of it can be read (and one day translated) in one place. Each area adds
 * its union to `Fault` and its lines to the table; a fault without a sentence does not compile. Rejected: a message inside the
 * fault (core would have to know a language).
 */
import type { ExchangeFault, StrokesFault } from "@sward/core";
import type { CliFault } from "./cli/faults.ts";

export type Fault = StrokesFault | ExchangeFault | CliFault;

export interface Message {
  readonly what: string;
  readonly why: string;
  readonly todo: string;
}

type Messages<F extends { readonly type: string }> = {
  readonly [T in F["type"]]: (fault: Extract<F, { readonly type: T }>) => Message;
};

/** Shown wherever a computed number could be taken for a ruling. */
export const PREVAIL = "The governing body's regulations and your club's committee always prevail over these numbers.";

const players = (count: number): string => (count === 1 ? "1 player" : `${count} players`);

const noSuchHandicap = (handicap: number, rules: string, whose: string): Message => ({
  what: `There is no handicap ${handicap} in ${rules} (${whose}).`,
  why: "Strokes and points are worked out only from handicaps in the trigger table.",
  todo: `Check the handicap on the card; \`sward rules ${rules}\` lists those there are.`,
});

const messages: Messages<Fault> = {
  "strokes-unknown-handicap": ({ rules, side, player, handicap }) =>
    noSuchHandicap(handicap, rules, `side ${side}, player ${player}`),
  "strokes-sides": ({ players: counts }) => ({
    what:
      counts.length === 2
        ? `The sides have ${players(counts[0] ?? 0)} and ${players(counts[1] ?? 0)}.`
        : `There ${counts.length === 1 ? "is 1 side" : `are ${counts.length} sides`}.`,
    why: "A game is one player against one, or two against two.",
    todo: "Give both sides, with one handicap each for singles or two each for doubles.",
  }),
  "strokes-level-play": () => ({
    what: "Level play has no extra strokes.",
    why: "Extra strokes are what handicap play adds to the game.",
    todo: "Choose handicap play, or play without extra strokes.",
  }),
  "strokes-no-conversion": ({ rules, format }) => ({
    what: `${rules} does not say how many extra strokes a ${format}-point game has.`,
    why: "The set has no conversion from the 13-point game for that length.",
    todo: "Choose another length of game or another rule set.",
  }),
  "exchange-unknown-handicap": ({ rules, side, handicap }) => noSuchHandicap(handicap, rules, side),
  "exchange-sides": ({ winners, losers }) => ({
    what: `There ${winners === 1 ? "is 1 winner" : `are ${winners} winners`} and ${losers === 1 ? "1 loser" : `${losers} losers`}.`,
    why: "A game is one player against one, or two against two.",
    todo: "Give one handicap each for singles, or two each for doubles.",
  }),
  "exchange-not-read": ({ rules, play, players: count }) => ({
    what: `${rules} has no points for ${play} ${count === 2 ? "singles" : "doubles"}.`,
    why: "The governing body has a table for these games, but it could not be read, and nothing is guessed.",
    todo: "Ask the club's handicapper for the points, and have the index set by hand.",
  }),
  "command-line": ({ command, problem }) => ({
    what: problem.endsWith(".") ? problem : `${problem}.`,
    why: "The command was not carried out.",
    todo: `\`${command} --help\` shows how it is used, with an example.`,
  }),
  "rules-unknown": ({ rules, known }) => ({
    what: `There is no rule set "${rules}".`,
    why: `Known are ${known.join(", ")}.`,
    todo: "`sward rules` lists them with their titles.",
  }),
  "not-a-handicap": ({ given }) => ({
    what: `"${given}" is not a handicap.`,
    why: "A handicap is a whole number, negative for the strongest players.",
    todo: "Write it as 4 or -2; the two of a pair with a comma between them: 4,9.",
  }),
  "file-not-read": ({ path, cause }) => ({
    what: `The file ${path} could not be read.`,
    why: cause,
    todo: "Check the name of the file and that you may read it.",
  }),
};

/** What, why and what to do. */
export function messageOf(fault: Fault): Message {
  const message = messages[fault.type] as (fault: Fault) => Message;
  return message(fault);
}

/** The same as one line of text. */
export function sentenceOf(fault: Fault): string {
  const { what, why, todo } = messageOf(fault);
  return `${what} ${why} ${todo}`;
}
