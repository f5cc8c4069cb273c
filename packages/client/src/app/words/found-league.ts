/** What people read when a league is started. */
import type { FoundingWords } from "./found.ts";

export const foundLeagueWords = {
  title: "Start a league",
  lead: "This browser becomes the league secretary's device. It needs no signal; clubs come in afterwards, each by a code its handicapper shows you.",
  club: "The league's name",
  clubHint: "As it stands on its fixture card.",
  clubMissing: "Write the league's name.",
  rules: "Rules of handicap play",
  rulesHint:
    "Which tables extra strokes are worked out by. What a match and a win are worth you set afterwards, under Rules.",
  youHint: "You become the league's first officer. Clubs see whose device this is.",
  next: "Next: the league's words",
  words: {
    title: "The league's words",
    lead: "These 24 words are the league's own key. They are shown now and never again.",
    what: "Whoever has them has the league: with them clubs are admitted, a league officer's device is barred, and the record is found again when every device is lost. Nobody can give them to you a second time.",
    todo: "Write them down, or print them, in their order. Keep the paper with the league's papers, best in two places; not in an e-mail and not as a photograph.",
    print: "Print the words",
    written: "I have them on paper",
    list: "The league's words, in their order",
    paperTitle: (league: string) => `${league}: the league's words`,
    paperWhat:
      "The key of this league's record. Keep it safe and secret. If every device is lost: open the app at the league's relay, choose “Recover a club with its words”, and write them in this order.",
    paperDay: (day: string) => `Made on ${day}.`,
  },
  check: {
    title: "Two of the words",
    lead: "So that a slip of the pen shows today, and not on the day the words are needed.",
    word: (at: number) => `Word ${at}`,
    hint: "From your paper.",
    wrong: (at: number) => `That is not word ${at}. Look at the paper, or go back to the words.`,
    back: "Show the words again",
    keep: "Also keep the league's own key in this browser",
    keepHint:
      "It then stands beside your device at the front page, and admits clubs without the words and without a network. But whoever has this browser then has the league: on a shared machine leave it off, and write the words whenever a club comes in.",
    found: "Start the league",
    founding: "Writing the first entries…",
  },
  notFounded: "The league was not started",
  rootLabel: (league: string) => `${league}: the league's own key`,
} as const satisfies FoundingWords;

/** What the officers' own record is called. */
export const officeName = (league: string): string => `${league.slice(0, 70)} (office)`;
