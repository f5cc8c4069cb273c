/** What people read where clubs are admitted to a league, and where a club joins one. */
import type { Taken } from "../league/clubs-view.ts";
import { count } from "../words.ts";

type Whys = Extract<Taken, { readonly type: "may-not" }>["why"];

export const clubsWords = {
  title: "Clubs of the league",
  empty: {
    title: "No club has come in yet",
    secretary:
      "Each club's handicapper opens League on a device of the club, chooses “Join a league”, and shows you the club's code: on the screen, as a file or as text. Take it below.",
    others: "The league's secretary admits each club by its own key.",
  },
  devices: (many: number) => (many === 0 ? "no device in the league yet" : count(many, "device")),
  players: (many: number) => count(many, "player entered", "players entered"),
  ours: "our club",

  take: {
    secretary: "Admit a club",
    secretaryLead:
      "Take the code a club shows. Nothing in it is secret: it names the club's own key and the device to which your answer is sealed.",
    club: "Bring another device of our club in",
    clubLead:
      "On the other device open League, choose “Join a league”, and take the code it shows. Without the club's words: this device may admit it.",
    asks: (club: string, label: string) => `${club} asks, with “${label}”`,
    compare:
      "Have the digits on the other screen read out to you, on the telephone or across the table, and compare them.",
    same: "The other screen shows the same digits",
    notSame: "Compare the digits first, and tick this when they are the same. If they differ, take the code once more.",
    name: "The club's name in the league",
    nameMissing: "Write the club's name.",
    words: "The league's words",
    wordsHint:
      "All 24, in their order. Only the league's own key admits a club; it is made of them for this once, and kept nowhere. The relay is needed.",
    rootHere: "The league's own key is also in this browser: open it from the front page, and admit the club there.",
    toFront: "Devices in this browser",
    admitClub: "Admit the club",
    admitDevice: "Admit the device",
    handOver: "Make the answer",
    busy: "Admitting. With words this takes a moment…",
    cancel: "Not this one",
    admitted: (club: string) => `${club} is admitted to the league.`,
    deviceAdmitted: (label: string) => `“${label}” is admitted to the league.`,
    here: "The club is in the league already. The answer gives this device the league's keys.",
    deviceHere: "This device is in the league already. The answer gives it the league's keys once more.",
    waits: "Waiting for the entry to come back from the relay…",
    answer: "Hand the answer over",
    answerLead:
      "Only the device that asked can open it. The file also brings the league's record, so that it needs no network; the codes bring only the keys.",
    done: "Done",
    mayNot: {
      "not-an-officer": "This device may not admit anybody to the league.",
      "of-another-club": "That is another club's code. Only the league's secretary admits clubs.",
      "not-our-device": "That device is not one of our club's. Invite it to the club first.",
      barred: "That device, or its club, is barred in this league.",
    } satisfies Readonly<Record<Whys, string>>,
  },
} as const;

export const playersWords = {
  title: "Our players in the league",
  lead: "Who is entered can be named in a team and in a match. Their handicaps are stated to the league by themselves, whenever they change. All clubs of the league see the names.",
  readsOnly: "This device may not enter players.",
  all: "Every member with a name is entered.",
  junior: (short: string) => `under eighteen: entered as ${short}`,
  enter: (many: number) => (many === 0 ? "Choose who plays" : `Enter ${count(many, "player")}`),
  everybody: "Choose everybody",
  saved: (many: number) => `${count(many, "player")} entered in the league.`,
} as const;

export const joinLeagueWords = {
  title: "Join a league",
  lead: (club: string) =>
    `${club} comes into a league with this device: you show the club's code, and take the answer. Both go by camera, file or text; no network is needed.`,
  link: "Join a league",
  show: {
    title: "1. Show the club's code",
    lead: "To the league's secretary. If another device of your club is in the league already, to its handicapper instead: then no words are needed.",
    compare: "Read these digits to whoever takes the code:",
  },
  take: {
    title: "2. Take the answer",
    lead: "It is sealed to this device: it can come by e-mail, too.",
  },
  confirm: {
    title: (league: string) => `3. Join ${league}`,
    admitted: "This device is admitted. One press, and it has the league.",
    lead: "This is the club's first device in the league. The club's own key admits it: it is made of the club's 24 words for this once, and kept nowhere.",
    words: "The club's words",
    wordsHint: "All 24, in their order.",
    go: "Join the league",
    busy: "Joining…",
    other: "Take another answer",
    already: "This device has that league already.",
  },
  done: (league: string) => `This device is in ${league}.`,
  lost: "The league could not be joined",
  anew: "Make a new code",
  anewHint: "Only if the code was given to the wrong person; an answer to the old one then opens nothing.",
} as const;
