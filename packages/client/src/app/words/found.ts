/** What people read when a club is started, and when one is recovered by its words. */
import { count } from "../words.ts";

export const foundWords = {
  title: "Start a club",
  lead: "This browser becomes the club's first device. It needs no signal; what you begin here is sent to the relay when one is met.",
  club: "The club's name",
  clubHint: "As it stands on its cards.",
  clubMissing: "Write the club's name.",
  rules: "Rules of handicap play",
  rulesHint: "The handicapper can have the club adopt others from a later day.",
  you: "Your name",
  youHint: "You become a handicapper of the club. Other devices see whose this one is.",
  youMissing: "Write your name.",
  device: "This device",
  deviceHint: "Such as “Ines's laptop” or “pavilion tablet”.",
  deviceMissing: "Say which device this is.",
  next: "Next: the club's words",

  words: {
    title: "The club's words",
    lead: "These 24 words are the club's own key. They are shown now and never again.",
    what: "Whoever has them has the club: with them alone the record is found again when every device is lost, and only with them can a handicapper's device be barred. Nobody can give them to you a second time.",
    todo: "Write them down, or print them, in their order. Keep the paper where the club keeps what it must not lose, best in two places; not in an e-mail and not as a photograph.",
    print: "Print the words",
    written: "I have them on paper",
    list: "The club's words, in their order",
    paperTitle: (club: string) => `${club}: the club's words`,
    paperWhat:
      "The key of this club's handicap record. Keep it safe and secret. If every device is lost: open the app at the club's relay, choose “Recover a club with its words”, and write them in this order.",
    paperDay: (day: string) => `Made on ${day}.`,
  },
  check: {
    title: "Two of the words",
    lead: "So that a slip of the pen shows today, and not on the day the words are needed.",
    word: (at: number) => `Word ${at}`,
    hint: "From your paper.",
    wrong: (at: number) => `That is not word ${at}. Look at the paper, or go back to the words.`,
    back: "Show the words again",
    keep: "Also keep the club's own key in this browser",
    keepHint:
      "It then stands beside this device at the front page. Handy for barring a handicapper; but whoever has this browser then has the club, so leave it off unless you know why.",
    found: "Start the club",
    founding: "Writing the first entries…",
  },
  /** On a device that has the record. */
  give: {
    button: (club: string) => `Save a copy to recover ${club} with`,
    hint: "For the day on which the relay and every handicapper's device are gone: with this file and the club's words the record is found again. Its names are sealed; only the words open them.",
    done: (entries: number) => `${count(entries, "entry", "entries")} written, with the names sealed.`,
  },
  notFounded: "The club was not started",
  rootLabel: (club: string) => `${club}: the club's own key`,

  recover: {
    title: "Recover a club with its words",
    lead: "With its 24 words the club's record is found again, and this browser is admitted as a handicapper's device.",
    need: "Do this when no handicapper's device is left. If one still opens, an invitation from it is the better way.",
    words: "The club's words",
    wordsHint: "All 24 in their order. Capitals, numbers and line ends do not matter.",
    from: "Where the record is",
    relay: "At the club's relay",
    relayHint: "The one this page came from. Every device of the club has filled it.",
    copy: "In a copy from a member's device",
    copyHint:
      "Needs no relay and no network. Any device that still opens the record, a reader's too, saves one under Sharing. Take the newest there is.",
    file: "The copy",
    fileMissing: "Choose the file with the copy.",
    go: "Recover the club",
    busy: "Fetching the club's record and checking every entry…",
    done: (club: string, entries: number) =>
      `${club} was found, ${count(entries, "entry", "entries")}. This browser is now a handicapper's device of it.`,
    open: "Open the record",
    bar: "If a lost device may be in wrong hands, bar it: a handicapper's only with the club's words.",
  },
} as const;

/** What a step of founding says: of a club, or of a league (`found-league.ts`). */
export type FoundingWords = Plain<
  Pick<
    typeof foundWords,
    | "title"
    | "lead"
    | "club"
    | "clubHint"
    | "clubMissing"
    | "rules"
    | "rulesHint"
    | "youHint"
    | "next"
    | "words"
    | "check"
    | "notFounded"
    | "rootLabel"
  >
>;

/** The same form with other sentences in it. */
type Plain<T> = T extends string
  ? string
  : T extends (...given: infer Given) => string
    ? (...given: Given) => string
    : { readonly [K in keyof T]: Plain<T[K]> };
