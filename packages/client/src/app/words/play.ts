/** What is played, and for what, as several screens say it; the first view says neither. */
import type { Occasion, Play } from "@sward/core";

export const playWords: Readonly<Record<Play, string>> = {
  handicap: "handicap play",
  level: "level play",
};

/** As on a card. */
export const playLetter: Readonly<Record<Play, string>> = { handicap: "H", level: "L" };

export const occasionWords: Readonly<Record<Occasion, string>> = {
  "calendar-event": "calendar event",
  league: "league match",
  "inter-club": "match between clubs",
  "inter-club-friendly": "friendly between clubs",
  "club-competition": "club competition",
  "club-friendly": "friendly inside the club",
  "ad-hoc": "ad-hoc game",
};

/** Where an entry is that was written here. */
export const custodyWords = { here: "saved here", relay: "at the relay" } as const;

/** How a game ended that was not played to its end. */
export const endedWords = { time: "on time", abandoned: "abandoned", walkover: "walkover" } as const;
